"""The volts along the run at full load, as a picture: a line that falls, and the line that it may not go under."""

from xml.sax.saxutils import escape

from engine.review.page.circuit import CircuitLines

WIDTH, HEIGHT = 640, 260
_LEFT, _RIGHT, _TOP, _BOTTOM = 76, 24, 24, 44


def ladder(circuit: CircuitLines) -> str:
    """Return the volts after each part as an SVG element; empty if they are not known.

    The numbers under the line are those of the circuit's parts. The axis begins at the bank's volts and ends a little
    under the lowest of the line and of what is allowed; it does not begin at zero, and says so.
    """
    volts = [circuit.nominal_v, *(after.volts_v for after in circuit.volts)]
    if len(volts) < 3:
        return ""
    floor_v = circuit.nominal_v - circuit.allowed_v if circuit.allowed_v is not None else min(volts)
    low_v = min(*volts, floor_v) - 0.15 * max(circuit.nominal_v - min(*volts, floor_v), 0.1)
    scale = _Scale(circuit.nominal_v, low_v, len(circuit.volts))
    told = "; ".join(f"{p.number} {v.volts_v:.2f} V" for p, v in zip(circuit.parts, circuit.volts, strict=True))
    return "".join(
        [
            f'<svg viewBox="0 0 {WIDTH} {HEIGHT}" role="img" aria-label="Volts after each part at full load: {told}">',
            _limit(scale, floor_v) if circuit.allowed_v is not None else "",
            _run(scale, circuit),
            *(_mark(scale, part.number) for part in circuit.parts),
            _axis(scale, circuit.nominal_v, volts[-1]),
            "</svg>",
        ]
    )  # fmt: skip


class _Scale:
    """Turns volts and part numbers into places on the picture."""

    def __init__(self, high_v: float, low_v: float, parts: int) -> None:
        self._high_v, self._low_v, self._parts = high_v, low_v, parts

    def x(self, part: float) -> float:
        return _LEFT + part / self._parts * (WIDTH - _LEFT - _RIGHT)

    def y(self, volts: float) -> float:
        return _TOP + (self._high_v - volts) / (self._high_v - self._low_v) * (HEIGHT - _TOP - _BOTTOM)


def _run(scale: _Scale, circuit: CircuitLines) -> str:
    at, points = circuit.nominal_v, [(scale.x(0), scale.y(circuit.nominal_v))]
    for number, after in enumerate(circuit.volts, start=1):
        points += [(scale.x(number - 1 + 0.25), scale.y(at)), (scale.x(number - 0.25), scale.y(after.volts_v))]
        at = after.volts_v
    points.append((scale.x(len(circuit.volts)), scale.y(at)))
    return f'<polyline class="run" points="{" ".join(f"{x:.1f},{y:.1f}" for x, y in points)}"/>'


def _mark(scale: _Scale, number: int) -> str:
    x = scale.x(number - 0.5)
    return f'<line class="tick" x1="{x:.1f}" x2="{x:.1f}" y1="{_TOP}" y2="{HEIGHT - _BOTTOM}"/>' + _text(
        x, HEIGHT - _BOTTOM + 22, str(number), "middle"
    )


def _limit(scale: _Scale, floor_v: float) -> str:
    y = scale.y(floor_v)
    return f'<line class="limit" x1="{_LEFT}" x2="{WIDTH - _RIGHT}" y1="{y:.1f}" y2="{y:.1f}"/>' + _text(
        _LEFT + 10, y - 7, f"{floor_v:.2f} V: lowest that passes", "start"
    )


def _axis(scale: _Scale, high_v: float, end_v: float) -> str:
    side = f'<line class="axis" x1="{_LEFT}" x2="{_LEFT}" y1="{_TOP}" y2="{HEIGHT - _BOTTOM}"/>'
    top = _text(_LEFT - 8, scale.y(high_v) + 5, f"{high_v:.2f} V", "end")
    end = _text(_LEFT - 8, scale.y(end_v) + 5, f"{end_v:.2f} V", "end") if scale.y(end_v) > scale.y(high_v) + 16 else ""
    return side + top + end


def _text(x: float, y: float, words: str, anchor: str) -> str:
    return f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}">{escape(words)}</text>'
