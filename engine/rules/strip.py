"""The strip of a wire end against the depth of its terminal."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import maybe, number
from engine.rules.measured import GUARD_BAND, own_rule, standard_u
from engine.rules.part import Part, worst_part
from engine.rules.say import short
from engine.trade.decision import at_most, between
from engine.trade.reading import combined, expanded
from engine.trade.termination import STRIP_LONG_M, STRIP_SHORT_M, strip_window_m

ON_COPPER, INSULATION, NO_COPPER = HELD = (
    "copper under every screw, no insulation",
    "insulation under a screw",
    "a screw has no copper under it",
)
"""What is seen when the end is held in its terminal."""

BARE_M = 0.002
"""The most copper that may show outside a set-screw terminal [m]. Source: this project's rule."""


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    depth, strip, bare = number(given, "depth"), number(given, "strip"), maybe(given, "bare")
    low, high = strip_window_m(depth)
    held = _held(given)
    uncertainty = expanded(
        combined([standard_u("strip", strip, "cal", context), standard_u("depth", depth, "cal", context)])
    )
    parts = [
        *_evidence(held),
        _length(strip, low, high, uncertainty, on_copper=held == ON_COPPER),
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
            Limit("bare copper outside", "at most", 1000 * BARE_M, "mm"),
        ),
        margin=1000 * min(strip - low, high - strip),
        uncertainty=1000 * uncertainty,
        conditions=("the real evidence: copper under both screws, insulation under none",),
        sum_text=lambda: (
            f"depth {_mm(depth)} mm - {_mm(STRIP_SHORT_M)} mm = {_mm(low)} mm; "
            f"+ {_mm(STRIP_LONG_M)} mm = {_mm(high)} mm; "
            f"strip {_mm(strip)} mm, U = {short(1000 * uncertainty, 2)} mm"
        ),
        remedy=part.remedy,
    )


def _held(given: Mapping[str, Value]) -> Value | None:
    """Return what was seen in the terminal; logs of earlier versions told it by two answers."""
    if given.get("insulation_under_screw") is True:
        return INSULATION
    if given.get("copper_under_screws") is False:
        return NO_COPPER
    both = given.get("copper_under_screws") is True and given.get("insulation_under_screw") is False
    return ON_COPPER if both else given.get("held")


def _evidence(held: Value | None) -> list[Part]:
    if held == INSULATION:
        return [Part(Verdict.FAIL, "insulation is under a screw: it clamps nothing", "strip longer, clamp again")]
    if held == NO_COPPER:
        return [Part(Verdict.FAIL, "a screw has no copper under it", "strip longer or push the wire fully home")]
    return []


def _length(strip: float, low: float, high: float, uncertainty: float, *, on_copper: bool) -> Part:
    verdict = between(strip, low, high, uncertainty)
    if verdict is Verdict.PASS:
        return Part(verdict, "")
    nearer, remedy = (low, "strip a little more") if strip < (low + high) / 2 else (high, "trim the copper")
    if verdict is Verdict.UNDECIDED:
        return Part(
            verdict,
            f"strip {_mm(strip, 4)} mm is within U = {short(1000 * uncertainty, 2)} mm of {_mm(nearer)} mm",
            f"{remedy}, or measure with a finer caliper",
        )
    side = "under" if nearer == low else "over"
    if on_copper:
        text = f"strip {_mm(strip)} mm is {side} {_mm(nearer)} mm, yet both screws stand on copper"
        return Part(Verdict.MARGINAL, text, remedy)
    return Part(Verdict.FAIL, f"strip {_mm(strip)} mm is {side} {_mm(nearer)} mm", remedy)


def _bare(bare: float | None, context: Context) -> list[Part]:
    if bare is None:
        return []
    uncertainty = expanded(standard_u("bare", bare, "cal", context))
    verdict = at_most(bare, BARE_M, uncertainty)
    if verdict is Verdict.PASS:
        return []
    text = f"{_mm(bare)} mm of bare copper outside; at most {_mm(BARE_M)} mm"
    return [Part(verdict, text, "push the wire fully home, or trim the strip")]


def _mm(length_m: float, figures: int = 3) -> str:
    return short(1000 * length_m, figures)


CHECK = Check(
    name="strip",
    rule="R12",
    title="strip length of a wire end",
    inputs=(
        Input(name="depth", unit="mm", says="depth of the terminal", low=2, high=100, instrument="cal"),
        Input(name="strip", unit="mm", says="bare copper stripped", low=0, high=150, instrument="cal"),
        Input(
            name="bare",
            unit="mm",
            says="copper still seen outside the terminal",
            low=0,
            high=100,
            required=False,
            instrument="cal",
        ),
        Input(
            name="held",
            unit="choice",
            says="what is seen when it is held in the terminal",
            choices=HELD,
            required=False,
        ),
        Input(name="copper_under_screws", unit="yes/no", says="earlier form of held", required=False),
        Input(name="insulation_under_screw", unit="yes/no", says="earlier form of held", required=False),
    ),
    judge=_judge,
    sources=(own_rule("strip depth - 1.5 to + 2 mm, bare copper at most 2 mm"), GUARD_BAND),
    gives=(("low_mm", "shortest strip"), ("high_mm", "longest strip")),
    example="tugtest check strip depth=14mm strip=14.5mm bare=0.5mm",
)
