"""Voltage drop of a planned run, cold as the printed form has it and hot as the load makes it."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import maybe, number, word
from engine.rules.say import apart, at_most, short
from engine.rules.sources import AWG_FORMULA, CFR_TABLE_5, E11_DROP, HEAT_BALANCE, SAE_AREAS
from engine.rules.wire_place import AMBIENT, BUNDLED, CONDUCTOR, ENGINE_SPACE, INSULATION, air_c
from engine.trade.conductor import CLAD, TINNED, VERDICT_TEMPERATURE_C, conductor_ohm_per_m, is_metric_name
from engine.trade.drop import RunDrop, run_drop

CLASSES = ("critical", "ordinary", "bow-motor")


def drop_limits_percent(drop_class: str, context: Context) -> tuple[float, float]:
    """Return the percentages up to which a class passes, and is allowed with a reason.

    Args:
        drop_class: One of ``CLASSES``.
        context: The rule profile.

    Returns:
        Both limits, equal where nothing is allowed beyond the first [%].

    Source:
        The profile's settings.

    Example:
        >>> from engine.published.profiles import profile
        >>> drop_limits_percent("bow-motor", Context(profile()))
        (3.0, 5.0)
    """
    settings = context.profile.settings
    if drop_class == "bow-motor":
        return float(settings["drop_bow_motor_percent"]), float(settings["drop_bow_motor_marginal_percent"])
    limit = float(settings[f"drop_{drop_class}_percent"])
    return limit, limit


def judge_drop(percent: float, hot_percent: float | None, drop_class: str, context: Context) -> tuple[Verdict, str]:
    """Return the verdict on a predicted drop, and the sentence that says why.

    Args:
        percent: Drop at 29.3 degC [%].
        hot_percent: Drop at the temperature that the load makes [%], None if the load overheats the wire.
        drop_class: One of ``CLASSES``.
        context: The rule profile.

    Returns:
        Verdict and sentence. Only the hot value over the limit is marginal.

    Source:
        ABYC E-11 as quoted for the limits; the bands are this project's rule.

    Example:
        >>> from engine.published.profiles import profile
        >>> judge_drop(2.79, 2.93, "bow-motor", Context(profile()))[1]
        'drop 2.79 %, hot 2.93 %, is within 3 %'
    """
    good, allowed = drop_limits_percent(drop_class, context)
    if not at_most(percent, allowed):
        return Verdict.FAIL, f"drop {apart(percent, allowed)} % is over {allowed:g} %"
    if not at_most(percent, good):
        return (
            Verdict.MARGINAL,
            f"drop {apart(percent, good)} % is over {good:g} %; allowed to {allowed:g} % with a reason",
        )
    if hot_percent is None:
        return Verdict.MARGINAL, f"drop {short(percent)} % cold, but this load overheats the wire: see ampacity"
    if not at_most(hot_percent, good):
        return (
            Verdict.MARGINAL,
            f"drop {short(percent)} % cold, but {apart(hot_percent, good)} % hot is over {good:g} %",
        )
    return Verdict.PASS, f"drop {short(percent)} %, hot {short(hot_percent)} %, is within {good:g} %"


def drop_of(given: Mapping[str, Value]) -> RunDrop:
    """Return the drop of a run as its inputs have it, what is left out at its default.

    Args:
        given: The inputs of the check by name; ``load``, ``size``, ``out`` and ``back`` must be there [base units].

    Raises:
        OutOfRange: if a number lies outside its range or the size is not known.

    Source:
        As ``run_drop``.

    Example:
        >>> round(1000 * drop_of({"load": 48.0, "size": "8 AWG", "out": 5.2, "back": 5.2}).loop_ohm, 2)
        22.22
    """
    every = {**CHECK.defaults, **{name: value for name, value in given.items() if value is not None}}
    return run_drop(
        number(every, "load"),
        word(every, "size"),
        number(every, "out"),
        number(every, "back"),
        number(every, "insulation"),
        air_c(every),
        number(every, "bundled"),
        number(every, "extra"),
        maybe(every, "extra_hot"),
        word(every, "conductor"),
    )


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    load, nominal, size = number(given, "load"), number(given, "nominal"), word(given, "size")
    found = drop_of(given)
    percent = 100 * found.drop_v / nominal
    hot_percent = None if found.hot_drop_v is None else 100 * found.hot_drop_v / nominal
    whole_v = (found.hot_drop_v or found.drop_v) + load * number(given, "parts")
    drop_class = word(given, "class")
    verdict, sentence = judge_drop(percent, hot_percent, drop_class, context)
    whole = f"{short(100 * whole_v / nominal)} % with the parts"
    if verdict is Verdict.PASS and number(given, "parts") > 0:
        sentence += f"; {whole}"
    good, allowed = drop_limits_percent(drop_class, context)
    return Finding(
        CHECK.name,
        verdict,
        sentence,
        values={
            "drop_v": found.drop_v,
            "drop_percent": percent,
            "hot_drop_v": found.hot_drop_v,
            "hot_drop_percent": hot_percent,
            "hot_temperature_c": found.hot_temperature_c,
            "loop_ohm": found.loop_ohm,
            "whole_v": whole_v,
            "whole_percent": 100 * whole_v / nominal,
        },
        limits=tuple(Limit("drop", "at most", limit, "%") for limit in dict.fromkeys((good, allowed))),
        margin=good - percent,
        conditions=(
            f"the limit is for the wire alone; {whole}: breaker, plug and lugs",
            f"copper at {VERDICT_TEMPERATURE_C} degC; hot value at {short(found.hot_temperature_c)} degC",
            _strands(size, word(given, "conductor")),
        ),
        sources=(*CHECK.sources, SAE_AREAS) if size.startswith("SAE ") else CHECK.sources,
        sum_text=lambda: _sum(given, found, percent),
        remedy="" if verdict is Verdict.PASS else "use a larger wire, or a shorter run",
    )


def _strands(size: str, conductor: str) -> str:
    """Return what the sum takes the strands for, and how much worse a real wire of that kind may be."""
    if conductor == CLAD:
        return "copper-clad aluminium: 1.6 times the resistance of copper, and no wire for a boat"
    if is_metric_name(size):
        return f"by the largest resistance of a {conductor} class 5 cable of that name (IEC 60228)"
    kind = "by the least area of SAE wire, 1 to 12 % under AWG" if size.startswith("SAE ") else "by its area"
    if conductor == TINNED:
        return f"{kind}, tinned strands (NFPA 70 table 8, coated)"
    return f"{kind}; plain strands have 2 % more than solid, tinned ones up to 9 % (NFPA 70 table 8)"


def _sum(given: Mapping[str, Value], found: RunDrop, percent: float) -> str:
    per_m = conductor_ohm_per_m(word(given, "size"), VERDICT_TEMPERATURE_C, word(given, "conductor"))
    return (
        f"V = I x (r(29.3 degC) x (out + back) + extra)\n"
        f"= {given['load']:g} A x ({1000 * per_m:.4g} mohm/m x ({given['out']:.4g} m + {given['back']:.4g} m)"
        f" + {given['extra']:.4g} ohm) = {found.drop_v:.4g} V\n"
        f"100 x {found.drop_v:.4g} V / {given['nominal']:g} V = {percent:.3g} %"
    )


CHECK = Check(
    name="voltage-drop",
    rule="R05",
    title="voltage drop of a planned run",
    inputs=(
        Input("load", "A", "current at full power", 0.001, 2000, worse="more"),
        Input("size", "wire", "size marked on the wire", worse="less"),
        Input("out", "m", "wire from source to load", 0, 200, worse="more"),
        Input("back", "m", "wire from load back to source", 0, 200, worse="more"),
        Input("nominal", "V", "nominal volts of the bank", 1, 1000, worse="less"),
        Input("class", "choice", "what hangs on the run", choices=CLASSES, default="critical"),
        INSULATION,
        ENGINE_SPACE,
        AMBIENT,
        BUNDLED,
        CONDUCTOR,
        Input("extra", "ohm", "other wires of the run, there and back", 0, 10, default=0.0, worse="more"),
        Input("extra_hot", "ohm", "the same with the load on, if it is known", 0, 10, required=False, worse="more"),
        Input("parts", "ohm", "breaker, plug and lugs: told beside the wire's drop", 0, 10, default=0.0, worse="more"),
    ),
    judge=_judge,
    sources=(E11_DROP, AWG_FORMULA, CFR_TABLE_5, HEAT_BALANCE),
    gives=(
        ("drop_v", "volts lost at 29.3 degC"),
        ("drop_percent", "the same in percent of nominal"),
        ("hot_drop_percent", "percent lost at the temperature that the load brings the wire to"),
        ("whole_percent", "the same with breaker, plug and lugs"),
    ),
    example='tugtest check voltage-drop load=48A size="8 AWG" out=5.2m back=5.2m nominal=24V class=bow-motor',
)
