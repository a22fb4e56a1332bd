"""Text from logs made visible for a page: signs that hide, turn or steer are written out."""

import unicodedata

_DRAWN_AS_NOTHING = frozenset("\u00ad\u034f\u115f\u1160\u17b4\u17b5\u180e\u3164\uffa0")


def visible(text: str) -> str:
    """Return the text with every control, direction and invisible sign written out, as ``<U+202E>``.

    Example:
        >>> visible("Grey\\u202eHeron")
        'Grey<U+202E>Heron'
    """
    if text.isascii() and text.isprintable():
        return text
    return "".join(_shown(sign) for sign in text)


def _shown(sign: str) -> str:
    if sign in "\n\t":
        return " "
    kind = unicodedata.category(sign)
    hidden = kind.startswith("C") or kind in ("Zl", "Zp") or sign in _DRAWN_AS_NOTHING
    return f"<U+{ord(sign):04X}>" if hidden or 0xFE00 <= ord(sign) <= 0xFE0F else sign
