"""Heat of two terminals after ten minutes under load, scaled to rated current by the square law."""

from collections.abc import Callable, Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import flag, maybe, number
from engine.rules.measured import GUARD_BAND, difference_u, own_rule, practice, standard_u
from engine.rules.part import Part, at_worst, worst_part
from engine.rules.say import apart, short
from engine.source import Authority, Seen, Source
from engine.trade.decision import at_most, band_at_most, band_eased
from engine.trade.heat import LEAST_SHARE, SOAK_S, enough_current, heat_scale, scaled_difference_k
from engine.trade.reading import combined, expanded

PAIR_GOOD_K, PAIR_BEARABLE_K = 5.0, 15.0
RISE_GOOD_K, RISE_BEARABLE_K = 20.0, 40.0
TOUCH_C = 60.0
"""Limits of a power plug. Source: this project's rule, beside the larger classes of NETA MTS table 100.18 (quoted)."""

CEILING_C = 70.0
"""Hottest metal that may be touched and is not held. Source: BS 7671:1992, table 42A (quoted)."""

TOO_HOT = "Load off now, and do not touch it. Let it cool, negative off the bank, then look: screws, strands, copper."

Band = Callable[[float, float, float, float], Verdict]


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    positive, negative, ambient = (number(given, name) for name in ("positive", "negative", "ambient"))
    current, rated = number(given, "current"), number(given, "rated")
    if not enough_current(current, rated):
        text = f"{short(current)} A is under {LEAST_SHARE:g} of {short(rated)} A: too little to scale"
        return Finding(CHECK.name, Verdict.MISSING, text, remedy="load it nearer to rated current, ten minutes")
    scale = heat_scale(current, rated)
    hotter = "positive" if positive >= negative else "negative"
    pair = abs(scaled_difference_k(positive, negative, current, rated))
    rise = scaled_difference_k(max(positive, negative), ambient, current, rated)
    pair_u = _scaled_u(("positive", "negative"), (positive, negative), pair, given, context)
    rise_u = _scaled_u((hotter, "ambient"), (max(positive, negative), ambient), rise, given, context)
    pair_good = max(PAIR_GOOD_K, pair_u)
    parts = [
        _band("pair differs", pair, pair_good, PAIR_BEARABLE_K, pair_u, band_eased),
        _rise(rise, rise_u),
        *_touch(given, rise, rise_u),
    ]
    part = _settled(given, worst_part(parts))
    if part.verdict is Verdict.PASS:
        part = Part(part.verdict, f"{short(rise)} K over the air at rated current, pair {short(pair)} K apart")
    return Finding(
        CHECK.name,
        part.verdict,
        part.sentence,
        values={"rise_scaled_k": rise, "pair_scaled_k": pair, "scale": scale},
        limits=(
            Limit("rise at rated current", "at most", RISE_GOOD_K, "K"),
            Limit("rise at rated current", "at most", RISE_BEARABLE_K, "K"),
            Limit("pair at rated current", "at most", pair_good, "K"),
            Limit("pair at rated current", "at most", PAIR_BEARABLE_K, "K"),
        ),
        margin=min(RISE_GOOD_K - rise, pair_good - pair),
        uncertainty=rise_u,
        conditions=("scaled by the square of the current: more than a warm part would reach",),
        sum_text=lambda: (
            f"({short(rated)} A / {short(current)} A)^2 = {short(scale)}\n"
            f"over the air ({short(max(positive, negative))} - {short(ambient)}) K x {short(scale)} = {short(rise)} K, "
            f"U = {short(rise_u, 2)} K\n"
            f"pair |{short(positive)} - {short(negative)}| K x {short(scale)} = {short(pair)} K, "
            f"U = {short(pair_u, 2)} K"
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
    names: tuple[str, str], values: tuple[float, float], scaled_k: float, given: Mapping[str, Value], context: Context
) -> float:
    """Return U of a scaled difference: both temperatures, and the current that it is scaled by."""
    current = number(given, "current")
    of_current = 2 * scaled_k * standard_u("current", current, "clamp", context) / current
    of_pair = difference_u(names, values, "tc", context, same_meter=False) * heat_scale(current, number(given, "rated"))
    return expanded(combined([of_pair, of_current]))


def _band(what: str, kelvin: float, good: float, bearable: float, uncertainty: float, band: Band) -> Part:
    verdict = band(kelvin, good, bearable, uncertainty)
    if verdict is Verdict.PASS:
        return Part(verdict, "")
    limit = good if kelvin < (good + bearable) / 2 else bearable
    if verdict is Verdict.UNDECIDED:
        text = f"{what} {short(kelvin)} K, within U = {short(uncertainty, 2)} K of {short(limit)} K"
        worst = at_worst(at_most(kelvin, bearable, uncertainty))
        return Part(verdict, text, "contact thermometer, same spot on both, nearer to rated current", at_worst=worst)
    over = good if verdict is Verdict.MARGINAL else bearable
    text = f"{what} {apart(kelvin, over)} K at rated current, over {short(over)} K"
    return Part(verdict, text, "look at the hotter terminal: screws, strands, green copper; then load again")


def _rise(rise: float, uncertainty: float) -> Part:
    if rise < -uncertainty:
        text = f"the terminal is {short(-rise)} K colder than the air: a reading is wrong"
        return Part(Verdict.UNDECIDED, text, "take the air in the shade beside the part, then both terminals again")
    return _band("rise", rise, RISE_GOOD_K, RISE_BEARABLE_K, uncertainty, band_at_most)


def _touch(given: Mapping[str, Value], rise: float, uncertainty: float) -> list[Part]:
    hottest = maybe(given, "hottest_ambient")
    if hottest is None:
        return []
    verdict = at_most(hottest + rise, TOUCH_C, uncertainty)
    if verdict is Verdict.PASS:
        return []
    text = f"{short(hottest + rise)} degC on the hottest day; a part that people touch at most {TOUCH_C:g} degC"
    return [Part(verdict, text, "lower the resistance of the joint, or guard the part against touch")]


def _settled(given: Mapping[str, Value], part: Part) -> Part:
    """Return the part, undecided if the part is still getting hotter: a fail stays a fail."""
    if part.verdict is Verdict.FAIL:
        return part
    minutes = number(given, "minutes") / 60
    if flag(given, "rising"):
        return Part(Verdict.UNDECIDED, "still rising: not settled", "go on until it rises no more, then read again")
    if number(given, "minutes") < SOAK_S * (1 - 1e-9) and given["rising"] is None:
        text = f"{short(minutes)} min under load, not {SOAK_S / 60:g}: not settled"
        return Part(Verdict.UNDECIDED, text, "go on to ten minutes, then read again")
    return part


CHECK = Check(
    name="heat",
    rule="R20",
    title="heat of two terminals under load",
    inputs=(
        Input(name="positive", unit="degC", says="positive terminal", low=-20, high=200, instrument="tc"),
        Input(name="negative", unit="degC", says="negative terminal", low=-20, high=200, instrument="tc"),
        Input(name="ambient", unit="degC", says="air beside it, in the shade", low=-40, high=80, instrument="tc"),
        Input(
            name="current",
            unit="A",
            says="current during the test",
            low=0.01,
            high=2000,
            instrument="clamp",
        ),
        Input(name="rated", unit="A", says="rated current of the load", low=0.01, high=2000),
        Input(name="minutes", unit="min", says="time under load", low=0, high=1440),
        Input(name="rising", unit="yes/no", says="is it still getting hotter", required=False),
        Input(
            name="hottest_ambient",
            unit="degC",
            says="hottest air it will work in, for a part that people touch",
            low=-40,
            high=80,
            required=False,
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
