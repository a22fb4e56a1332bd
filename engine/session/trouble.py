"""What a journal says when it cannot do what was asked: three refusals, each a sentence for people."""

from engine.session.scan import Scan


class LogBusy(Exception):
    """Another program is writing this log; the sentence names it."""


class LogRefused(Exception):
    """The log cannot be written. It can still be read if ``found`` holds events.

    Args:
        sentence: The reason, with the file's name.
        found: What the file holds, if it was read.
    """

    def __init__(self, sentence: str, found: Scan | None = None) -> None:
        super().__init__(sentence)
        self.found = found


class NotRecorded(Exception):
    """The entry is not in the log. ``cut_back`` is True if nothing of it was left in the file."""

    def __init__(self, sentence: str, *, cut_back: bool = True) -> None:
        super().__init__(sentence)
        self.cut_back = cut_back
