"""The lowest rating in series against the load, and how many times its own heat that means."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import labelled, number
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
    if at_most(load, rating):
        verdict, remedy = Verdict.PASS, ""
        sentence = f"{called}: {short(load)} A on {short(rating)} A is {100 * share:.0f} % of its rating"
    else:
        verdict, remedy = Verdict.FAIL, f"{called}: fit one rated {short(load)} A or more"
        sentence = f"{called}: {apart(load, rating)} A on {short(rating)} A, {short(heat)} times its rated heat"
    return Finding(
        CHECK.name,
        verdict,
        sentence,
        values={"loading": share, "heat_ratio": heat, "weakest": called, "rating_a": rating},
        limits=(Limit("load", "at most", rating, "A"),),
        margin=rating - load,
        sum_text=lambda: f"loading = {load:g} A / {rating:g} A = {share:.3g}; heat = loading^2 = {heat:.3g}",
        remedy=remedy,
    )


CHECK = Check(
    name="weakest-part",
    rule="R09",
    title="weakest part in series",
    inputs=(
        Input(name="load", unit="A", says="current at full power", low=0.001, high=2000),
        Input(name="ratings", unit="A", says="rating of every part in series", low=0.1, high=6000, many=True),
    ),
    judge=_judge,
    sources=(JOULE, COMMON_PRACTICE),
    gives=(("loading", "load over the lowest rating"), ("heat_ratio", "its heat as a multiple of its rated heat")),
    example='tugtest check weakest-part load=48A ratings="receptacle 60 A; plug 60 A; switch 70 A"',
)
