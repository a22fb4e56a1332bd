"""The drop of a run under load, held against what its wire and parts should lose: the wire, or a joint."""

from collections.abc import Mapping
from dataclasses import replace

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import flag, maybe, number
from engine.rules.measured import (
    GUARD_BAND,
    UNCERTAINTY,
    accuracy,
    difference_u,
    own_rule,
    practice,
    several,
    standard_u,
)
from engine.rules.part import NOT_BELIEVED, Band, Part
from engine.rules.say import short
from engine.trade.conductor import VERDICT_TEMPERATURE_C, resistivity_ohm_mm2_per_m
from engine.trade.measured_drop import LEAST_SHARE, MeasuredDrop, enough_current, measured_drop
from engine.trade.reading import combined, expanded, half_width, standard

GOOD_V, BEARABLE_V = 0.10, 0.20
"""Excess at rated current that passes (with U on top), and that is bearable [V]. Source: this project's rule."""

WARMEST_C = 60.0
"""Metal of a sound wire under a load that it may carry, where the plan's own figure is not handed over [degC]. Source:
the lowest jacket of 33 CFR 183.425 table 5."""

SETTLE = "read bank, receptacle, bank with one meter, or each leg in millivolts along one long lead"


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    current, rated = number(given, "current"), number(given, "rated")
    read = _drop(given, context)
    if read is None:
        return _finding(Part(Verdict.MISSING, "not measured: source and at_load, or the legs", SETTLE))
    drop, drop_u, how = read
    judged_a = _judged_a(given)
    found = measured_drop(
        drop, drop_u, judged_a, standard_u("current", judged_a, "clamp", context), rated, _due_ohm(given)
    )
    uncertainty = expanded(found.excess_u_v)
    said, enough = _said(found, uncertainty, given), enough_current(current, rated)
    if not enough and said.verdict is not Verdict.FAIL:
        text = f"{short(current)} A is under {LEAST_SHARE:g} of {short(rated)} A: it says nothing yet of full load"
        return _finding(Part(Verdict.UNDECIDED, text, "load it fully, in the water or a tub"))
    doubt = _doubt(found, uncertainty, given) if enough else None
    return _finding(doubt or said, found, uncertainty, (how, *_beside(doubt)), given)


def _judged_a(given: Mapping[str, Value]) -> float:
    """Return the current that the drop is judged at [A]: a smaller one makes no run look better."""
    return max(number(given, "current"), LEAST_SHARE * number(given, "rated"))


def _beside(doubt: Part | None) -> tuple[str, ...]:
    return (NOT_BELIEVED,) if doubt else ()


def _drop(given: Mapping[str, Value], context: Context) -> tuple[float, float, str] | None:
    """Return drop, its standard uncertainty, and how it was read; None if it was not."""
    legs, source, at_load = several(given, "legs"), maybe(given, "source"), maybe(given, "at_load")
    if legs:
        parts = [standard_u("legs", leg, "dmm_mv", context) for leg in legs]
        return sum(legs), combined(parts), "each leg read directly"
    if source is None or at_load is None:
        return None
    offset = maybe(given, "offset")
    same = flag(given, "same_meter") or offset is not None
    u = difference_u(("source", "at_load"), (source, at_load), "dmm_v", context, same_meter=same)
    if offset is None:
        return source - at_load, u, "one meter for both" if same else "two meters"
    known = accuracy("source", "dmm_v", context)
    digits = standard(half_width(0, 0, known.counts, known.resolution))
    return source - at_load - offset, combined([u, digits, digits]), "two meters, their difference at no load taken off"


def _due_ohm(given: Mapping[str, Value]) -> float:
    """Return the most that wire and parts should have: the wire as warm as its metal is, or may be."""
    known = maybe(given, "wire_temperature")
    return _wire_ohm(given, number(given, "wire_hot") if known is None else known) + number(given, "parts")


def _wire_ohm(given: Mapping[str, Value], metal_c: float) -> float:
    warm = resistivity_ohm_mm2_per_m(metal_c) / resistivity_ohm_mm2_per_m(VERDICT_TEMPERATURE_C)
    return number(given, "predicted") * warm


def _doubt(found: MeasuredDrop, uncertainty: float, given: Mapping[str, Value]) -> Part | None:
    """Return what is said of a drop that no run can have: the wrong way round, or less than its wire, cold."""
    if found.drop_v < 0:
        return Part(Verdict.UNDECIDED, "the load reads more than the source: readings swapped?", SETTLE)
    known = maybe(given, "wire_temperature")
    cold_v = _wire_ohm(given, VERDICT_TEMPERATURE_C if known is None else known) * number(given, "rated")
    less_v = cold_v - found.drop_at_rated_v
    if less_v <= GOOD_V + uncertainty:
        return None
    text = f"{short(less_v)} V less than the wire alone should lose"
    return Part(Verdict.UNDECIDED, text, f"look at length and size of the plan, then {SETTLE}")


def _band(uncertainty: float) -> Band:
    eased = GOOD_V + uncertainty <= BEARABLE_V
    return Band(
        what="beyond what is due",
        good=GOOD_V + uncertainty if eased else GOOD_V,
        bearable=BEARABLE_V,
        unit="V",
        mend="read millivolts across each joint under load; open, clean and tighten the worst",
        settle=SETTLE,
        eased=eased,
    )


def _said(found: MeasuredDrop, uncertainty: float, given: Mapping[str, Value]) -> Part:
    part = _band(uncertainty).part(found.excess_v, uncertainty)
    nominal = maybe(given, "nominal")
    percent = "" if nominal is None else f" = {short(100 * found.drop_at_rated_v / nominal)} %"
    lost = f"{short(found.drop_at_rated_v)} V lost at full load{percent}"
    if part.verdict is Verdict.PASS and found.excess_v <= 0:
        return replace(part, sentence=f"{lost}: no more than wire and parts should lose")
    return replace(part, sentence=f"{lost}; {part.sentence}")


def _finding(
    part: Part,
    found: MeasuredDrop | None = None,
    uncertainty: float | None = None,
    beside: tuple[str, ...] = (),
    given: Mapping[str, Value] | None = None,
) -> Finding:
    if found is None or given is None or uncertainty is None:
        return Finding(CHECK.name, part.verdict, part.sentence, remedy=part.remedy)
    nominal = maybe(given, "nominal")
    return Finding(
        CHECK.name,
        part.verdict,
        part.sentence,
        values={
            "drop_v": found.drop_v,
            "resistance_ohm": found.resistance_ohm,
            "ratio": found.ratio,
            "drop_at_rated_v": found.drop_at_rated_v,
            "drop_percent": None if nominal is None else 100 * found.drop_at_rated_v / nominal,
            "excess_v": found.excess_v,
            "excess_w": found.excess_w,
        },
        limits=(
            Limit("excess at rated current", "at most", GOOD_V + uncertainty, "V"),
            Limit("excess at rated current", "at most", BEARABLE_V, "V"),
        ),
        margin=GOOD_V + uncertainty - found.excess_v,
        uncertainty=uncertainty,
        conditions=(
            *beside,
            "all readings in the same minute",
            "the ratio is shown, not judged: it punishes better wire",
            _warm(given),
        ),
        sum_text=lambda: _sum(found, given, uncertainty),
        remedy=part.remedy,
    )


def _warm(given: Mapping[str, Value]) -> str:
    known = maybe(given, "wire_temperature")
    if known is not None:
        return f"metal of the wire at {short(known)} degC"
    return f"the wire may be cold, or as warm as {short(number(given, 'wire_hot'))} degC"


def _sum(found: MeasuredDrop, given: Mapping[str, Value], uncertainty: float) -> str:
    return (
        f"R = {short(found.drop_v)} V / {short(_judged_a(given))} A "
        f"= {short(1000 * found.resistance_ohm)} mohm; "
        f"predicted {short(1000 * _due_ohm(given))} mohm; ratio {short(found.ratio)}\n"
        f"excess ({short(1000 * found.resistance_ohm)} - {short(1000 * _due_ohm(given))}) mohm x "
        f"{short(number(given, 'rated'))} A = {short(found.excess_v)} V, give or take {short(uncertainty, 2)} V"
    )


CHECK = Check(
    name="measured-drop",
    rule="R18",
    title="drop of a run under load against its prediction",
    inputs=(
        Input("source", "V", "volts at the bank, under load", 0, 100, required=False, instrument="dmm_v", worse="more"),
        Input(
            "at_load",
            "V",
            "volts at the receptacle, the same minute",
            0,
            100,
            required=False,
            instrument="dmm_v",
            worse="less",
        ),
        Input("current", "A", "current at the same moment", 0.01, 2000, instrument="clamp", worse="less"),
        Input("rated", "A", "rated current of the load", 0.01, 2000),
        Input("predicted", "ohm", "loop resistance of the plan, at 29.3 degC", 0.000001, 100, worse="less"),
        Input("same_meter", "yes/no", "was one meter used for both volts", default=False),
        Input(
            "wire_temperature",
            "degC",
            "temperature of the wire's metal, if it was measured",
            -40,
            150,
            required=False,
            worse="less",
        ),
        Input(
            "wire_hot",
            "degC",
            "warmest that this load brings the metal to, where its temperature is not known; the plan says it",
            VERDICT_TEMPERATURE_C,
            250,
            default=WARMEST_C,
            worse="less",
        ),
        Input(
            "parts", "ohm", "breaker, plug and lugs, where predicted leaves them out", 0, 10, default=0.0, worse="less"
        ),
        Input(
            "offset",
            "V",
            "source meter less load meter, both on the bank at no load",
            -5,
            5,
            required=False,
            instrument="dmm_v",
        ),
        Input(
            "legs",
            "mV",
            "drop of each leg along a long lead, instead of two volts",
            0,
            20000,
            required=False,
            many=True,
            instrument="dmm_mv",
            worse="more",
        ),
        Input("nominal", "V", "nominal volts, for the percentage", 1, 100, required=False),
    ),
    judge=_judge,
    sources=(
        own_rule("excess 0.10 V + U and 0.20 V at rated current; from 0.4 of rated current"),
        practice("load of 40 % or more, as thermography asks"),
        UNCERTAINTY,
        GUARD_BAND,
    ),
    gives=(
        ("resistance_ohm", "resistance of the loop"),
        ("ratio", "measured over predicted"),
        ("excess_v", "volts over the prediction at rated current"),
        ("drop_at_rated_v", "the whole drop at rated current"),
    ),
    example=(
        "tugtest check measured-drop source=24.60V at_load=23.62V current=44A rated=48A "
        "predicted=0.0214ohm same_meter=yes"
    ),
)
