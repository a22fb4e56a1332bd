"""Do-confirm in all three faces: the same job, confirmed at pauses, gives the same log; nothing is skipped by it."""

import io
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from engine.procedure.load import load, load_text
from engine.procedure.model import Procedure
from engine.review.audit import audit
from engine.review.report import record_notes
from engine.session import commands as c
from engine.session.answers import Answers, Away, PassTime, load_answers
from engine.session.clock import GivenClock
from engine.session.play import play
from engine.session.runner import Runner
from engine.shipped import find, folder
from engine.view.log import log_parts
from tests.tui import pressing, walker
from tests.tui.pressing import QuickApp, press_to_the_end
from tui.job import Job
from tui.plain.face import work_plainly

CLEAN = folder("sample_sessions") / "grey-heron-clean.answers.toml"


@pytest.fixture
def work() -> Procedure:
    """Return the main procedure with pauses in every section but the facts."""
    text = load(find("bow-receptacle")).text
    for section in ("strip-out", "fit", "terminate", "spare", "source", "prove", "close"):
        head = f'[[section]]\nid = "{section}"\n'
        assert head in text
        table = text[text.index(head) :].partition("\n\n")[0]
        if "style =" not in table:
            text = text.replace(head, f'{head}style = "do-confirm"\n')
    return load_text(text, "bow-receptacle.toml")


def answers(mode: str = "do-confirm") -> Answers:
    found = load_answers(CLEAN)
    actions = tuple(a for a in found.actions if not isinstance(a, Away | PassTime))
    return replace(found, actions=actions, start=replace(found.start, mode=mode))


def begun(work: Procedure, where: Path) -> Runner:
    given = answers()
    assert given.began is not None
    return Runner.start(work, given.start, where, GivenClock(given.began, given.step_s))


def typed(work: Procedure, texts: dict[str, str]) -> Iterator[str]:
    """Yield what is typed into the plain face, step by step and at the pauses."""
    job = Job(walker.runner(work, mode="do-confirm"))
    while (step := job.current()) is not None:
        pause = job.pause(step)
        if pause is not None:
            assert pause.next is not None
            yield str(pause.items.index(pause.next) + 1)
        for command in walker.commands(job.runner, step):
            match command:
                case c.Take(entry, _):
                    yield texts[entry]
                case c.NamePart(_, part):
                    yield str([p.id for p in work.step_by_id[step].parts].index(part) + 1)
                case c.Finish(_) if pause is None or pause.next is None or pause.next.opens:
                    yield "go" if work.step_by_id[step].hold else ""
            job.send(command)
    yield "close"


def texts() -> dict[str, str]:
    return {a.entry: a.text for a in answers().actions if isinstance(a, c.Take)}


def test_the_plain_face_writes_what_the_unattended_face_writes(work: Procedure, tmp_path: Path) -> None:
    alone = play(work, answers(), tmp_path / "alone")
    assert alone.stopped_at == ""
    job, outlet = begun(work, tmp_path / "plain"), io.StringIO()
    lines = "".join(f"{line}\n" for line in typed(work, texts()))
    assert work_plainly(job, io.StringIO(lines), outlet) == 0
    assert job.path.read_bytes() == alone.path.read_bytes()
    said = outlet.getvalue()
    assert not [sign for sign in said if ord(sign) < 32 and sign != "\n"]
    assert "Do these, then confirm each: 0 of" in said
    assert max(len(line) for line in said.splitlines()) <= 80


async def test_the_screens_write_the_same_bytes(
    work: Procedure, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    given = texts()
    monkeypatch.setattr(pressing, "answer", lambda job, entry: given[entry])
    job = begun(work, tmp_path / "screens")
    async with QuickApp(job).run_test(size=(40, 12)) as pilot:
        await press_to_the_end(pilot, job)
        assert pilot.app.faults == []
    alone = play(work, answers(), tmp_path / "alone")
    assert job.path.read_bytes() == alone.path.read_bytes()


def test_the_log_is_clean_and_audits_whole(work: Procedure, tmp_path: Path) -> None:
    log = play(work, answers(), tmp_path).path
    told = log.read_text(encoding="utf-8")
    assert told.count('style = "do-confirm"') > 10
    found = audit(log.read_bytes(), log.name)
    assert found.replay is not None
    assert found.replay.problems == []
    assert found.state.clean
    assert any("steps confirmed at pauses (do-confirm)" in note for note in record_notes(found))
    parts = dict(log_parts(found))
    assert "confirmed at a pause, with other steps" in parts["Name the wires, find the link"]
    assert "confirmed at a pause, with other steps" not in parts["Prove it dead"]


def test_every_step_has_its_own_event_in_either_mode(work: Procedure, tmp_path: Path) -> None:
    logs = [play(work, answers(mode), tmp_path / mode).path.read_text("utf-8") for mode in ("read-do", "do-confirm")]
    counts = [log.count('event = "step_done"') for log in logs]
    assert counts[0] == counts[1]
