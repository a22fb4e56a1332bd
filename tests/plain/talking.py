"""A person at the plain face, by script: lines that are typed, and what was said before each and after the last."""

import io
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from engine.procedure.model import Procedure
from engine.session.clock import GivenClock
from engine.session.commands import Start
from engine.session.runner import Runner
from tui.plain.face import PlainFace
from tui.plain.voice import Voice

Typed = str | Callable[[], object]
"""A line that is typed; or something that happens before the next one (time passes, Ctrl+C)."""


@dataclass
class Talk:
    """What came of it. ``said[n]`` was said before line n was read; ``said[-1]`` after the last one."""

    said: list[str]
    status: int
    runner: Runner

    @property
    def text(self) -> str:
        return "".join(self.said)

    @property
    def flat(self) -> str:
        """Return all that was said, wherever its lines are wrapped."""
        return " ".join(self.text.split())

    def after(self, line: int) -> str:
        """Return what was said after typed line ``line``, from 0."""
        return self.said[line + 1]


class Inlet:
    """A terminal's input that is typed from a list, and that notes what had been said by then."""

    def __init__(self, lines: tuple[Typed, ...], outlet: io.StringIO) -> None:
        self.left = list(lines)
        self.outlet = outlet
        self.said: list[str] = []

    def readline(self, most: int = -1) -> str:
        self.note()
        while self.left and callable(self.left[0]):
            self.left.pop(0)()  # type: ignore[operator]
        if not self.left:
            return ""
        line = str(self.left.pop(0))
        return line if line.endswith("\n") else f"{line}\n"

    def isatty(self) -> bool:
        return False

    def note(self) -> None:
        self.said.append(self.outlet.getvalue())
        self.outlet.seek(0)
        self.outlet.truncate()


def clock() -> GivenClock:
    return GivenClock(datetime(2026, 5, 2, 9, tzinfo=UTC))


def begin(work: Procedure, folder: Path, when: GivenClock | None = None) -> Runner:
    return Runner.start(work, Start("Test Tern", "A. Tester"), folder, when or clock())


def talk(runner: Runner, *lines: Typed, seconds: Callable[[], float] | None = None, by_hand: bool = False) -> Talk:
    """Let a person type these lines; the input ends after them."""
    outlet = io.StringIO()
    inlet = Inlet(lines, outlet)
    voice = Voice(inlet, outlet, seconds or (lambda: 0.0), by_hand=by_hand)  # type: ignore[arg-type]
    status = PlainFace(runner, voice).run()
    inlet.note()
    return Talk(inlet.said, status, runner)
