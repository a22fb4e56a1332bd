"""The strip of a wire end against the depth of its terminal."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import maybe, number
from engine.rules.measured import GUARD_BAND, own_rule, standard_u
from engine.rules.part import Band, Part, worst_part
from engine.rules.say import short
from engine.trade.decision import between
from engine.trade.reading import combined, expanded
from engine.trade.termination import strip_window_m

ON_COPPER, INSULATION, NO_COPPER = HELD = (
    "copper under every screw, no insulation",
    "insulation under a screw",
    "a screw has no copper under it",
)
"""What is seen when the end is held in its terminal."""

BARE_M = 0.002
"""The most copper that may show outside a set-screw terminal [m]. Source: this project's rule."""

HELD_SHARE = 2 / 3
"""Least strip over depth with which copper can be under both screws of a terminal [no unit]. Source: this project's
rule: two screws stand at about a third and two thirds of the depth."""


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    depth, strip, bare = number(given, "depth"), number(given, "strip"), maybe(given, "bare")
    low, high = strip_window_m(depth)
    held = given.get("held")
    uncertainty = expanded(
        combined([standard_u("strip", strip, "cal", context), standard_u("depth", depth, "cal", context)])
    )
    parts = [
        *_evidence(held),
        _length(strip, depth, uncertainty, on_copper=held == ON_COPPER),
        *_bare(bare, context),
    ]
    part = worst_part(parts)
    if part.verdict is Verdict.PASS:
        part = Part(Verdict.PASS, f"strip {_mm(strip)} mm fits a terminal {_mm(depth)} mm deep")
    return Finding(
        CHECK.name,
        part.verdict,
        part.sentence,
        values={"strip_mm": 1000 * strip, "low_mm": 1000 * low, "high_mm": 1000 * high},
        limits=(
            Limit("strip", "at least", 1000 * low, "mm"),
            Limit("strip", "at most", 1000 * high, "mm"),
            *BARE.limits,
        ),
        margin=1000 * min(strip - low, high - strip),
        uncertainty=1000 * uncertainty,
        conditions=("the real evidence: copper under both screws, insulation under none",),
        sum_text=lambda: (
            f"depth {_mm(depth)} mm: from {_mm(low)} to {_mm(high)} mm; "
            f"strip {_mm(strip)} mm, give or take {short(1000 * uncertainty, 2)} mm"
        ),
        remedy=part.remedy,
    )


def _evidence(held: Value | None) -> list[Part]:
    if held == INSULATION:
        return [Part(Verdict.FAIL, "insulation is under a screw: it clamps nothing", "strip longer, clamp again")]
    if held == NO_COPPER:
        return [Part(Verdict.FAIL, "a screw has no copper under it", "strip longer or push the wire fully home")]
    return []


def _length(strip: float, depth: float, uncertainty: float, *, on_copper: bool) -> Part:
    low, high = strip_window_m(depth)
    verdict = between(strip, low, high, uncertainty)
    if verdict is Verdict.PASS:
        return Part(verdict, "")
    nearer, remedy = (low, "strip a little more") if strip < (low + high) / 2 else (high, "trim the copper")
    said, need = f"strip {_mm(strip, 4)} mm", f"{_mm(low)} to {_mm(high)} mm belong in {_mm(depth)} mm"
    if verdict is Verdict.UNDECIDED:
        return Part(verdict, f"{said}, {need}: too near to tell", f"{remedy}, or measure with a finer caliper")
    if on_copper and HELD_SHARE * depth <= strip <= high + (high - low):
        text = f"{said}, {need}; yet every screw stands on copper"
        return Part(Verdict.MARGINAL, text, remedy)
    lost = ": no screw nearer the wire can stand on copper" if on_copper and nearer == low else ""
    return Part(Verdict.FAIL, f"{said}, {need}{lost}", remedy)


BARE = Band(
    what="bare copper outside",
    good=1000 * BARE_M,
    unit="mm",
    mend="push the wire fully home, or trim the strip",
)


def _bare(bare: float | None, context: Context) -> list[Part]:
    return [] if bare is None else [BARE.part(1000 * bare, 1000 * expanded(standard_u("bare", bare, "cal", context)))]


def _mm(length_m: float, figures: int = 3) -> str:
    return short(1000 * length_m, figures)


CHECK = Check(
    name="strip",
    rule="R12",
    title="strip length of a wire end",
    inputs=(
        Input("depth", "mm", "depth of the terminal", 2, 100, instrument="cal"),
        Input("strip", "mm", "bare copper stripped", 0, 150, instrument="cal"),
        Input(
            "bare",
            "mm",
            "copper still seen outside the terminal",
            0,
            100,
            required=False,
            instrument="cal",
            worse="more",
        ),
        Input(
            "held", "choice", "what is seen when it is held in the terminal", choices=HELD, required=False, worse="more"
        ),
    ),
    judge=_judge,
    sources=(own_rule("strip depth - 1.5 to + 2 mm, less in a short terminal; bare copper at most 2 mm"), GUARD_BAND),
    gives=(("low_mm", "shortest strip"), ("high_mm", "longest strip")),
    example="tugtest check strip depth=14mm strip=14.5mm bare=0.5mm",
)
