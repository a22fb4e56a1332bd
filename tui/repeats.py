"""A double press is one press: the same key within 0.4 s of its last press is not taken again."""

from collections.abc import Callable

TOO_SOON_S = 0.4
"""Seconds within which the same key is not taken again. Source: project rule (a resting glove must not walk on)."""

_SAME = {"space": "enter"}


class Repeats:
    """Tells whether a key was pressed again too soon. A held key keeps itself off: every press counts anew."""

    def __init__(self, seconds: Callable[[], float]) -> None:
        self._seconds = seconds
        self._last: tuple[str, float] = ("", 0.0)

    def too_soon(self, key: str) -> bool:
        """Note a press, and return True if it is a repeat that must not be taken."""
        now, key = self._seconds(), _SAME.get(key, key)
        before, at = self._last
        self._last = (key, now)
        return key == before and now - at < TOO_SOON_S
