"""Our own looks: light, dark and none. Every text and the ground it stands on is named here, 7:1 or better."""

from collections.abc import Mapping
from functools import lru_cache
from typing import NamedTuple

from rich.style import Style
from textual.theme import Theme

LOOKS: Mapping[str, tuple[str, str]] = {
    "plain": ("plain", ""), "why": ("plain", ""), "hint": ("plain", ""), "ask": ("plain", ""), "frame": ("plain", ""),
    "strong": ("strong", "bold"), "title": ("strong", "bold"), "action": ("strong", "bold"), "now": ("strong", "bold"),
    "problem": ("strong", "bold"), "value": ("strong", ""), "place": ("place", ""), "demo": ("hold", "bold"),
    "danger": ("signal-danger", "bold"), "warning": ("signal-warning", "bold"), "caution": ("signal-caution", "bold"),
    "notice": ("signal-notice", "bold"), "pass": ("pass", ""), "marginal": ("marginal", ""),
    "undecided": ("undecided", ""), "missing": ("missing", ""), "fail": ("fail", "bold"), "hold": ("hold", "bold"),
    "key": ("key", "bold"),
}  # fmt: skip
"""Every look that a piece of text can have: its ink, and its weight."""

_TURNED = frozenset({"danger", "warning", "caution", "notice", "hold", "demo", "key"})
"""Looks that are turned round where there is no colour, since only their ground made them stand out."""


class Ink(NamedTuple):
    """A text colour and the ground it stands on."""

    text: str
    ground: str


DARK: Mapping[str, Ink] = {
    "plain": Ink("#f2efe6", "#14181c"),
    "place": Ink("#f2efe6", "#2a323a"),
    "strong": Ink("#ffffff", "#14181c"),
    "entry": Ink("#ffffff", "#2a323a"),
    "signal-danger": Ink("#14181c", "#ff9a8a"),
    "signal-warning": Ink("#14181c", "#ffb454"),
    "signal-caution": Ink("#14181c", "#f5e36b"),
    "signal-notice": Ink("#14181c", "#9cc9ff"),
    "pass": Ink("#9be0b4", "#14181c"),
    "marginal": Ink("#f2d36b", "#14181c"),
    "undecided": Ink("#c9b8ff", "#14181c"),
    "missing": Ink("#b9c7d3", "#14181c"),
    "fail": Ink("#ff9a8a", "#14181c"),
    "hold": Ink("#14181c", "#c9b8ff"),
    "key": Ink("#14181c", "#f2efe6"),
}
"""Dark looks: text on the ground it stands on."""

LIGHT: Mapping[str, Ink] = {
    "plain": Ink("#15191d", "#fbfaf5"),
    "place": Ink("#15191d", "#dfe3e2"),
    "strong": Ink("#000000", "#fbfaf5"),
    "entry": Ink("#000000", "#e9ebe8"),
    "signal-danger": Ink("#ffffff", "#8f1207"),
    "signal-warning": Ink("#ffffff", "#7a3b00"),
    "signal-caution": Ink("#15191d", "#f0d13a"),
    "signal-notice": Ink("#ffffff", "#0b437d"),
    "pass": Ink("#0a4d2a", "#fbfaf5"),
    "marginal": Ink("#5e4100", "#fbfaf5"),
    "undecided": Ink("#43247f", "#fbfaf5"),
    "missing": Ink("#37434d", "#fbfaf5"),
    "fail": Ink("#8f1207", "#fbfaf5"),
    "hold": Ink("#ffffff", "#43247f"),
    "key": Ink("#fbfaf5", "#15191d"),
}
"""Light looks, for glare: text on the ground it stands on."""

_SIXTEEN: Mapping[str, Ink] = {name: Ink("ansi_default", "ansi_default") for name in DARK}


def contrast(text: str, ground: str) -> float:
    """Return the contrast ratio of two colours (``#rrggbb``), from 1 to 21.

    Source:
        Web Content Accessibility Guidelines 2.1, definitions of relative luminance and contrast ratio.

    Example:
        >>> contrast("#000000", "#ffffff")
        21.0
    """
    high, low = sorted((_luminance(text), _luminance(ground)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def themes() -> tuple[Theme, ...]:
    """Return our themes: dark, light, and none (the terminal's own two colours)."""
    return (_theme("tugtest-dark", DARK, dark=True), _theme("tugtest-light", LIGHT, dark=False), _none())


@lru_cache(maxsize=8)
def look_styles(theme: str) -> Mapping[str, Style]:
    """Return the style of every look under one of our themes (any other one gets the dark looks)."""
    if theme == "tugtest-none":
        return {
            look: Style.parse(f"{weight} {'reverse' if look in _TURNED else ''}") for look, (_, weight) in LOOKS.items()
        }
    inks = LIGHT if theme == "tugtest-light" else DARK
    return {
        look: Style.parse(f"{weight} {inks[ink].text} on {inks[ink].ground}") for look, (ink, weight) in LOOKS.items()
    }


def variables(inks: Mapping[str, Ink]) -> dict[str, str]:
    """Return the style-sheet variables of a set of inks: ``$ink-pass`` and ``$ground-pass``, one pair a look."""
    texts = {f"ink-{name}": ink.text for name, ink in inks.items()}
    grounds = {f"ground-{name}": ink.ground for name, ink in inks.items()}
    return texts | grounds | _stock(inks)


def chosen(environment: Mapping[str, str]) -> str:
    """Return the name of the theme that a terminal's environment asks for.

    NO_COLOR, and terminals that have sixteen colours or fewer, get the terminal's own two colours; ``TUGTEST_LOOKS``
    may be ``dark``, ``light`` or ``none``.
    """
    if environment.get("NO_COLOR") or _few_colours(environment):
        return "tugtest-none"
    asked = environment.get("TUGTEST_LOOKS", "dark")
    return f"tugtest-{asked}" if asked in {"dark", "light", "none"} else "tugtest-dark"


def _few_colours(environment: Mapping[str, str]) -> bool:
    if environment.get("COLORTERM"):
        return False
    term = environment.get("TERM", "")
    return term in {"linux", "dumb", "ansi", "vt100", "vt102", "vt220", "cons25"} or term.endswith(
        ("-16color", "-mono")
    )


def _theme(name: str, inks: Mapping[str, Ink], *, dark: bool) -> Theme:
    plain = inks["plain"]
    return Theme(
        name=name,
        primary=plain.text,
        foreground=plain.text,
        background=plain.ground,
        surface=inks["entry"].ground,
        panel=inks["place"].ground,
        accent=inks["hold"].ground,
        success=inks["pass"].text,
        warning=inks["marginal"].text,
        error=inks["fail"].text,
        dark=dark,
        text_alpha=1.0,
        variables=variables(inks),
    )


def _none() -> Theme:
    """Return the theme of the terminal's own two colours. The library wants a few more names from such a theme."""
    own = "ansi_default"
    named = variables(_SIXTEEN) | {"ansi-background": own, "ansi-foreground": own, "input-cursor-text-style": "reverse"}
    return Theme(
        name="tugtest-none", primary=own, foreground=own, background=own, surface=own, panel=own, ansi=True,
        variables=named,
    )  # fmt: skip


def _stock(inks: Mapping[str, Ink]) -> dict[str, str]:
    """Return the library's own variables that its palette and its entry line use."""
    key, entry, plain = inks["key"], inks["entry"], inks["plain"]
    return {
        "input-cursor-background": key.ground,
        "input-cursor-foreground": key.text,
        "block-cursor-background": key.ground,
        "block-cursor-foreground": key.text,
        "text": plain.text,
        "text-muted": plain.text,
        "text-disabled": entry.text,
        "foreground-muted": plain.text,
    }


def _luminance(colour: str) -> float:
    channels = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
