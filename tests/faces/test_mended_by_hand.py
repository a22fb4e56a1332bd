"""The plain face and the unattended one write the same log for a job with everything that a job can have in it."""

from datetime import UTC, datetime
from pathlib import Path

import pytest
from by_hand import by_hand

from engine.procedure.load import load
from engine.session import commands as c
from engine.session.answers import Action, Answers, Away, PassTime, load_answers
from engine.session.play import play
from engine.shipped import find, folder
from tests.plain.works import small
from tests.samples.remake import Sample


def answers(*actions: Action) -> Answers:
    began = datetime(2026, 5, 16, 9, tzinfo=UTC)
    return Answers("small", c.Start("Test Tern", "A. Tester"), actions, began, 20.0)


def given(entry: str, text: str) -> c.Take:
    return c.Take(entry, text)


FIRST = (given("volts", "12.5"), given("looks", "bright"), c.Finish("first"))
SECOND = (given("again", "12.6"), c.Finish("second"))
DEVIATED = c.Deviate("second", "limit 1", "the meter was wet", "AB")
THIRD = (c.NamePart("third", "nut"), c.NamePart("third", "plate"), c.Finish("third"))
JOBS = {
    "several in a line": (c.TakeSeveral("first", "12.5; bright"), c.Finish("first"), *SECOND),
    "not measured": (c.SkipEntry("volts", "no meter"), given("looks", "dull"), c.Finish("first")),
    "note and break": (*FIRST, c.Note("second", "rain"), Away("nut loose", 7200.0), *SECOND, *THIRD, c.Close()),
    "short break": (given("volts", "12.5"), Away("back at once", 60.0), given("looks", "dull"), c.Finish("first")),
    "corrected": (*FIRST, c.Correct("volts", "12.8", "wrong scale"), c.Finish("first"), *SECOND, *THIRD, c.Close()),
    "redone": (given("volts", "12.5"), given("looks", "dull"), c.Redo("first"), *FIRST),
    "handed over": (*FIRST, c.HandOver("B. Second"), c.ChooseProfile("house"), *SECOND),
    "time goes by": (*FIRST, PassTime(600.0), *SECOND),
    "gone past": (*FIRST, given("again", "11"), DEVIATED, c.Finish("second"), *THIRD, c.Close()),
    "stopped": (*FIRST, c.Stop("the hull is cracked", "all off, nothing loose")),
}


def events(log: Path) -> list[bytes]:
    """Return the events of a log as their very bytes, digests included."""
    return log.read_bytes().split(b"[[event]]")[1:]


@pytest.mark.parametrize("job", JOBS)
def test_both_faces_write_the_same_bytes(job: str, tmp_path: Path) -> None:
    work, typed = small(), answers(*JOBS[job])
    alone = play(work, typed, tmp_path / "alone")
    assert alone.stopped_at == ""
    hand = events(by_hand(work, typed, tmp_path / "plain")[0].path)
    same = len(events(alone.path))
    assert hand[:same] == events(alone.path)
    assert [b'"left"' in event for event in hand[same:]] in ([], [True])


def test_the_mended_sample_is_the_same_typed_by_hand(tmp_path: Path, sample: Sample) -> None:
    typed = load_answers(folder("sample_sessions") / "marsh-tern-mended.answers.toml")
    hand, _ = by_hand(load(find(typed.procedure)), typed, tmp_path)
    assert hand.path.read_bytes() == sample("marsh-tern-mended").read_bytes()
