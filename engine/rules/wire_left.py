"""Whether enough wire is left after the cut, asked before the cut."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import number
from engine.rules.measured import practice, standard_u
from engine.trade.decision import band_at_least
from engine.trade.reading import combined, expanded
from engine.trade.shopping import REDO_M


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    free, lose, reach = (number(given, name) for name in ("free", "lose", "reach"))
    left = free - lose
    uncertainty = expanded(
        combined(standard_u(n, number(given, n), "tape", context) for n in ("free", "lose", "reach"))
    )
    verdict = band_at_least(left, reach + REDO_M, reach, uncertainty)
    return Finding(
        CHECK.name,
        verdict,
        _sentence(verdict, left, reach),
        values={"left_m": left, "spare_m": left - reach},
        limits=(Limit("left", "at least", reach + REDO_M, "m"), Limit("left", "at least", reach, "m")),
        margin=left - reach - REDO_M,
        uncertainty=uncertainty,
        sum_text=lambda: (
            f"left = free - lose = {_mm(free)} - {_mm(lose)} = {_mm(left)}; reach {_mm(reach)} + {_mm(REDO_M)}"
        ),
        remedy="" if verdict is Verdict.PASS else "lose less, move the clip, or pull a new pair before cutting",
    )


def _sentence(verdict: Verdict, left: float, reach: float) -> str:
    said = f"{_mm(left)} left for a reach of {_mm(reach)}"
    return {
        Verdict.PASS: f"{said}: enough for one more termination",
        Verdict.MARGINAL: f"{said}: it reaches, but there is no second try",
        Verdict.UNDECIDED: f"{said}: too near for this tape to tell",
    }.get(verdict, f"{said}: too short, do not cut")


def _mm(metres: float) -> str:
    return f"{1000 * metres:.0f} mm"


CHECK = Check(
    name="wire-left",
    rule="R17",
    title="wire left after the cut",
    inputs=(
        Input("free", "mm", "free wire from the last clip", 0, 20000, instrument="tape", worse="less"),
        Input("lose", "mm", "wire that the cut takes", 0, 20000, instrument="tape", worse="more"),
        Input("reach", "mm", "wire needed from the last clip", 0, 20000, instrument="tape", worse="more"),
    ),
    judge=_judge,
    sources=(practice("one more termination takes about 40 mm"),),
    gives=(("left_m", "wire left after the cut"), ("spare_m", "wire left over the reach")),
    example="tugtest check wire-left free=300mm lose=60mm reach=150mm",
)
