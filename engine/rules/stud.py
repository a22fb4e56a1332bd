"""Ring terminals on one stud: how many, in which order, and whether their holes fit."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import flag, number
from engine.rules.measured import own_rule, standard_u
from engine.rules.part import Part, worst_part
from engine.rules.say import short
from engine.source import Authority, Seen, Source
from engine.trade.decision import between
from engine.trade.reading import combined, expanded

_MOST_RINGS = 4
"""Rings on one stud. Source: ABYC E-11, as quoted."""

_LOOSEST_M = 0.8e-3
"""Most play of a ring's hole over its stud [m]. Source: this project's rule."""

_LOOSEST = f"{short(1000 * _LOOSEST_M)} mm"

_RINGS = Source(Authority.STANDARD, "ABYC E-11", "at most four terminals on a stud", Seen.QUOTED)


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    play_m = number(given, "hole") - number(given, "stud")
    u = combined(standard_u(name, number(given, name), "cal", context) for name in ("hole", "stud"))
    parts = [_count(given), _fit(play_m, expanded(u)), *_order(given)]
    worst = worst_part(parts)
    rings = number(given, "rings")
    return Finding(
        CHECK.name,
        worst.verdict,
        f"{rings:g} rings, play {short(1000 * play_m)} mm, right order"
        if worst.verdict is Verdict.PASS
        else worst.sentence,
        values={"play_m": play_m, "rings": rings},
        limits=(Limit("rings", "at most", _MOST_RINGS, ""), Limit("play", "at most", _LOOSEST_M, "m")),
        margin=_LOOSEST_M - play_m,
        uncertainty=expanded(u),
        conditions=tuple(p.sentence for p in parts if p is not worst and p.verdict is not Verdict.PASS),
        sum_text=lambda: (
            f"play = hole - stud = {1000 * play_m:.3g} mm, at most {_LOOSEST}; rings {rings:g}, at most {_MOST_RINGS}"
        ),
        remedy=worst.remedy,
    )


def _count(given: Mapping[str, Value]) -> Part:
    rings = number(given, "rings")
    if rings <= _MOST_RINGS:
        return Part(Verdict.PASS, "count is right")
    return Part(Verdict.FAIL, f"{rings:g} rings on one stud; at most {_MOST_RINGS}", "fit a bus bar, or a second stud")


def _fit(play_m: float, uncertainty_m: float) -> Part:
    verdict = between(play_m, 0.0, _LOOSEST_M, uncertainty_m)
    said = f"hole has {short(1000 * play_m)} mm of play on the stud"
    if verdict is Verdict.PASS:
        return Part(verdict, said)
    if verdict is Verdict.UNDECIDED:
        return Part(verdict, f"{said}: too close to 0 or {_LOOSEST} to tell", "measure finer, or try it by hand")
    return Part(verdict, f"{said}; it must be 0 to {_LOOSEST}", "fit a ring made for this stud")


def _order(given: Mapping[str, Value]) -> list[Part]:
    parts = []
    if number(given, "rings") > 1 and not flag(given, "largest_lowest"):
        parts.append(Part(Verdict.FAIL, "the largest ring must lie lowest", "put the largest ring lowest"))
    if flag(given, "washer_between"):
        parts.append(Part(Verdict.FAIL, "a washer under a ring carries its current", "put washers on top only"))
    return parts


CHECK = Check(
    name="stud",
    rule="R37",
    title="rings on a stud",
    inputs=(
        Input(name="rings", unit="", says="ring terminals on the stud", low=1, high=30),
        Input(name="hole", unit="mm", says="hole of the ring", low=1, high=40, instrument="cal"),
        Input(name="stud", unit="mm", says="diameter of the stud", low=1, high=40, instrument="cal"),
        Input(name="largest_lowest", unit="yes/no", says="largest ring lowest", default=True, required=False),
        Input(
            name="washer_between", unit="yes/no", says="a washer under or between rings", default=False, required=False
        ),
    ),
    judge=_judge,
    sources=(_RINGS, own_rule("play of a ring on its stud")),
    gives=(("play_m", "play of the ring's hole"),),
    example="tugtest check stud rings=3 hole=8.4mm stud=8.0mm largest_lowest=yes",
)
