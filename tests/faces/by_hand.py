"""An answers file as the lines that a person types into the plain face."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from engine.procedure.model import Procedure
from engine.session import commands as c
from engine.session.answers import Action, Answers, Away, PassTime, load_answers
from engine.session.clock import GivenClock
from engine.session.runner import Runner
from engine.shipped import folder
from tests.plain.talking import talk


def without_waits() -> Answers:
    """Return a whole job that a person types without a pause: that the air had no time is accepted in it."""
    answers = load_answers(folder("sample_sessions") / "sanderling-clean.answers.toml")
    kept = [action for action in answers.actions if not isinstance(action, Away | PassTime)]
    kept.insert(kept.index(c.Finish("vapour")), c.Accept("vapour", "waited", "no time in a test", "AB"))
    return replace(answers, actions=tuple(kept))


def by_hand(work: Procedure, answers: Answers, where: Path) -> tuple[Runner, str]:
    """Type the answers into the plain face, sitting by sitting; return the job, and all that was said."""
    assert answers.began is not None
    clock = GivenClock(answers.began, answers.step_s)
    runner, said = Runner.start(work, answers.start, where, clock), ""
    for lines, away_s in sittings(work, answers):
        said += talk(runner, *((lambda s=x: clock.pass_time(s)) if isinstance(x, float) else x for x in lines)).text
        if away_s:
            clock.pass_time(away_s)
            runner = Runner.resume(runner.path, clock)
    return runner, said


def typed_lines(procedure: Procedure, answers: Answers) -> list[str]:
    """Return the lines, for answers that are given in one sitting."""
    return [line for action in answers.actions for line in lines_of(procedure, action)]


def sittings(procedure: Procedure, answers: Answers) -> Iterator[tuple[list[str | float], float]]:
    """Yield the lines of each sitting (a number is time that goes by [s]), and how long the break after it is [s]."""
    lines: list[str | float] = []
    for action in answers.actions:
        match action:
            case PassTime(seconds):
                lines.append(seconds)
            case Away(line, seconds):
                yield [*lines, f".leave {line}"], seconds
                lines = ["go"]
            case _:
                lines += lines_of(procedure, action)
    yield lines, 0.0


def lines_of(procedure: Procedure, action: Action) -> list[str]:
    """Return what is typed for one action."""
    match action:
        case c.Take(_, text, answer):
            return [text] if answer is None else [text, str(answer + 1)]
        case c.TakeSeveral(_, text):
            return [text]
        case c.SkipEntry(_, reason):
            return [f".skip {reason}"]
        case c.NamePart(step, part):
            ids = [p.id for p in procedure.step_by_id[step].parts]
            return [str(ids.index(part) + 1)]
        case c.Finish(step):
            return ["go" if procedure.step_by_id[step].hold else ""]
        case c.Accept(_, _, reason, initials):
            return ["accept", reason, initials]
        case c.Deviate(_, _, reason, initials):
            return ["deviate", reason, initials]
        case c.HandsOff():
            return ["away"]
        case c.StayedWith(text):
            return [text]
        case c.Correct(entry, text, reason):
            return [f".correct {entry}", text, reason, "go"]
        case c.Redo(_):
            return [".redo", "go"]
        case c.Note(_, text):
            return [f".note {text}"]
        case c.HandOver(person):
            return [f".person {person}", "go"]
        case c.ChooseProfile(profile):
            return [f".profile {profile}", "go"]
        case c.Stop(reason, state):
            return [".stop", reason, state]
        case c.Close():
            return ["close"]
    raise AssertionError(f"no line for {action}")
