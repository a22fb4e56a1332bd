"""The circuit drawn as a loop with the usual symbols, numbered as in the list beside it."""

import re
from typing import Any

from engine.finding import Verdict
from engine.review.page.circuit import CircuitLines, PartLine, sign

_SYMBOL = {"protection": "Breaker", "switch": "Switch"}
"""Which symbol stands for a part between the bank and the load; receptacle and plug are drawn as a mated pair."""

_INKS = ("", *Verdict)

_LENGTH = 3.6
"""Length of one part on the drawing, in the library's own units."""


_ROOM = 36.0
"""Room at each side of the drawing, in its own units."""


def drawing(circuit: CircuitLines) -> str:
    """Return the circuit as an SVG element that scales to the page; its colours come from the page's style sheet.

    The bank stands on the left, the load on the right, what is between them on the upper line in its order; the lower
    line is the way back. Words on it are numbers, kinds, figures and verdicts only, never a text from a file.
    """
    from importlib import import_module

    schemdraw: Any = import_module("schemdraw")  # local: only a page needs the drawing library, which has no types
    elements: Any = import_module("schemdraw.elements")

    schemdraw.svgconfig.text = "text"
    sheet = schemdraw.Drawing(canvas="svg", show=False, fontsize=14, lw=2.2, color=_ink(""), font="sans-serif")
    first, *between = circuit.parts
    last = between.pop() if between and between[-1].kind == "load" else None
    bank = _put(sheet, elements.Battery().up().length(_LENGTH).reverse(), first, "bottom")
    for part in between:
        _between(sheet, elements, part)
    end = elements.Motor() if last else elements.Line()
    _put(sheet, end.down().length(_LENGTH), last, "top")
    sheet.add(elements.Line().left().tox(bank.start))
    return _fitted(sheet.get_imagedata("svg").decode("utf-8"), circuit)


def _between(sheet: Any, elements: Any, part: PartLine) -> None:  # noqa: ANN401 - the library has no types
    if part.kind == "receptacle":
        _put(sheet, elements.Line().right().length(_LENGTH - 1), part, "top")
        sheet.add(elements.Plug().right().color(_ink(part.verdict)))
    elif part.kind == "plug":
        sheet.add(elements.Jack().right().color(_ink(part.verdict)))
        _put(sheet, elements.Line().right().length(_LENGTH - 1), part, "top")
    else:
        _put(sheet, getattr(elements, _SYMBOL.get(part.kind, "Line"))().right().length(_LENGTH), part, "top")


def _put(sheet: Any, element: Any, part: PartLine | None, side: str) -> Any:  # noqa: ANN401 - the library has no types
    if part is not None:
        other = "bottom" if side == "top" else "top"
        element = element.label(f"{part.number} {part.kind}", loc=side, ofst=0.25)
        words = [_plain(part.planned.split(",")[0]), sign(part.verdict)]
        element = element.label("\n".join(w for w in words if w), loc=other, ofst=0.25, color=_ink(part.verdict))
        element = element.color(_ink(part.verdict))
    return sheet.add(element)


def _wider(box: str) -> str:
    """Return the drawing's box with room at its sides for words that are wider than the library thinks."""
    left, top, width, height = (float(part) for part in box.split())
    return f"{left - _ROOM:.1f} {top - 6:.1f} {width + 2 * _ROOM:.1f} {height + 12:.1f}"


def _ink(verdict: str) -> str:
    """Return a colour that stands for the verdict's until the drawing is done: the library takes figures only."""
    return f"#00000{_INKS.index(verdict) + 1}"


def _plain(words: str) -> str:
    """Return a figure with nothing in it but letters, digits and the signs of figures."""
    return re.sub(r"[^A-Za-z0-9 .%/+-]", "", words)[:24]


def _fitted(drawn: str, circuit: CircuitLines) -> str:
    """Return the drawing without a size of its own, with a name for whoever cannot see it."""
    told = ", ".join(f"{p.number} {p.kind} {_plain(p.planned)} {p.verdict}".strip() for p in circuit.parts)
    opening = re.match(r'<svg [^>]*viewBox="([^"]+)"[^>]*>', drawn)
    if opening is None:
        return ""
    name = f"The circuit in order from the bank: {told}"
    start = f'<svg class="loop" viewBox="{_wider(opening[1])}" role="img" aria-label="{name}">'
    drawn = drawn[opening.end() :].replace("stroke-dasharray:-;", "")
    for verdict in _INKS:
        drawn = drawn.replace(_ink(verdict), f"var(--{verdict})" if verdict else "currentColor")
    return start + drawn
