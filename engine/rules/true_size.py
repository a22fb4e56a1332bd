"""Whether the copper in a wire is what its marking says, from the count and diameter of its strands."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import number, word
from engine.rules.measured import accuracy, own_rule
from engine.rules.say import short
from engine.rules.sources import AWG_FORMULA
from engine.trade.conductor import area_mm2
from engine.trade.decision import band_at_least
from engine.trade.loading import strand_area_mm2
from engine.trade.reading import expanded, half_width, standard

_GOOD, _BEARABLE = 0.95, 0.85
"""Shares of the marked area that pass, and that are marginal. Source: this project's rule on the AWG definition."""

_TOOLS = {"micrometer": ("mic", 1.0), "ten-across": ("cal", 10.0), "caliper": ("cal", 1.0)}
"""How the strand was measured: the instrument, and how many strands lay side by side. Source: common practice."""


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    strands, diameter_m = number(given, "strands"), number(given, "strand_diameter")
    marked, how = word(given, "marked"), word(given, "how")
    area = strand_area_mm2(strands, 1000 * diameter_m)
    ratio = area / area_mm2(marked)
    uncertainty = _ratio_u(diameter_m, ratio, how, context)
    verdict = band_at_least(ratio, _GOOD, _BEARABLE, uncertainty)
    return Finding(
        CHECK.name,
        verdict,
        _sentence(verdict, ratio, area, marked),
        values={"area_mm2": area, "ratio": ratio, "marked_area_mm2": area_mm2(marked)},
        limits=(Limit("ratio", "at least", _GOOD, ""), Limit("ratio", "at least", _BEARABLE, "")),
        margin=ratio - _GOOD,
        uncertainty=uncertainty,
        conditions=(f"strand measured by {how}",),
        sum_text=lambda: (
            f"A = N pi d^2 / 4 = {strands:g} x 0.7854 x ({1000 * diameter_m:.4g} mm)^2 = {area:.4g} mm2\n"
            f"{area:.4g} / {area_mm2(marked):.4g} mm2 = {ratio:.3g}, U = {uncertainty:.2g}"
        ),
        remedy=_remedy(verdict, area),
    )


def _ratio_u(diameter_m: float, ratio: float, how: str, context: Context) -> float:
    """Return U of the ratio: the area goes with the square of the diameter, so twice its relative error."""
    tool, across = _TOOLS[how]
    known = accuracy("strand_diameter", tool, context)
    half = half_width(across * diameter_m, known.percent, known.counts, known.resolution) / across
    return expanded(2 * ratio * standard(half) / diameter_m)


def _sentence(verdict: Verdict, ratio: float, area: float, marked: str) -> str:
    said = f"{short(area)} mm2 is {100 * ratio:.0f} % of {marked}"
    return {
        Verdict.PASS: said,
        Verdict.MARGINAL: f"{said}: probably SAE wire; plan with the true area",
        Verdict.UNDECIDED: f"{said}; too near to tell, read the jacket or measure ten across",
    }.get(verdict, f"{said}: not the size it is marked")


def _remedy(verdict: Verdict, area: float) -> str:
    if verdict is Verdict.PASS:
        return ""
    if verdict is Verdict.UNDECIDED:
        return "read the jacket print, or lay ten strands side by side; the drop under load decides"
    return f"plan with {short(area)} mm2, or use another wire"


CHECK = Check(
    name="true-size",
    rule="R10",
    title="true size of a wire",
    inputs=(
        Input(name="strands", unit="", says="strands counted", low=1, high=20000),
        Input(
            name="strand_diameter", unit="mm", says="diameter of one bare strand", low=0.02, high=20, instrument="mic"
        ),
        Input(name="marked", unit="wire", says="size marked on the jacket"),
        Input(
            name="how",
            unit="choice",
            says="how the strand was measured",
            choices=tuple(_TOOLS),
            default="micrometer",
            required=False,
        ),
    ),
    judge=_judge,
    sources=(AWG_FORMULA, own_rule("share of the marked area")),
    gives=(("area_mm2", "copper measured"), ("ratio", "copper measured over copper marked")),
    example='tugtest check true-size strands=133 strand_diameter=0.361mm marked="6 AWG"',
)
