"""Heat of two terminals after ten minutes under load, scaled to rated current by the square law."""

from collections.abc import Mapping

from engine.finding import Finding, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import flag, maybe, number
from engine.rules.measured import GUARD_BAND, difference_u, own_rule, practice, standard_u
from engine.rules.part import NOT_BELIEVED, Band, Part, worst_part
from engine.rules.say import minutes, short
from engine.source import Authority, Seen, Source
from engine.trade.heat import LEAST_SHARE, SOAK_S, enough_current, heat_scale, scaled_difference_k
from engine.trade.reading import combined, expanded

PAIR_GOOD_K, PAIR_BEARABLE_K = 5.0, 15.0
RISE_GOOD_K, RISE_BEARABLE_K = 20.0, 40.0
TOUCH_C = 60.0
"""Limits of a power plug. Source: this project's rule, beside the larger classes of NETA MTS table 100.18 (quoted)."""

CEILING_C = 70.0
"""Hottest metal that may be touched and is not held. Source: BS 7671:1992, table 42A (quoted)."""

TOO_HOT = "Load off now, and do not touch it. Let it cool, negative off the bank, then look: screws, strands, copper."

_MEND = "look at the hotter terminal: screws, strands, green copper; then load again"
_SETTLE = "contact thermometer, same spot on both, nearer to rated current"


def _band(what: str, good: float, bearable: float) -> Band:
    return Band(what=what, good=good, bearable=bearable, unit="degrees", mend=_MEND, settle=_SETTLE)


RISE = _band("rise over the air at rated current", RISE_GOOD_K, RISE_BEARABLE_K)
TOUCH = Band(
    what="to be touched, on the hottest day:",
    good=TOUCH_C,
    unit="degC",
    mend="lower the resistance of the joint, or guard the part against touch",
)


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    positive, negative, ambient = (number(given, name) for name in ("positive", "negative", "ambient"))
    current, rated = number(given, "current"), number(given, "rated")
    judged_a = max(current, LEAST_SHARE * rated)
    hotter, hottest = ("positive", positive) if positive >= negative else ("negative", negative)
    pair = abs(scaled_difference_k(positive, negative, judged_a, rated))
    rise = scaled_difference_k(hottest, ambient, judged_a, rated)
    pair_u = _scaled_u(("positive", "negative"), (positive, negative), pair, judged_a, rated, context)
    rise_u = _scaled_u((hotter, "ambient"), (hottest, ambient), rise, judged_a, rated, context)
    apart = _band("the two terminals differ by", min(max(PAIR_GOOD_K, pair_u), PAIR_BEARABLE_K), PAIR_BEARABLE_K)
    parts = [_pair(apart, pair, pair_u), RISE.part(rise, rise_u)]
    touched = maybe(given, "hottest_ambient")
    if touched is not None:
        parts.append(TOUCH.part(touched + rise, rise_u))
    doubt = [*_cold(rise, rise_u)]
    part = worst_part([*parts, *doubt, *_unsettled(given), *_little_current(current, rated)])
    if part.verdict is Verdict.PASS:
        text = f"{short(rise)} degrees over the air at rated current, allowed {RISE_GOOD_K:g}; pair {short(pair)} apart"
        part = Part(part.verdict, text)
    return Finding(
        CHECK.name,
        part.verdict,
        part.sentence,
        values={"rise_scaled_k": rise, "pair_scaled_k": pair, "scale": heat_scale(judged_a, rated)},
        limits=(*RISE.limits, *apart.limits),
        margin=min(RISE_GOOD_K - rise, apart.good - pair),
        uncertainty=rise_u,
        conditions=(
            "scaled by the square of the current: more than a warm part would reach",
            *((NOT_BELIEVED,) if doubt else ()),
        ),
        sum_text=lambda: (
            f"({short(rated)} A / {short(judged_a)} A)^2 = {short(heat_scale(judged_a, rated))}\n"
            f"over the air ({short(hottest)} - {short(ambient)}) K x that = {short(rise)} K, "
            f"give or take {short(rise_u, 2)} K\n"
            f"pair |{short(positive)} - {short(negative)}| K x that = {short(pair)} K, "
            f"give or take {short(pair_u, 2)} K"
        ),
        remedy=part.remedy,
    )


def _burning(given: Mapping[str, Value]) -> Part | None:
    """Return the fail of a terminal that is too hot to touch, whatever the current and the other readings."""
    hottest = max((c for name in ("positive", "negative") if (c := maybe(given, name)) is not None), default=None)
    if hottest is None or hottest < CEILING_C:
        return None
    text = f"{short(hottest)} degC: too hot to touch at any current, {CEILING_C:g} degC is the most"
    return Part(Verdict.FAIL, text, "open the hotter terminal dead: screws, strands, green copper", hands=TOO_HOT)


def _scaled_u(
    names: tuple[str, str],
    values: tuple[float, float],
    scaled_k: float,
    judged_a: float,
    rated_a: float,
    context: Context,
) -> float:
    """Return U of a scaled difference [K]: both temperatures, and the current that it is scaled by."""
    of_current = 2 * scaled_k * standard_u("current", judged_a, "clamp", context) / judged_a
    of_pair = difference_u(names, values, "tc", context, same_meter=False) * heat_scale(judged_a, rated_a)
    return expanded(combined([of_pair, of_current]))


def _pair(band: Band, pair: float, uncertainty: float) -> Part:
    """Return what the pair says: what two thermometers differ by is no heat, so its good limit holds that already."""
    if pair <= band.good and pair + uncertainty <= PAIR_BEARABLE_K:
        return Part(Verdict.PASS, "")
    return band.part(pair, uncertainty)


def _cold(rise: float, uncertainty: float) -> list[Part]:
    if rise >= -uncertainty:
        return []
    text = f"the terminal is {short(-rise)} degrees colder than the air: a reading is wrong"
    return [Part(Verdict.UNDECIDED, text, "take the air in the shade beside the part, then both terminals again")]


def _unsettled(given: Mapping[str, Value]) -> list[Part]:
    """Return the doubt of a part that had no time to get hot, whatever it looks like."""
    if number(given, "minutes") < SOAK_S * (1 - 1e-9):
        text = f"{minutes(number(given, 'minutes'))} under load, {minutes(SOAK_S)} are needed: not warm yet"
        return [Part(Verdict.UNDECIDED, text, "go on to ten minutes, then read again")]
    if flag(given, "rising"):
        return [Part(Verdict.UNDECIDED, "still getting warmer", "go on until it rises no more, then read again")]
    return []


def _little_current(current: float, rated: float) -> list[Part]:
    if enough_current(current, rated):
        return []
    text = f"{short(current)} A is under {LEAST_SHARE:g} of {short(rated)} A: it says nothing yet of full load"
    return [Part(Verdict.UNDECIDED, text, "load it nearer to rated current, ten minutes")]


def _degrees(name: str, says: str, low: float, high: float, worse: str) -> Input:
    return Input(name, "degC", says, low, high, instrument="tc", worse=worse)


CHECK = Check(
    name="heat",
    rule="R20",
    title="heat of two terminals under load",
    inputs=(
        _degrees("positive", "positive terminal", -20, 200, ""),
        _degrees("negative", "negative terminal", -20, 200, ""),
        _degrees("ambient", "air beside it, in the shade", -40, 80, "less"),
        Input("current", "A", "current during the test", 0.01, 2000, instrument="clamp", worse="less"),
        Input("rated", "A", "rated current of the load", 0.01, 2000, worse="more"),
        Input("minutes", "min", "time under load", 0, 1440, worse="less"),
        Input("rising", "yes/no", "is it still getting hotter", required=False, worse="more"),
        Input(
            "hottest_ambient",
            "degC",
            "hottest air it will work in, for a part that people touch",
            -40,
            80,
            required=False,
            worse="more",
        ),
    ),
    judge=_judge,
    danger=_burning,
    sources=(
        own_rule("pair 5 K or U, and 15 K; over the air 20 and 40 K; 60 degC to touch; from 0.7 of rated current"),
        Source(Authority.REGULATION, "BS 7671:1992", "table 42A, metal touched and not held", Seen.QUOTED),
        Source(Authority.STANDARD, "NETA MTS", "table 100.18", Seen.QUOTED),
        practice("ten minutes under load"),
        GUARD_BAND,
    ),
    gives=(
        ("rise_scaled_k", "rise over the air at rated current"),
        ("pair_scaled_k", "difference of the pair at rated current"),
    ),
    example="tugtest check heat positive=31degC negative=30degC ambient=22degC current=44A rated=48A minutes=10",
)
