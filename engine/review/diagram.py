"""Two drawings for the page as inline SVG: the circuit in one line, and the volts along the run. No library, no script.

Both run downwards, one row a part, so that they fit a phone as well as a sheet of paper. Colours and strokes are
classes of the page's own style; a verdict always stands in words too.
"""

from html import escape

from engine.review.circuit_sheet import DrawnPart, Volts
from engine.review.visible import visible

ROW, WIDE, LINE_X, TEXT_X = 58, 360, 32, 72
"""Height of a row, width of the drawing, place of the line and of the words [drawing units]."""

_SIGNS = {"pass": "+", "marginal": "~", "undecided": "?", "missing": "o", "fail": "x", "": ""}
_MOST = 44


def circuit_svg(parts: tuple[DrawnPart, ...]) -> str:
    """Return the circuit as an SVG element; empty if there are no parts."""
    if not parts:
        return ""
    rows = "".join(_part(n, part) for n, part in enumerate(parts))
    high = ROW * len(parts)
    said = "; ".join(f"{p.name} {p.planned} {p.planned_verdict}".strip() for p in parts)
    spine = f'<line x1="{LINE_X}" y1="{ROW // 2}" x2="{LINE_X}" y2="{high - ROW // 2}" class="wire"/>'
    return _svg(high, f"One-line diagram from the source to the load: {said}", spine + rows)


def volts_svg(rows: tuple[Volts, ...], allowed_percent: float | None) -> str:
    """Return the volts along the run as an SVG element; empty if they are not known."""
    if not rows:
        return ""
    top = rows[0].volts + rows[0].lost
    least = min([r.volts for r in rows] + ([top * (1 - allowed_percent / 100)] if allowed_percent else []))
    span = max(top - least, 0.01 * top)
    left, right, high = 190.0, WIDE - 62.0, 34 * len(rows) + 22

    def x(volts: float) -> float:
        return left + (right - left) * (volts - (top - span)) / span

    points, at_y = list[tuple[float, float]](), 0.0
    body = ""
    for n, row in enumerate(rows):
        before, at_y = x(row.volts + row.lost), 17.0 + 34 * n
        points += [(before, at_y), (x(row.volts), at_y)]
        body += _text(8, at_y + 4, row.name, "name") + _text(WIDE - 54, at_y + 4, f"{row.volts:.2f} V", "small")
        body += f'<circle cx="{x(row.volts):.1f}" cy="{at_y:.1f}" r="4" class="dot"/>'
    line = " ".join(f"{px:.1f},{py:.1f}" for px, py in points)
    body = f'<polyline points="{line}" class="volts"/>' + body
    if allowed_percent:
        limit = x(top * (1 - allowed_percent / 100))
        body += f'<line x1="{limit:.1f}" y1="4" x2="{limit:.1f}" y2="{high - 20}" class="limit"/>'
        body += _text(
            8,
            high - 5,
            f"dashed: least allowed, {allowed_percent:g} % drop, {top * (1 - allowed_percent / 100):.2f} V",
            "small",
        )
    said = "; ".join(f"{row.name} {row.volts:.2f} V" for row in rows)
    return _svg(high, f"Volts along the run at full load: {said}", body)


def _svg(high: float, said: str, body: str) -> str:
    return f'<svg viewBox="0 0 {WIDE} {high:g}" role="img" aria-label="{escape(visible(said))}">{body}</svg>'


def _part(number: int, part: DrawnPart) -> str:
    y = ROW * number + ROW // 2
    verdict = part.planned_verdict
    mark = f"{verdict.upper()} {_SIGNS.get(verdict, '')}".strip()
    change = part.planned if part.found in ("", part.planned) else f"{part.found} -> {part.planned}"
    return (
        f'<g class="{verdict or "plain"}">{_symbol(part.kind, y)}'
        + _text(TEXT_X, y - 6, part.name, "name")
        + _text(TEXT_X, y + 13, change, "small")
        + (_text(WIDE - 4, y - 6, mark, "verdict end") if mark else "")
        + "</g>"
    )


def _text(x: float, y: float, words: str, kind: str) -> str:
    shown = words if len(words) <= _MOST else f"{words[: _MOST - 1]}…"
    return f'<text x="{x:g}" y="{y:g}" class="{kind}">{escape(visible(shown))}</text>'


def _symbol(kind: str, y: int) -> str:
    x = LINE_X
    if kind == "bank":
        lines = ((x - 18, y - 6, x + 18, y - 6), (x - 9, y + 1, x + 9, y + 1), (x - 18, y + 8, x + 18, y + 8))
        return _gap(x, y, 14) + "".join(_line(*at, "part") for at in lines)
    if kind == "protection":
        return _gap(x, y, 14) + f'<path d="M{x} {y - 14} q22 14 0 28" class="part"/>' + _dots(x, y, 14)
    if kind == "switch":
        return _gap(x, y, 14) + _line(x, y + 14, x + 15, y - 12, "part") + _dots(x, y, 14)
    if kind in ("receptacle", "plug"):
        bow = "M{0} {1} a12 12 0 0 0 24 0" if kind == "receptacle" else "M{0} {1} a12 12 0 0 1 24 0"
        return f'<path d="{bow.format(x - 12, y)}" class="part"/><circle cx="{x}" cy="{y}" r="3" class="dot"/>'
    if kind == "joint":
        return f'<circle cx="{x}" cy="{y}" r="5" class="dot"/>'
    if kind == "load":
        return f'<circle cx="{x}" cy="{y}" r="17" class="part filled"/>{_text(x - 5.5, y + 5, "M", "name")}'
    return _line(x, y - 20, x, y + 20, "part run")


def _gap(x: int, y: int, half: int) -> str:
    return f'<rect x="{x - 3}" y="{y - half}" width="6" height="{2 * half}" class="gap"/>'


def _dots(x: int, y: int, half: int) -> str:
    return "".join(f'<circle cx="{x}" cy="{at}" r="3" class="dot"/>' for at in (y - half, y + half))


def _line(x1: int, y1: int, x2: int, y2: int, kind: str) -> str:
    return f'<line x1="{x1}" y1="{y1}" x2="{x2}" y2="{y2}" class="{kind}"/>'
