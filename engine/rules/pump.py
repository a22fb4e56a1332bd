"""A pump: the fuse on its label, a stall that blows it, a running current near the label, little drop."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import maybe, number, word
from engine.rules.measured import GUARD_BAND, difference_u, own_rule, practice, standard_u
from engine.rules.part import Band, Part, worst_part
from engine.rules.say import at_least, at_most, short
from engine.rules.sources import E11_DROP
from engine.source import Seen
from engine.trade.decision import between
from engine.trade.lamp import drop_percent, system_nominal_v
from engine.trade.pump import RUN_HIGH, RUN_LOW, STALL_BEARABLE, STALL_GOOD, running_share, stall_ratio
from engine.trade.reading import expanded

DROP_PERCENT = 3.0
"""Largest drop to a bilge pump, the safer reading of the classes. Source: ABYC E-11, critical circuits (quoted)."""

LABEL, MEASURED = "label", "measured"


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    label, label_fuse, fuse = (number(given, name) for name in ("label", "label_fuse", "fuse"))
    stall, running = maybe(given, "stall"), maybe(given, "running")
    parts = [_fuse(fuse, label_fuse)]
    values: dict[str, Value] = {"fuse_a": fuse, "label_fuse_a": label_fuse}
    if stall is not None:
        values["stall_ratio"] = stall_ratio(stall, fuse)
        parts.append(_stall(stall, fuse, given, context))
    if running is not None:
        values["running_percent"] = 100 * running_share(running, label)
        parts.append(_running(running, label, context))
    drop = _drop(given, context)
    if drop is not None:
        values["drop_percent"], part = drop
        parts.append(part)
    part = worst_part(parts)
    return Finding(
        CHECK.name,
        part.verdict,
        part.sentence if part.verdict is not Verdict.PASS else f"fuse {short(fuse)} A as the label says{_also(values)}",
        values=values,
        limits=(
            Limit("fuse", "equal", label_fuse, "A"),
            *STALL.limits,
            Limit("running", "at least", RUN_LOW * label, "A"),
            Limit("running", "at most", RUN_HIGH * label, "A"),
        ),
        margin=None if stall is None else stall_ratio(stall, fuse) - STALL_GOOD,
        conditions=("stall by the maker's figure, or with a wedge and hands out: never hold an impeller",),
        sum_text=lambda: _sum(given, values),
        remedy=part.remedy,
    )


def _also(values: Mapping[str, Value]) -> str:
    if "stall_ratio" not in values:
        return "; stall not measured"
    return f"; a jam draws {short(number(values, 'stall_ratio'))} times that"


def _fuse(fuse: float, label_fuse: float) -> Part:
    if at_least(fuse, label_fuse) and at_most(fuse, label_fuse):
        return Part(Verdict.PASS, "")
    side = "over" if fuse > label_fuse else "under"
    text = f"fuse {short(fuse)} A is {side} the label's {short(label_fuse)} A"
    return Part(Verdict.FAIL, text, f"fit {short(label_fuse)} A")


def _stall(stall: float, fuse: float, given: Mapping[str, Value], context: Context) -> Part:
    measured = word(given, "stall_from") == MEASURED
    uncertainty = expanded(standard_u("stall", stall, "clamp", context)) / fuse if measured else 0.0
    return STALL.part(stall_ratio(stall, fuse), uncertainty)


STALL = Band(
    what="a jam draws {} the fuse",
    good=STALL_GOOD,
    bearable=STALL_BEARABLE,
    unit="times",
    least=True,
    mend="thicker or shorter wire, or a pump whose label fits this fuse",
    settle="take the maker's stall figure",
)

DROP = Band(
    what="drop to the pump",
    good=DROP_PERCENT,
    unit="%",
    mend="thicker wire, or look at the joints in the bilge",
    settle="a meter with more digits, or each leg in millivolts",
)


def _running(running: float, label: float, context: Context) -> Part:
    uncertainty = expanded(standard_u("running", running, "clamp", context))
    verdict = between(running, RUN_LOW * label, RUN_HIGH * label, uncertainty)
    if verdict is Verdict.PASS:
        return Part(verdict, "")
    if verdict is Verdict.UNDECIDED:
        text = f"runs at {short(running)} A, the label {short(label)}: too near its limit for this clamp to tell"
        return Part(verdict, text, "zero the clamp and measure again")
    high = running > label
    text = (
        f"runs at {short(running)} A, {'over' if high else 'under'} {short((RUN_HIGH if high else RUN_LOW) * label)} A"
    )
    return Part(
        verdict, text, "look for weed or a bent shaft" if high else "look for an air lock, low volts or a wrong label"
    )


def _drop(given: Mapping[str, Value], context: Context) -> tuple[float, Part] | None:
    source, at_pump = maybe(given, "source"), maybe(given, "at_pump")
    if source is None or at_pump is None:
        return None
    nominal = system_nominal_v(source)
    percent = drop_percent(source, at_pump, nominal)
    u = difference_u(("source", "at_pump"), (source, at_pump), "dmm_v", context, same_meter=True)
    uncertainty = 100 * expanded(u) / nominal
    return percent, DROP.part(percent, uncertainty)


def _sum(given: Mapping[str, Value], values: Mapping[str, Value]) -> str:
    lines = [f"fuse {short(number(given, 'fuse'))} A, label {short(number(given, 'label_fuse'))} A"]
    if "stall_ratio" in values:
        stall, fuse = short(number(given, "stall")), short(number(given, "fuse"))
        lines.append(f"stall {stall} A / fuse {fuse} A = {short(number(values, 'stall_ratio'))}")
    if "running_percent" in values:
        running, label = short(number(given, "running")), short(number(given, "label"))
        lines.append(f"100 x {running} A / {label} A = {short(number(values, 'running_percent'))} % of the label")
    if "drop_percent" in values:
        lines.append(f"drop {short(number(values, 'drop_percent'))} % of nominal")
    return "\n".join(lines)


def _amperes(name: str, says: str, instrument: str = "", required: bool = True, worse: str = "") -> Input:
    return Input(name, "A", says, 0.1, 500, required=required, instrument=instrument, worse=worse)


def _volts(name: str, says: str, worse: str) -> Input:
    return Input(name, "V", says, 1, 100, required=False, instrument="dmm_v", worse=worse)


CHECK = Check(
    name="pump",
    rule="R26",
    title="a pump, its fuse and its stall",
    inputs=(
        _amperes("label", "running current on the label"),
        _amperes("label_fuse", "fuse on the label"),
        _amperes("fuse", "fuse fitted"),
        _amperes("stall", "current when jammed", instrument="clamp", required=False, worse="less"),
        Input(
            "stall_from",
            "choice",
            "stall by the maker's label, or measured with a wedge and hands out",
            choices=(LABEL, MEASURED),
            default=LABEL,
        ),
        _amperes("running", "current while it pumps", instrument="clamp", required=False),
        _volts("source", "volts at the source, pumping", ""),
        _volts("at_pump", "volts at the pump, pumping", "less"),
    ),
    judge=_judge,
    sources=(
        practice("the fuse on the pump's label"),
        practice("a jam draws 1.6 times the fuse, 1.35 at the least", Seen.MEMORY),
        own_rule("running from -50 % to +15 % of the label"),
        E11_DROP,
        GUARD_BAND,
    ),
    gives=(
        ("stall_ratio", "stall current over fuse"),
        ("running_percent", "running current in percent of the label"),
        ("drop_percent", "drop to the pump"),
    ),
    example="tugtest check pump label=4A label_fuse=6A fuse=6A stall=12A running=3.4A",
)
