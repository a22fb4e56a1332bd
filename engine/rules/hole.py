"""A hole in a panel: does the body enter, and do flange and nut still bear with it pushed aside."""

from collections.abc import Mapping
from dataclasses import replace

from engine.finding import Finding, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import maybe, number
from engine.rules.measured import GUARD_BAND, own_rule, standard_u
from engine.rules.part import Band, Part, worst_part
from engine.rules.say import short
from engine.trade.decision import at_least
from engine.trade.opening import least_overlap_m, screw_edge_spare_m
from engine.trade.ranges import OutOfRange
from engine.trade.reading import combined, expanded

GOOD_MM, BEARABLE_MM = 3.0, 1.5
"""Least overlap that passes, and that is allowed with a reason [mm]. Source: this project's rule."""


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    largest, smallest, body = (number(given, name) for name in ("largest", "smallest", "body"))
    if smallest > largest:
        raise OutOfRange(f"smallest is {_mm(smallest)} mm; it must be at most largest, {_mm(largest)} mm")
    overlaps = {"flange": least_overlap_m(number(given, "flange"), largest, body)}
    nut = maybe(given, "nut")
    if nut is not None:
        overlaps["nut"] = least_overlap_m(nut, largest, body)
    uncertainty = _overlap_u(largest, body, context)
    parts = [_enters(given, smallest, body, context), *_screw(given, context)]
    parts += [_overlap(name, 1000 * overlap, 1000 * uncertainty) for name, overlap in overlaps.items()]
    part = worst_part(parts)
    least = min(overlaps.values())
    if part.verdict is Verdict.PASS:
        part = Part(part.verdict, f"body enters; {_mm(least)} mm still bears with it pushed aside")
    return Finding(
        CHECK.name,
        part.verdict,
        part.sentence,
        values={
            "flange_overlap_mm": 1000 * overlaps["flange"],
            "nut_overlap_mm": None if nut is None else 1000 * overlaps["nut"],
            "play_mm": 1000 * (smallest - body),
        },
        limits=_band("").limits,
        margin=1000 * least - GOOD_MM,
        uncertainty=1000 * uncertainty,
        conditions=("least overlap with the body pushed to one side",),
        sum_text=lambda: "\n".join(
            f"{name}: ({_mm(number(given, name))} + {_mm(body)}) / 2 - {_mm(largest)} = {_mm(overlap)} mm"
            for name, overlap in overlaps.items()
        ),
        remedy=part.remedy,
    )


def _overlap_u(largest: float, body: float, context: Context) -> float:
    half = 0.5 * standard_u("body", body, "cal", context)
    return expanded(combined([half, half, standard_u("largest", largest, "cal", context)]))


def _enters(given: Mapping[str, Value], smallest: float, body: float, context: Context) -> Part:
    if given["enters"] is True:
        return Part(Verdict.PASS, "")
    if given["enters"] is False:
        return Part(Verdict.FAIL, "the body does not enter freely by hand", "open the hole a little, try again")
    parts = [standard_u("smallest", smallest, "cal", context), standard_u("body", body, "cal", context)]
    uncertainty = expanded(combined(parts))
    verdict = at_least(smallest, body, uncertainty)
    if verdict is Verdict.PASS:
        return Part(verdict, "")
    if verdict is Verdict.UNDECIDED:
        return Part(
            verdict,
            f"hole and body are {_mm(abs(smallest - body))} mm apart: too near for a caliper to tell",
            "try it: the body must enter freely by hand",
        )
    text = f"hole {_mm(smallest)} mm is smaller than the body, {_mm(body)} mm"
    return Part(verdict, text, "open the hole a little, try again")


def _band(name: str) -> Band:
    mend = "a backing plate, or a larger flange" if name == "flange" else "a backing plate, or a larger nut or washer"
    what, settle = f"{name} overlap".strip(), f"measure again; {mend}"
    return Band(what=what, good=GOOD_MM, bearable=BEARABLE_MM, unit="mm", least=True, mend=mend, settle=settle)


def _overlap(name: str, overlap_mm: float, uncertainty_mm: float) -> Part:
    part = _band(name).part(overlap_mm, uncertainty_mm)
    if overlap_mm > 0 or part.verdict is not Verdict.FAIL:
        return part
    return replace(part, sentence=f"the hole shows beside the {name} by {short(-overlap_mm)} mm")


def _screw(given: Mapping[str, Value], context: Context) -> list[Part]:
    edge, screw = maybe(given, "screw_edge"), maybe(given, "screw")
    if edge is None or screw is None:
        return []
    spare = screw_edge_spare_m(edge, screw)
    uncertainty = expanded(standard_u("screw_edge", edge, "cal", context))
    verdict = at_least(edge, edge - spare, uncertainty)
    if verdict is Verdict.PASS:
        return []
    text = f"a screw stands {_mm(edge)} mm from the edge, needs {_mm(edge - spare)} mm"
    return [Part(verdict, text, "clamp with the backing nut instead of screws")]


def _mm(length_m: float, figures: int = 3) -> str:
    return short(1000 * length_m, figures)


def _length(name: str, says: str, worse: str, required: bool = True, low: float = 5, high: float = 500) -> Input:
    return Input(name, "mm", says, low, high, required=required, instrument="cal", worse=worse)


CHECK = Check(
    name="hole",
    rule="R15",
    title="the hole, and what covers it",
    inputs=(
        _length("largest", "largest width of the hole", "more"),
        _length("smallest", "smallest width of the hole", "less"),
        _length("body", "diameter of the body that goes through it", ""),
        _length("flange", "outside diameter of the flange", "less"),
        _length("nut", "bearing diameter of the backing nut", "less", required=False),
        Input("enters", "yes/no", "does the body enter freely by hand", required=False, worse="less"),
        _length("screw", "diameter of a flange screw", "more", required=False, low=1, high=20),
        _length("screw_edge", "from its centre to the edge of the hole", "less", required=False, low=0, high=200),
    ),
    judge=_judge,
    sources=(own_rule("overlap 3 and 1.5 mm with the body pushed aside"), GUARD_BAND),
    gives=(
        ("flange_overlap_mm", "least overlap of the flange"),
        ("nut_overlap_mm", "least overlap of the nut"),
        ("play_mm", "smallest width less the body"),
    ),
    example="tugtest check hole largest=59.5mm smallest=58.6mm body=58mm flange=76mm nut=72mm",
)
