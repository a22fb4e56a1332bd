"""Helpers of the screen tests: the text that is on the screen, view-models by hand, a small app around one screen."""

from dataclasses import replace
from typing import Any

from textual.app import App
from textual.message import Message
from textual.screen import Screen

from engine.view.models import EntryRow, StepView, VerdictView, WarnView
from tui.looks import Looks

SIZES = ((40, 12), (60, 20), (80, 24), (120, 40), (200, 60))


def screen_text(app: App[Any]) -> str:
    """Return what is on the screen, line by line."""
    height = app.size.height
    strips = app.screen._compositor.render_strips()
    return "\n".join(strip.text.rstrip() for strip in strips[:height])


class OneScreen(Looks):
    """An app around one screen; it keeps what the screen reports and has a clock that runs a second a look."""

    def __init__(self, screen: Screen[Any]) -> None:
        super().__init__()
        self.one = screen
        self.told: list[Message] = []
        self.results: list[Any] = []
        self._s = 0.0

    def seconds(self) -> float:
        self._s += 1.0
        return self._s

    def on_mount(self) -> None:
        self.push_screen(self.one, self.results.append)

    def on_step_screen_entered(self, message: Message) -> None:
        self.told.append(message)

    on_step_screen_several_entered = on_step_screen_entered
    on_step_screen_part_seen = on_step_screen_entered
    on_step_screen_confirmed = on_step_screen_entered
    on_wish_screen_wished = on_step_screen_entered


def step(**changes: Any) -> StepView:
    """Return a plain step of the right length, with changes."""
    plain = StepView(
        id="lift-negative",
        number=14,
        total=41,
        section="Make safe",
        title="Lift the bank negative",
        place="Step 14 of 41 - Make safe - next hold in 2 steps - 1 left to do",
        demo=False,
        asset="Grey Heron",
        hold="",
        status="open",
        warnings=(),
        action="Take the most negative lead off the bank, and cover its lug.",
        why="With the negative off first, a slipped spanner closes no circuit.",
        rows=(),
        parts=(),
        verdicts=(),
        connector=None,
        plan=None,
        shut=(),
        ready=True,
        wants="",
        stop_if=(),
        irreversible="",
        left_to_do=(),
        previous="breaker-off",
    )
    return replace(plain, **changes)


def row(entry: str = "bank-volts", **changes: Any) -> EntryRow:
    """Return an open value in volts, with changes."""
    plain = EntryRow(
        id=entry,
        ask="Volts across the bank at rest",
        unit="V",
        hint="V, usually 24.2 to 26.0",
        why="It tells whether the bank is charged.",
        state="open",
        skip=("no meter at hand", "cannot reach it"),
    )
    return replace(plain, **changes)


def warning(word: str = "WARNING") -> WarnView:
    return WarnView(word, "A spanner from plus to minus welds itself on. Cover one post. Burns to the hand follow.")


def verdict(name: str = "marginal", **changes: Any) -> VerdictView:
    plain = VerdictView(
        key="voltage-drop",
        check="voltage-drop",
        verdict=name,
        label={"pass": "[PASS +]", "marginal": "[MARGINAL ~]", "fail": "[FAIL x]", "undecided": "[UNDECIDED ?]"}[name],
        sentence="drop 4.6 % is over 3 %; allowed to 5 %.",
        limits=("drop at most 3 %",),
        working="48 A x 10.4 m x 2.2 mohm/m = 1.10 V",
        sources=("a standard, table 4 (quoted)",),
    )
    return replace(plain, **changes)
