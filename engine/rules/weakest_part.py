"""The lowest rating in series against the load, and how many times its own heat that means."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import flag, labelled, number
from engine.rules.say import apart, at_most, short
from engine.rules.sources import COMMON_PRACTICE, JOULE
from engine.trade.loading import heat_ratio, loading
from engine.trade.ranges import OutOfRange


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    load = number(given, "load")
    ratings = labelled(given, "ratings")
    if not ratings:
        raise OutOfRange('ratings is empty; it must be ratings such as "receptacle 60 A; plug 60 A"')
    name, rating = min(ratings, key=lambda item: item[1])
    called = name or "weakest part"
    share, heat = loading(load, rating), heat_ratio(load, rating)
    wise = float(context.profile.settings["continuous_share_of_allowable"]) if flag(given, "continuous") else 1.0
    if at_most(load, rating):
        kept = at_most(load, wise * rating)
        verdict, remedy = (Verdict.PASS, "") if kept else (Verdict.MARGINAL, _larger(called, load / wise))
        beyond = "" if kept else f"; {100 * wise:g} % is wise for long runs"
        sentence = f"{called}: {short(load)} A on {short(rating)} A is {100 * share:.0f} % of its rating{beyond}"
    else:
        verdict, remedy = Verdict.FAIL, _larger(called, load / wise)
        sentence = f"{called}: {apart(load, rating)} A on {short(rating)} A, {short(heat)} times its rated heat"
    return Finding(
        CHECK.name,
        verdict,
        sentence,
        values={"loading": share, "heat_ratio": heat, "weakest": called, "rating_a": rating},
        limits=tuple(Limit("load", "at most", limit, "A") for limit in dict.fromkeys((wise * rating, rating))),
        margin=wise * rating - load,
        sum_text=lambda: f"loading = {load:g} A / {rating:g} A = {share:.3g}; heat = loading^2 = {heat:.3g}",
        remedy=remedy,
    )


def _larger(called: str, wanted_a: float) -> str:
    return f"{called}: fit one rated {short(wanted_a)} A or more"


CHECK = Check(
    name="weakest-part",
    rule="R09",
    title="weakest part in series",
    inputs=(
        Input("load", "A", "current at full power", 0.001, 2000, worse="more"),
        Input("ratings", "A", "rating of every part in series", 0.1, 6000, many=True, worse="less"),
        Input("continuous", "yes/no", "may run for hours", default=True, worse="more"),
    ),
    judge=_judge,
    sources=(JOULE, COMMON_PRACTICE),
    gives=(("loading", "load over the lowest rating"), ("heat_ratio", "its heat as a multiple of its rated heat")),
    example='tugtest check weakest-part load=48A ratings="receptacle 60 A; plug 60 A; switch 70 A"',
)
