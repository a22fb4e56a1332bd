"""Real sessions killed at random moments lose nothing that was called recorded; long ones cost no more per event."""

import sys
from collections.abc import Callable
from pathlib import Path
from types import FrameType

import pytest

sys.path.append(str(Path(__file__).resolve().parents[1] / "bench"))


@pytest.mark.skipif(sys.platform == "win32", reason="needs signals and a pseudo-terminal")
@pytest.mark.parametrize("face", ["plain", "unattended", "screens"])
def test_a_session_ended_from_outside_loses_nothing_that_was_shown_as_recorded(face: str) -> None:
    from tests.bench import kill_faces
    from tests.bench.kill_sessions import one

    for seed in range(3):
        outcome = one(seed, getattr(kill_faces, face))[2]
        assert outcome in ("whole", "torn", "not begun"), f"seed {seed}: {outcome}"


def test_ten_thousand_events_are_carried_in_at_no_more_than_eleven_times_the_work_of_a_thousand() -> None:
    from bench_apply import events

    from engine.session.apply import fold

    assert _calls(lambda: fold(events(10_000))) <= 11 * _calls(lambda: fold(events(1_000)))


def _calls(work: Callable[[], object]) -> int:
    """Count the lines of Python that run: a measure of work that no load on the machine changes."""
    lines = 0

    def trace(frame: FrameType, event: str, argument: object) -> object:
        nonlocal lines
        lines += event == "line" and frame.f_code.co_filename.endswith("apply.py")
        return trace

    before = sys.gettrace()
    sys.settrace(trace)
    try:
        work()
    finally:
        sys.settrace(before)
    return lines
