"""Whether the copper in a wire is what its marking says, from the count and diameter of its strands."""

from collections.abc import Mapping

from engine.finding import Finding, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import number, word
from engine.rules.measured import accuracy, own_rule
from engine.rules.part import NOT_BELIEVED, Band, Part
from engine.rules.say import short
from engine.rules.sources import AWG_FORMULA
from engine.trade.conductor import CLAD, CONDUCTORS, area_mm2
from engine.trade.loading import strand_area_mm2
from engine.trade.reading import expanded, half_width, standard

_GOOD, _BEARABLE = 95.0, 85.0
"""Per cent of the marked area that pass, and that are marginal. Source: this project's rule on the AWG definition."""

_MOST = 126.0
"""More of the marked area is the next size or a wrong count [%]. Source: ASTM B258: each gauge is 1.26 of the next."""

_TOOLS = {"micrometer": ("mic", 1.0), "ten-across": ("cal", 10.0), "caliper": ("cal", 1.0)}
"""How the strand was measured: the instrument, and how many strands lay side by side. Source: common practice."""


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    strands, diameter_m = number(given, "strands"), number(given, "strand_diameter")
    marked, how = word(given, "marked"), word(given, "how")
    area = strand_area_mm2(strands, 1000 * diameter_m)
    ratio = area / area_mm2(marked)
    uncertainty = 100 * _ratio_u(diameter_m, ratio, how, context)
    band = _band(area, marked)
    part = _clad(given) or _too_much(100 * ratio - uncertainty, area, marked) or band.part(100 * ratio, uncertainty)
    return Finding(
        CHECK.name,
        part.verdict,
        part.sentence,
        values={"area_mm2": area, "ratio": ratio, "marked_area_mm2": area_mm2(marked)},
        limits=band.limits,
        margin=100 * ratio - _GOOD,
        uncertainty=uncertainty,
        conditions=(f"strand measured by {how}", *_beside(given, 100 * ratio - uncertainty)),
        sum_text=lambda: (
            f"A = N pi d^2 / 4 = {strands:g} x 0.7854 x ({1000 * diameter_m:.4g} mm)^2 = {area:.4g} mm2\n"
            f"{area:.4g} / {area_mm2(marked):.4g} mm2 = {100 * ratio:.3g} %, give or take {uncertainty:.2g} %"
        ),
        remedy=part.remedy,
    )


def _band(area: float, marked: str) -> Band:
    return Band(
        what=f"{short(area)} mm2 is {{}} of {marked}",
        good=_GOOD,
        bearable=_BEARABLE,
        unit="%",
        least=True,
        mend=f"it may be SAE wire: plan with {short(area)} mm2, or use another wire",
        settle="read the jacket print, or lay ten strands side by side; the drop under load decides",
    )


def _too_much(surely_percent: float, area: float, marked: str) -> Part | None:
    if surely_percent <= _MOST:
        return None
    text = f"{short(area)} mm2 is more than the next size over {marked}: a wrong count, or another wire"
    return Part(Verdict.UNDECIDED, text, "count the strands again, measure one again, read the jacket print")


def _clad(given: Mapping[str, Value]) -> Part | None:
    if given.get("conductor") != CLAD:
        return None
    text = "copper-clad aluminium: 1.6 times the resistance of copper, and it creeps under a screw"
    return Part(Verdict.FAIL, text, "use stranded copper, tinned for a boat")


def _beside(given: Mapping[str, Value], surely_percent: float) -> tuple[str, ...]:
    doubt = (NOT_BELIEVED,) if surely_percent > _MOST else ()
    if given.get("conductor") is not None:
        return doubt
    return (*doubt, "copper-clad aluminium measures the same: cut a strand, it must be copper all through")


def _ratio_u(diameter_m: float, ratio: float, how: str, context: Context) -> float:
    """Return U of the ratio: the area goes with the square of the diameter, so twice its relative error."""
    tool, across = _TOOLS[how]
    known = accuracy("strand_diameter", tool, context)
    half = half_width(across * diameter_m, known.percent, known.counts, known.resolution) / across
    return expanded(2 * ratio * standard(half) / diameter_m)


CHECK = Check(
    name="true-size",
    rule="R10",
    title="true size of a wire",
    inputs=(
        Input("strands", "", "strands counted", 1, 20000, worse="less"),
        Input("strand_diameter", "mm", "diameter of one bare strand", 0.02, 20, instrument="mic", worse="less"),
        Input("marked", "wire", "size marked on the jacket"),
        Input(
            "conductor",
            "choice",
            "a strand cut across: plain copper, tinned, or copper-clad (silvery all through)",
            choices=CONDUCTORS,
            required=False,
            worse="more",
        ),
        Input("how", "choice", "how the strand was measured", choices=tuple(_TOOLS), default="micrometer"),
    ),
    judge=_judge,
    sources=(AWG_FORMULA, own_rule("share of the marked area")),
    gives=(("area_mm2", "copper measured"), ("ratio", "copper measured over copper marked")),
    example='tugtest check true-size strands=133 strand_diameter=0.361mm marked="6 AWG"',
)
