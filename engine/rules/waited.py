"""Whether enough time went by between two things, by the log's clock: airing, draining, a test that must run."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import number
from engine.rules.say import at_least, minutes
from engine.rules.sources import COMMON_PRACTICE


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    time_s, least_s = number(given, "time"), number(given, "least")
    passed, wanted = minutes(time_s), minutes(least_s)
    enough = at_least(time_s, least_s)
    return Finding(
        CHECK.name,
        Verdict.PASS if enough else Verdict.MARGINAL,
        f"{passed} by the clock" if enough else f"{passed} by the clock, {wanted} are wanted",
        values={"time_s": time_s},
        limits=(Limit("time", "at least", least_s, "s"),),
        margin=time_s - least_s,
        sum_text=lambda: f"{time_s:g} s against {least_s:g} s",
        remedy="" if enough else "wait until the time is up, then give the last value again",
    )


CHECK = Check(
    name="waited",
    rule="R40",
    title="time that went by, by the log's clock",
    inputs=(
        Input("time", "s", "time from the first value to the last", 0, 1e7, worse="less"),
        Input("least", "s", "least time that is wanted", 1, 1e6),
    ),
    judge=_judge,
    sources=(COMMON_PRACTICE,),
    gives=(("time_s", "time that went by"),),
    example="tugtest check waited time=12min least=10min",
)
