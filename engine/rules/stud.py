"""Ring terminals on one stud: how many, in which order, and whether their holes fit."""

from collections.abc import Mapping
from dataclasses import dataclass

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import flag, maybe, number
from engine.rules.measured import own_rule, standard_u
from engine.rules.part import Part, worst_part
from engine.rules.say import short
from engine.source import Authority, Seen, Source
from engine.trade.decision import between
from engine.trade.reading import combined, expanded

_MOST_RINGS = 4
"""Rings on one stud. Source: ABYC E-11, as quoted."""

_PLAY_SHARE, _PLAY_M = 0.10, 0.5e-3
"""Most play of a ring's hole: a share of the stud and [m] over it. Source: this project's rule, which takes in the
medium holes of ISO 273 for M5 to M12 and refuses the ring of the next stud."""

_RINGS = Source(Authority.STANDARD, "ABYC E-11", "at most four terminals on a stud", Seen.QUOTED)


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    rings, fit = number(given, "rings"), _fit(given, context)
    parts = [_count(rings), fit.part, *_order(given)]
    worst = worst_part(parts)
    return Finding(
        CHECK.name,
        worst.verdict,
        f"{_rings(rings)}, {fit.part.sentence}, right order" if worst.verdict is Verdict.PASS else worst.sentence,
        values={"play_m": fit.play_m, "rings": rings},
        limits=(Limit("rings", "at most", _MOST_RINGS, ""), *fit.limits),
        uncertainty=fit.uncertainty_m,
        conditions=tuple(p.sentence for p in parts if p is not worst and p.verdict is not Verdict.PASS),
        sum_text=lambda: f"{fit.part.sentence}; rings {rings:g}, at most {_MOST_RINGS}",
        remedy=worst.remedy,
    )


def _rings(count: float) -> str:
    return "one ring" if count == 1 else f"{count:g} rings"


def _count(rings: float) -> Part:
    if rings <= _MOST_RINGS:
        return Part(Verdict.PASS, "count is right")
    return Part(Verdict.FAIL, f"{rings:g} rings on one stud; at most {_MOST_RINGS}", "fit a bus bar, or a second stud")


@dataclass(frozen=True, slots=True)
class _Fit:
    """How a ring sits on its stud: by its stamp, or by the play of its hole."""

    part: Part
    play_m: float | None = None
    uncertainty_m: float | None = None
    limits: tuple[Limit, ...] = ()


def _fit(given: Mapping[str, Value], context: Context) -> _Fit:
    hole, stud = maybe(given, "hole"), maybe(given, "stud")
    if hole is None or stud is None:
        if flag(given, "stamped"):
            return _Fit(Part(Verdict.PASS, "stamped for this stud"))
        text = "not measured: the ring's stamp, or its hole and the stud"
        return _Fit(Part(Verdict.MISSING, text, "read the stamp on the ring, or measure both"))
    play_m, most_m = hole - stud, _PLAY_SHARE * stud + _PLAY_M
    u = expanded(combined(standard_u(name, number(given, name), "cal", context) for name in ("hole", "stud")))
    verdict = between(play_m, 0.0, most_m, u)
    said = f"play {short(1000 * play_m)} mm, allowed 0 to {short(1000 * most_m)}"
    part = {
        Verdict.PASS: Part(verdict, said),
        Verdict.UNDECIDED: Part(verdict, f"{said}: too near to tell", "measure finer, or try it by hand"),
        Verdict.FAIL: Part(verdict, said, "fit a ring made for this stud"),
    }[verdict]
    return _Fit(part, play_m, u, (Limit("play", "at most", most_m, "m"),))


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
        Input("rings", "", "ring terminals on the stud", 1, 30, worse="more"),
        Input("stamped", "yes/no", "ring stamped for this stud", required=False, worse="less"),
        Input("hole", "mm", "hole of the ring", 1, 40, required=False, instrument="cal"),
        Input("stud", "mm", "diameter of the stud", 1, 40, required=False, instrument="cal"),
        Input("largest_lowest", "yes/no", "largest ring lowest", default=True, worse="less"),
        Input("washer_between", "yes/no", "a washer under or between rings", default=False, worse="more"),
    ),
    judge=_judge,
    sources=(_RINGS, own_rule("a stamp, or play up to 0.5 mm and a tenth of the stud")),
    gives=(("play_m", "play of the ring's hole"),),
    example="tugtest check stud rings=3 hole=8.4mm stud=8.0mm largest_lowest=yes",
)
