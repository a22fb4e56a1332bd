"""Three faces, one engine: the same answers under a given clock give the same events, byte for byte."""

import io
from pathlib import Path

from by_hand import typed_lines

from engine.procedure.load import load
from engine.session.answers import Answers, load_answers
from engine.session.clock import GivenClock
from engine.session.play import play
from engine.session.runner import Runner
from engine.session.scan import scan
from engine.shipped import find, folder
from tui.plain.face import work_plainly

CLEAN = folder("sample_sessions") / "grey-heron-clean.answers.toml"


def events(log: Path) -> list[dict[str, object]]:
    found = scan(log.read_bytes())
    assert found.state == "whole"
    return found.events


def without_waits(answers: Answers) -> Answers:
    from dataclasses import replace

    from engine.session.answers import Away, PassTime

    return replace(answers, actions=tuple(a for a in answers.actions if not isinstance(a, Away | PassTime)))


def plainly(answers: Answers, where: Path) -> tuple[Path, str, int]:
    work = load(find(answers.procedure))
    assert answers.began is not None
    runner = Runner.start(work, answers.start, where, GivenClock(answers.began, answers.step_s))
    outlet = io.StringIO()
    lines = typed_lines(work, answers)
    status = work_plainly(runner, io.StringIO("".join(f"{line}\n" for line in lines)), outlet)
    return runner.path, outlet.getvalue(), status


def test_the_plain_face_writes_what_the_unattended_face_writes(tmp_path: Path) -> None:
    answers = without_waits(load_answers(CLEAN))
    alone = play(load(find(answers.procedure)), answers, tmp_path / "alone")
    assert alone.stopped_at == ""
    log, _, status = plainly(answers, tmp_path / "plain")
    assert status == 0
    assert events(log) == events(alone.path)
    assert log.read_bytes() == alone.path.read_bytes()


def test_the_plain_face_never_writes_an_escape_byte_and_ends_every_line(tmp_path: Path) -> None:
    _, said, _ = plainly(without_waits(load_answers(CLEAN)), tmp_path)
    assert not [c for c in said if ord(c) < 32 and c != "\n"]
    assert said.endswith("\n")
    assert max(len(line) for line in said.splitlines()) <= 80
    assert said.isascii()


def test_the_plain_face_says_the_steps_in_the_order_of_the_screens(tmp_path: Path) -> None:
    _, said, _ = plainly(without_waits(load_answers(CLEAN)), tmp_path)
    at = said.index("Bank negative off")
    place, warning = said.rindex("[DEMO] Step", 0, at), said.index("DANGER", at)
    action, why = said.index("Lift the negative", at), said.index("Why:", at)
    assert place < at < warning < action < why
