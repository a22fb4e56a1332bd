"""Somebody at a real terminal: reads the step on the screen and presses the keys for it, from a clean job's answers."""

import random
import re
import time
from collections.abc import Mapping

from engine.procedure.model import Entry, Procedure
from engine.quantity import show
from tests.tui.grid import Grid
from tests.tui.terminal import Terminal

SIZE = (110, 60)
"""Large enough that every step stands on one page."""

_CHOICE = re.compile(r"(\d)(?: or \w)? (.*)")
_STEP = re.compile(r"Step (\d+) of \d+ - ")


class Typist:
    """Reads and presses. ``shown`` are the questions shown as answered, ``step`` is the furthest step shown."""

    def __init__(self, terminal: Terminal, work: Procedure, texts: Mapping[str, str], dice: random.Random) -> None:
        self.terminal, self.work, self.texts, self.dice = terminal, work, texts, dice
        self.grid = Grid(*SIZE)
        self.shown: set[str] = set()
        self.step = 0
        self._seen = 0

    def until(self, end: float) -> None:
        """Work until a moment of the steady clock [s]."""
        tried: object = None
        again = 0.0
        while time.monotonic() < end and self.terminal.process.poll() is None:
            self.look(self.dice.choice([0.01, 0.05, 0.2]))
            lines = self.grid.lines
            if not self.step or (self._place(lines) == tried and time.monotonic() < again):
                continue
            self.terminal.press((b"\x15" if self._place(lines) == tried else b"") + self.keys())
            tried, again = self._place(lines), time.monotonic() + 2.0
            self.look(self.dice.choice([0.0, 0.05, 0.5]))

    def _place(self, lines: list[str]) -> object:
        """Return where the job is, whatever is being typed."""
        asked = self._asked(lines)
        return lines[0], asked and asked.id, [line for line in lines if line.startswith(("+ ", "[x]"))]

    def look(self, seconds: float) -> None:
        """Read what comes, and note what the screen says is recorded."""
        if seconds:
            self.terminal.read(seconds)
        self.grid.feed(self.terminal.out[self._seen :])
        self._seen = len(self.terminal.out)
        lines = self.grid.lines
        if lines and (match := _STEP.match(lines[0])):
            self.step = max(self.step, int(match[1]))
        for entry in self.work.entry_by_id.values():
            if any(line.startswith(f"+ {entry.ask}: ") for line in lines):
                self.shown.add(entry.ask)

    def keys(self) -> bytes:
        """Return what the step on the screen waits for, as keys."""
        lines = self.grid.lines
        asked = self._asked(lines)
        if asked is None:
            part = next((line for line in lines if re.match(r"\d .*", line)), "")
            through = b"g" if "go through" in lines[-1] else b"\r"
            return part[0].encode() if part and "name" in lines[-1] else through
        text = self.texts.get(asked.id) or _likely(asked)
        for line in lines:
            match = _CHOICE.fullmatch(line)
            if match and match[2].lower() == text.lower():
                return match[1].encode()
        return text.encode() + b"\r"

    def _asked(self, lines: list[str]) -> Entry | None:
        question = next((line[2:] for line in lines if line.startswith("> ")), "")
        return next((e for e in self.work.entry_by_id.values() if e.ask == question), None)


def _likely(entry: Entry) -> str:
    """Return an answer to what the clean job does not ask: a slow machine may have taken keys for another question."""
    if entry.choices or entry.unit == "yes/no":
        return next(iter(entry.choices), "yes")
    low, high = entry.likely or entry.hard or (1.0, 1.0)
    return show((low + high) / 2, entry.unit, both=False) if entry.hard else "as found"
