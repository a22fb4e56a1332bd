"""How the plain face speaks and listens: whole lines out, one line in; a break leaves between two lines."""

import signal
import threading
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from types import FrameType
from typing import TextIO

from tui.repeats import TOO_SOON_S

MOST_SIGNS = 2000
"""Longest line that is taken, in signs. Source: project rule (a note has 500, a line of several values fewer)."""


class Gone(Exception):
    """The input has ended, or the person leaves."""


class Voice:
    """Lines to and from one person. ``by_hand`` is True at a real terminal, where a key may bounce or be held down."""

    def __init__(
        self,
        inlet: TextIO,
        outlet: TextIO,
        seconds: Callable[[], float] = time.monotonic,
        *,
        by_hand: bool | None = None,
    ) -> None:
        self._inlet = inlet
        self._outlet = outlet
        self._seconds = seconds
        self._by_hand = inlet.isatty() if by_hand is None else by_hand
        self._listening = False
        self._broken = False

    def say(self, *lines: str) -> None:
        """Print lines; each ends with a line end."""
        self._outlet.write("".join(f"{line}\n" for line in lines))
        self._outlet.flush()

    def ask(self, *prompt: str) -> str:
        """Print a prompt and return the answer, stripped.

        Raises:
            Gone: at the end of the input, or when the person breaks off.
        """
        self.say(*prompt)
        return self.hear()

    def hear(self) -> str:
        """Return the next line that can be read, stripped; raises ``Gone`` at the end of the input."""
        while True:
            asked_at = self._seconds()
            line = self._line()
            if not line:
                raise Gone
            if problem := _unreadable(line):
                self._pass_over(line)
                self.say(problem)
            elif self._by_hand and not line.strip() and self._seconds() - asked_at < TOO_SOON_S:
                self.say("That came too soon to be meant for this. Once more, if it was:")
            else:
                return line.strip()

    def pick(self, question: str, choices: Iterable[str], *, otherwise: str = "nothing") -> int | None:
        """Print numbered choices and return which was picked, from 0; None if none was."""
        words = list(choices)
        self.say(question, *(f"  {number} {text}" for number, text in enumerate(words, start=1)))
        while said := self.ask(f"Its number (empty: {otherwise}):"):
            if (picked := number_in(said, len(words))) is not None:
                return picked
            self.say(f"That is no number from 1 to {len(words)}.")
        return None

    @contextmanager
    def unbroken(self) -> Iterator[None]:
        """Let Ctrl+C break off only while a line is waited for, never while one is being recorded."""
        if threading.current_thread() is not threading.main_thread():
            yield
            return
        before = signal.signal(signal.SIGINT, self._on_break)
        try:
            yield
        finally:
            signal.signal(signal.SIGINT, before)

    def _on_break(self, number: int, frame: FrameType | None) -> None:
        self._broken = True
        if self._listening:
            raise KeyboardInterrupt

    def _line(self) -> str:
        self._listening = True
        try:
            if self._broken:
                raise Gone
            return self._inlet.readline(MOST_SIGNS)
        except KeyboardInterrupt:
            raise Gone from None
        finally:
            self._listening = False

    def _pass_over(self, line: str) -> None:
        while line and not line.endswith("\n"):
            line = self._line()


def number_in(text: str, most: int) -> int | None:
    """Return the number that a text picks, from 0, or None.

    Example:
        >>> number_in("2", 3), number_in("4", 3), number_in("two", 3)
        (1, None, None)
    """
    picked = text.isascii() and text.isdigit() and 1 <= int(text) <= most
    return int(text) - 1 if picked else None


def _unreadable(line: str) -> str:
    if len(line) >= MOST_SIGNS and not line.endswith("\n"):
        return f"Nothing was taken: the line is longer than {MOST_SIGNS} signs. Type a shorter one:"
    if any("\ud800" <= sign <= "\udfff" for sign in line):
        return "Nothing was taken: the line is no readable text. Type it again:"
    return ""
