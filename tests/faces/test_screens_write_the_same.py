"""The Textual face, keyed through the whole job, writes the very log that the unattended face writes."""

from dataclasses import replace
from pathlib import Path

import pytest

from engine.procedure.load import load
from engine.session import commands as c
from engine.session.answers import Away, PassTime, load_answers
from engine.session.clock import GivenClock
from engine.session.play import play
from engine.session.runner import Runner
from engine.shipped import find, folder
from tests.tui import pressing
from tests.tui.pressing import QuickApp, press_to_the_end


async def test_the_screens_write_the_same_bytes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    answers = load_answers(folder("sample_sessions") / "grey-heron-clean.answers.toml")
    actions = tuple(a for a in answers.actions if not isinstance(a, Away | PassTime))
    texts = {a.entry: a.text for a in actions if isinstance(a, c.Take)}
    monkeypatch.setattr(pressing, "answer", lambda job, entry: texts[entry])
    work = load(find(answers.procedure))
    assert answers.began is not None
    job = Runner.start(work, answers.start, tmp_path / "screens", GivenClock(answers.began, answers.step_s))
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await press_to_the_end(pilot, job)
    alone = play(work, replace(answers, actions=actions), tmp_path / "alone")
    assert job.path.read_bytes() == alone.path.read_bytes()
