"""A bank before its link is trusted: wiring by volts and links, match, charge."""

from collections.abc import Mapping
from dataclasses import replace

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import about, label_of, labelled, maybe, number, word
from engine.rules.measured import GUARD_BAND, accuracy, own_rule, practice, several
from engine.rules.part import Band, Part, worst_part
from engine.rules.say import at_least, at_most, short
from engine.trade.bank import (
    CHEMISTRIES,
    LITHIUM,
    RestWindow,
    WrongWiring,
    expected_bank_v,
    in_series,
    rest_window,
    spread_v,
)
from engine.trade.nominal import usual_v
from engine.trade.reading import combined, expanded, half_width, standard

MATCHED_V, BEARABLE_V = 0.10, 0.20
"""Largest difference between batteries that passes, and that is allowed with a reason. Source: this project's rule."""

SUM_V = 0.10
"""How far the bank may read from its batteries' sum, beyond U. Source: this project's rule."""

NOTHING_V = 1.0
"""Batteries that read less on average are not measured at their posts, or dead [V]. Source: this project's rule."""

AGE_MONTHS = 12.0
"""Largest difference in age that passes. Source: common practice (quoted)."""

JOIN_NOTHING = "Join nothing: no link, no lead. Follow each cable by name, post to post, before one of them is landed."

Named = tuple[tuple[str, float], ...]
"""Batteries with their labels [V]."""

RESTED, OFF_TODAY, ON_CHARGE = "rested", "off charge today", "on charge"


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    named, bank = labelled(given, "batteries"), number(given, "bank")
    batteries = tuple(volts for _, volts in named)
    links, chemistry, rest = round(number(given, "links")), word(given, "chemistry"), _rest(word(given, "rested"))
    window = rest_window(chemistry, number(given, "battery_nominal"))
    try:
        series = in_series(len(batteries), links)
    except WrongWiring as wrong:
        return _finding(Part(Verdict.FAIL, str(wrong), "count the links again before anything is joined", firm=True))
    expected = expected_bank_v(batteries, links)
    uncertainty = _sum_u(batteries, bank, series, context)
    spread, spread_u = spread_v(batteries), _spread_u(batteries, context)
    parts = [_wiring(named, bank, series, expected, uncertainty)]
    if not parts[0].firm:
        parts += [_match(named, spread_u, rest), *_charge(named, window, rest, chemistry), *_alike(given)]
    limits = (
        Limit("bank less its sum", "at most", SUM_V + uncertainty, "V"),
        *MATCH.limits,
    )
    working = (
        f"mean of {'; '.join(short(v, 4) for v in batteries)} V x {series} in series = {short(expected, 4)} V; "
        f"bank reads {short(bank, 4)} V, give or take {short(uncertainty, 2)} V\n"
        f"largest less smallest battery = {short(spread)} V, give or take {short(spread_u, 2)} V"
    )
    values: dict[str, Value] = {
        "expected_v": expected,
        "off_v": bank - expected,
        "spread_v": spread,
        "in_series": series,
        "strings": len(batteries) // series,
    }
    return _finding(worst_part(parts), values, limits, MATCHED_V - spread, uncertainty, working)


def _turned(given: Mapping[str, Value]) -> Part | None:
    """Return the fail of a battery that is turned round or has volts of another kind: joined, it burns."""
    for name, volts in (*labelled(given, "batteries"), ("the bank", maybe(given, "bank") or 0.0)):
        if volts < -NOTHING_V:
            text = f"{name or 'a battery'} reads {short(volts, 4)} V: turned round, or the leads are changed over"
            cure = "red lead on its plus post, then read it again"
            return Part(Verdict.FAIL, text, cure, firm=True, hands=JOIN_NOTHING)
    nominal, named = maybe(given, "battery_nominal"), labelled(given, "batteries")
    most = max((volts for _, volts in named), default=0.0)
    if nominal is None or most <= usual_v(nominal)[1]:
        return None
    text = f"{short(most, 4)} V is not one battery of {short(nominal)} V: {short(usual_v(nominal)[1])} V is the most"
    text = about(label_of(named, most), text)
    return Part(Verdict.FAIL, text, "follow its cables: two may be joined already", firm=True, hands=JOIN_NOTHING)


def _finding(
    part: Part,
    values: Mapping[str, Value] | None = None,
    limits: tuple[Limit, ...] = (),
    margin: float | None = None,
    uncertainty: float | None = None,
    working: str = "",
) -> Finding:
    return Finding(
        CHECK.name,
        part.verdict,
        part.sentence,
        values=values or {},
        limits=limits,
        margin=margin,
        uncertainty=uncertainty,
        conditions=("one meter for all batteries and the bank", "only wrong wiring is firm"),
        sum_text=working,
        remedy=part.remedy,
        firm=part.firm,
    )


def _rest(typed: str) -> str:
    return {"yes": RESTED, "no": OFF_TODAY}.get(typed, typed)


def _sum_u(batteries: tuple[float, ...], bank: float, series: int, context: Context) -> float:
    known = accuracy("bank", "dmm_v", context)
    scale = standard(half_width(bank - sum(batteries) / len(batteries) * series, known.percent, 0, 0))
    digits = standard(half_width(0, 0, known.counts, known.resolution))
    each = digits * series / len(batteries)
    return expanded(combined([scale, digits, *(each for _ in batteries)]))


def _spread_u(batteries: tuple[float, ...], context: Context) -> float:
    if len(batteries) < 2:
        return 0.0
    known = accuracy("batteries", "dmm_v", context)
    digits = standard(half_width(0, 0, known.counts, known.resolution))
    return expanded(combined([standard(half_width(spread_v(batteries), known.percent, 0, 0)), digits, digits]))


def _wiring(named: Named, bank: float, series: int, expected: float, uncertainty: float) -> Part:
    batteries = [volts for _, volts in named]
    off, one = bank - expected, sum(batteries) / len(batteries)
    if abs(off) > abs(one) / 2:
        flat = min(batteries, key=abs)
        alone = abs(flat) < NOTHING_V < max(batteries)
        seems = f"{label_of(named, flat, 'a battery')} reads next to nothing" if alone else _seems(bank, one, series)
        return Part(
            Verdict.FAIL,
            f"bank reads {short(bank, 4)} V, not {short(expected, 4)} V: {seems}",
            "open the breaker, undo the link, follow every cable by name before joining it again",
            firm=True,
        )
    if not at_most(abs(off), SUM_V + uncertainty):
        return Part(
            Verdict.FAIL,
            f"bank is {short(abs(off))} V off the sum of its batteries, over {short(SUM_V + uncertainty, 2)} V",
            "measure all again in one minute, same meter; then look at link and posts",
        )
    return Part(Verdict.PASS, f"bank {short(bank, 4)} V is the sum of its batteries, {series} in series")


def _seems(bank: float, one: float, series: int) -> str:
    if abs(one) < NOTHING_V:
        return "its batteries read next to nothing"
    like = round(bank / one)
    if like <= 0:
        return "a link is open or one battery is turned round"
    if like == 1 and series > 1:
        return "parallel, not series, or a link is missing"
    return f"it reads like {like} in series"


def _match(named: Named, uncertainty: float, rest: str) -> Part:
    volts = [each for _, each in named]
    spread = spread_v(volts)
    odd = " and ".join(label for at in (min(volts), max(volts)) if (label := label_of(named, at))) or "batteries"
    if rest == ON_CHARGE:
        return Part(
            Verdict.MARGINAL,
            "on charge: match and charge of the batteries cannot be told",
            "charger off for an hour or more, then measure each battery again",
        )
    return replace(MATCH, what=f"{odd} differ by").part(spread, uncertainty)


MATCH = Band(
    what="batteries differ by",
    good=MATCHED_V,
    bearable=BEARABLE_V,
    unit="V",
    mend="charge each alone until full, rest, measure again; replace the odd one",
    settle="measure both with one meter that shows more digits, rested longer",
)


def _charge(named: Named, window: RestWindow, rest: str, chemistry: str) -> list[Part]:
    if rest == ON_CHARGE:
        return []
    low, high = min(volts for _, volts in named), max(volts for _, volts in named)
    lowest = label_of(named, low)
    if not at_least(low, window.empty_v):
        return [
            Part(
                Verdict.FAIL,
                about(lowest, f"{short(low, 4)} V is flat or a dead cell, under {short(window.empty_v)} V"),
                "charge that battery alone and test it before it is linked",
            )
        ]
    if not at_least(low, window.low_v):
        return [
            Part(
                Verdict.MARGINAL,
                about(lowest, f"{short(low, 4)} V at rest is low: charge first"),
                "charge each, rest, measure again",
            )
        ]
    if not at_most(high, window.high_v) and rest == RESTED:
        return [
            Part(
                Verdict.MARGINAL,
                about(label_of(named, high), f"{short(high, 4)} V is over {short(window.high_v)} V: not at rest yet"),
                "rest an hour or more off charge, then measure again",
            )
        ]
    if chemistry in LITHIUM:
        return [Part(Verdict.PASS, "each in its window; the maker says whether they may stand in series")]
    return []


def _alike(given: Mapping[str, Value]) -> list[Part]:
    found = []
    capacities, ages = several(given, "capacities"), several(given, "ages")
    if capacities and max(capacities) != min(capacities):
        text = f"capacities differ: {short(min(capacities))} and {short(max(capacities))} Ah"
        found.append(Part(Verdict.MARGINAL, text, "use batteries of one size and kind in one bank"))
    if ages and max(ages) - min(ages) > AGE_MONTHS:
        text = f"ages differ by {short(max(ages) - min(ages))} months, over {AGE_MONTHS:g}"
        found.append(Part(Verdict.MARGINAL, text, "use batteries of one age in one bank"))
    return found


CHECK = Check(
    name="bank",
    rule="R03",
    title="a bank: its wiring, its match, its charge",
    inputs=(
        Input("batteries", "V", "volts of each battery, one after the other", -100, 100, many=True, instrument="dmm_v"),
        Input("links", "", "series links, + of one to - of the next; 0 if parallel", 0, 100),
        Input("bank", "V", "volts across the whole bank", -100, 100, instrument="dmm_v"),
        Input("chemistry", "choice", "kind of battery", choices=CHEMISTRIES),
        Input(
            "rested",
            "choice",
            "rested an hour or more, off charge today, or on charge (yes: rested)",
            choices=(RESTED, OFF_TODAY, ON_CHARGE, "yes", "no"),
        ),
        Input("battery_nominal", "V", "nominal volts of one battery", 2, 96, default=12.0),
        Input("capacities", "Ah", "capacity of each battery", 0.1, 5000, required=False, many=True),
        Input("ages", "", "age of each battery in months", 0, 600, required=False, many=True),
    ),
    judge=_judge,
    danger=_turned,
    sources=(
        own_rule("match 0.10 and 0.20 V, sum 0.10 V + U, rest windows"),
        practice("capacity and chemistry equal, age within 12 months"),
        GUARD_BAND,
    ),
    gives=(
        ("expected_v", "what the bank must read by its batteries and links"),
        ("off_v", "bank less that"),
        ("spread_v", "largest less smallest battery"),
    ),
    example='tugtest check bank batteries="12.60 V; 12.62 V" links=1 bank=25.2V chemistry=lead rested=rested',
    firm=True,
)
