"""Plays the clean job of an asset up to the end of one step, with some answers changed: for tests of single steps."""

from pathlib import Path

from engine.procedure.load import load
from engine.session import commands as c
from engine.session.answers import load_answers
from engine.session.clock import GivenClock
from engine.session.outcome import Outcome, Recorded
from engine.session.runner import Runner
from engine.shipped import find, folder


def ended(asset: str, step: str, to: Path, **texts: str) -> Outcome:
    """Return what came of ending ``step``; texts that the clean job never gives are given just before it."""
    answers = load_answers(folder("sample_sessions") / f"{asset}-clean.answers.toml")
    job = Runner.start(load(find(answers.procedure)), answers.start, to, GivenClock(answers.began, 5))  # type: ignore[arg-type]
    own = {each.entry for each in answers.actions if isinstance(each, c.Take)}
    try:
        for action in answers.actions:
            if isinstance(action, c.Take) and action.entry in texts:
                job.send(c.Take(action.entry, texts[action.entry], 0))
            elif isinstance(action, c.Finish) and action.step == step:
                for entry in texts.keys() - own:
                    assert isinstance(job.send(c.Take(entry, texts[entry])), Recorded)
                return job.send(action)
            elif isinstance(action, c.Take):
                job.send(action)  # an entry that another answer leaves out is not asked
            elif isinstance(action, c.Finish | c.NamePart):
                assert isinstance(job.send(action), Recorded), action
    finally:
        job.close()
    raise AssertionError(f"no step {step}")
