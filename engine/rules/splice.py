"""A splice in a wire: how many, how far from others and from its ends, and how it is made and sealed."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import flag, maybe, number, word
from engine.rules.measured import practice, standard_u
from engine.rules.part import Part, worst_part
from engine.source import Authority, Seen, Source
from engine.trade.decision import at_least
from engine.trade.reading import expanded

_STAGGER_M, _FROM_END_M = 0.030, 0.3048
"""Distance to the next splice and to a terminal, 12 in. Source: common practice; FAA AC 43.13-1B, from memory."""

_AC = Source(Authority.HANDBOOK, "FAA AC 43.13-1B", "splices, distance from a termination", Seen.MEMORY)


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    parts = [
        _method(given),
        _count(given),
        _apart(given, "to_splice", _STAGGER_M, "from the next splice", context),
        _apart(given, "to_end", _FROM_END_M, "from a terminal", context),
    ]
    worst = worst_part(parts)
    good = worst.verdict is Verdict.PASS
    return Finding(
        CHECK.name,
        worst.verdict,
        "one sealed crimp splice, clear of others and of the ends" if good else worst.sentence,
        values={"splices": number(given, "splices")},
        limits=(
            Limit("splices", "at most", 1, ""),
            Limit("to next splice", "at least", _STAGGER_M, "m"),
            Limit("to a terminal", "at least", _FROM_END_M, "m"),
        ),
        conditions=tuple(p.sentence for p in parts if p is not worst and p.verdict is not Verdict.PASS),
        sum_text=lambda: "; ".join(part.sentence for part in parts),
        remedy=worst.remedy,
    )


def _method(given: Mapping[str, Value]) -> Part:
    method = word(given, "method")
    if method == "twist-on":
        return Part(Verdict.FAIL, "a twist-on connector shakes loose", "cut it out; crimp a sealed butt splice")
    if method == "solder only":
        return Part(Verdict.FAIL, "solder alone creeps when hot and cracks", "cut it out; crimp a sealed butt splice")
    if not flag(given, "sealed"):
        return Part(Verdict.MARGINAL, "not sealed: water gets into the copper", "shrink adhesive-lined tube over it")
    return Part(Verdict.PASS, "crimped and sealed")


def _count(given: Mapping[str, Value]) -> Part:
    count = number(given, "splices")
    if count <= 1:
        return Part(Verdict.PASS, "one splice in this wire")
    return Part(Verdict.MARGINAL, f"{count:g} splices in one length of wire", "replace the whole length")


def _apart(given: Mapping[str, Value], name: str, least_m: float, what: str, context: Context) -> Part:
    distance_m = maybe(given, name)
    if distance_m is None:
        return Part(Verdict.PASS, f"nothing {what.removeprefix('from ')} nearby")
    verdict = at_least(distance_m, least_m, expanded(standard_u(name, distance_m, "tape", context)))
    said = f"{1000 * distance_m:.0f} mm {what}"
    if verdict is Verdict.PASS:
        return Part(verdict, said)
    return Part(Verdict.MARGINAL, f"{said}; {1000 * least_m:.0f} mm is wise", "stagger it, or replace the length")


CHECK = Check(
    name="splice",
    rule="R36",
    title="splice in a wire",
    inputs=(
        Input("splices", "", "splices in this length of wire", 1, 50, default=1.0, worse="more"),
        Input(
            "to_splice",
            "mm",
            "to the nearest splice of a neighbour",
            0,
            20000,
            required=False,
            instrument="tape",
            worse="less",
        ),
        Input("to_end", "mm", "to the nearest terminal", 0, 20000, required=False, instrument="tape", worse="less"),
        Input(
            "method",
            "choice",
            "how it is made",
            choices=("crimp", "crimp and solder", "solder only", "twist-on"),
            worse="more",
            default="crimp",
        ),
        Input("sealed", "yes/no", "adhesive-lined tube over it", worse="less"),
    ),
    judge=_judge,
    sources=(practice("staggered and sealed splices"), _AC),
    gives=(("splices", "splices in this length"),),
    example="tugtest check splice splices=1 to_splice=50mm to_end=400mm method=crimp sealed=yes",
)
