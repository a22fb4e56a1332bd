"""The lowest rating in series against the load, in the air around it, and how many times its own heat that means."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import flag, labelled, number
from engine.rules.say import apart, at_most, short
from engine.rules.sources import COMMON_PRACTICE, DEVICE_HEAT, JOULE
from engine.rules.wire_place import AMBIENT, ENGINE_SPACE, air_c
from engine.trade.loading import device_factor, heat_ratio, loading
from engine.trade.protection import next_size_up_a, standard_sizes_a
from engine.trade.ranges import OutOfRange


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    load, air = number(given, "load"), air_c(given)
    ratings = labelled(given, "ratings")
    if not ratings:
        raise OutOfRange('ratings is empty; it must be ratings such as "receptacle 60 A; plug 60 A"')
    name, rating = min(ratings, key=lambda item: item[1])
    called = name or "weakest part"
    share, heat = loading(load, rating), heat_ratio(load, rating)
    holds = device_factor(air) * rating
    wise = float(context.profile.settings["continuous_share_of_allowable"]) if flag(given, "continuous") else 1.0
    said = f"{called}: {short(load)} A on {short(rating)} A is {100 * share:.0f} % of its rating"
    verdict, sentence = Verdict.PASS, said
    if not at_most(load, rating):
        verdict = Verdict.FAIL
        sentence = f"{called}: {apart(load, rating)} A on {short(rating)} A, {short(heat)} times its rated heat"
    elif not at_most(load, holds):
        verdict, sentence = Verdict.FAIL, f"{said}; at {short(air)} degC it holds {short(holds)} A"
    elif not at_most(load, wise * rating):
        verdict, sentence = Verdict.MARGINAL, f"{said}; {100 * wise:g} % is wise for long runs"
    return Finding(
        CHECK.name,
        verdict,
        sentence,
        values={"loading": share, "heat_ratio": heat, "weakest": called, "rating_a": rating, "holds_a": holds},
        limits=(Limit("load", "at most", wise * rating, "A"), Limit("load", "at most", holds, "A")),
        margin=min(wise * rating, holds) - load,
        sum_text=lambda: (
            f"loading = {load:g} A / {rating:g} A = {share:.3g}; heat = loading^2 = {heat:.3g}\n"
            f"at {air:g} degC it holds {device_factor(air):.3g} x {rating:g} A = {holds:.4g} A"
        ),
        remedy="" if verdict is Verdict.PASS else _remedy(called, load / (min(wise, device_factor(air)) or wise)),
    )


def _remedy(called: str, wanted_a: float) -> str:
    rated_a = next_size_up_a(wanted_a) if wanted_a <= standard_sizes_a()[-1] else wanted_a
    return f"{called}: fit one rated {short(rated_a)} A or more"


CHECK = Check(
    name="weakest-part",
    rule="R09",
    title="weakest part in series",
    inputs=(
        Input("load", "A", "current at full power", 0.001, 2000, worse="more"),
        Input("ratings", "A", "rating of every part in series", 0.1, 6000, many=True, worse="less"),
        Input("continuous", "yes/no", "may run for hours", default=True, worse="more"),
        ENGINE_SPACE,
        AMBIENT,
    ),
    judge=_judge,
    sources=(JOULE, COMMON_PRACTICE, DEVICE_HEAT),
    gives=(("loading", "load over the lowest rating"), ("heat_ratio", "its heat as a multiple of its rated heat")),
    example='tugtest check weakest-part load=48A ratings="receptacle 60 A; plug 60 A; switch 70 A"',
)
