"""How much of its rating a steady load takes of a fuse."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import number
from engine.rules.say import apart, at_most, short
from engine.rules.sources import COMMON_PRACTICE
from engine.trade.loading import loading


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    load, fuse = number(given, "load"), number(given, "fuse")
    good = float(context.profile.settings["fuse_load_share"])
    share = loading(load, fuse)
    if not at_most(share, 1.0):
        verdict, said = Verdict.FAIL, f"{apart(load, fuse)} A is over the {short(fuse)} A fuse: it will blow"
    elif not at_most(share, good):
        verdict, said = Verdict.MARGINAL, f"{100 * share:.0f} % of the {short(fuse)} A fuse; {100 * good:g} % is wise"
    else:
        verdict, said = Verdict.PASS, f"{short(load)} A is {100 * share:.0f} % of the {short(fuse)} A fuse"
    return Finding(
        CHECK.name,
        verdict,
        said,
        values={"loading": share},
        limits=(Limit("loading", "at most", good, ""), Limit("loading", "at most", 1.0, "")),
        margin=good - share,
        sum_text=lambda: f"loading = {load:g} A / {fuse:g} A = {share:.3g}",
        remedy="" if verdict is Verdict.PASS else "less on this fuse; a larger one only if the wire allows it",
    )


CHECK = Check(
    name="fuse-load",
    rule="R24",
    title="steady load on a fuse",
    inputs=(
        Input("load", "A", "steady current of everything on it", 0.001, 2000, worse="more"),
        Input("fuse", "A", "rating of the fuse", 0.1, 6000, worse="less"),
    ),
    judge=_judge,
    sources=(COMMON_PRACTICE,),
    gives=(("loading", "load over fuse"),),
    example="tugtest check fuse-load load=10A fuse=15A",
)
