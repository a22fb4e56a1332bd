"""A leak with everything off: a current in series, or a resistance between the poles."""

import math
from collections.abc import Mapping

from engine.finding import Finding, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import maybe, number
from engine.rules.measured import GUARD_BAND, practice, standard_u
from engine.rules.part import Band, Part
from engine.rules.say import short
from engine.trade.leak import CLEAN_A, CLEAN_OHM, NAMED_A, SMALL_OHM, SWITCHED_ON_OHM, unexplained_a
from engine.trade.reading import expanded

METER_A = 10.0
"""Current that the 10 A jack of a meter is fused for. Source: common practice."""

METER_OUT = (
    "Breaker or main switch off, then take the meter out of the circuit: its leads are made for 10 A. "
    "Go on with a clamp meter."
)
NAME_IT = "pull the fuses one by one until it falls; name the load, or mend the leak"


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    current, resistance = maybe(given, "current"), maybe(given, "resistance")
    if current is not None:
        return _by_current(abs(current), number(given, "named"), context)
    if resistance is not None:
        return _by_ohms(resistance, context)
    return Finding(CHECK.name, Verdict.MISSING, "not measured: current with all off, or ohms between the poles")


def _burns_meter(given: Mapping[str, Value]) -> Part | None:
    """Return the fail of a current that no meter in series is made for."""
    current = maybe(given, "current")
    if current is None or abs(current) < METER_A:
        return None
    text = f"{short(abs(current))} A with all off: a load is on or a wire is chafed through"
    return Part(Verdict.FAIL, text, NAME_IT, hands=METER_OUT)


CURRENT = Band(
    what="{} with all off that nobody named",
    good=1000 * CLEAN_A,
    bearable=1000 * NAMED_A,
    unit="mA",
    mend=NAME_IT,
)
OHMS = Band(
    what="{} between the poles",
    good=CLEAN_OHM,
    bearable=SMALL_OHM,
    unit="ohm",
    least=True,
    mend=NAME_IT,
    settle="dry the place, measure again",
)


def _by_current(current: float, named: float, context: Context) -> Finding:
    left = unexplained_a(current, named)
    uncertainty = expanded(standard_u("current", current, "dmm_ma", context))
    part = CURRENT.part(1000 * left, 1000 * uncertainty)
    if part.verdict is Verdict.PASS:
        known = f", {_ma(named)} mA of it named" if named else ""
        part = Part(part.verdict, f"{_ma(current)} mA with all off{known}: clean")
    return Finding(
        CHECK.name,
        part.verdict,
        part.sentence,
        values={"current_ma": 1000 * current, "unexplained_ma": 1000 * left},
        limits=CURRENT.limits,
        margin=1000 * (CLEAN_A - left),
        uncertainty=1000 * uncertainty,
        conditions=("main or all branches off; no load is started through the meter",),
        sum_text=lambda: (
            f"{_ma(current)} mA - named {_ma(named)} mA = {_ma(left)} mA, give or take {_ma(uncertainty, 2)} mA"
        ),
        remedy=part.remedy,
    )


def _by_ohms(resistance: float, context: Context) -> Finding:
    open_circuit = math.isinf(resistance)
    uncertainty = 0.0 if open_circuit else expanded(standard_u("resistance", resistance, "dmm_r", context))
    part = _ohms_said(resistance, uncertainty)
    return Finding(
        CHECK.name,
        part.verdict,
        part.sentence,
        values={"resistance_ohm": None if open_circuit else resistance, "over_range": open_circuit},
        limits=OHMS.limits,
        margin=None if open_circuit else resistance - CLEAN_OHM,
        uncertainty=uncertainty,
        conditions=("batteries off and loads unplugged: never ohms on a connected bank",),
        sum_text="over range" if open_circuit else f"{short(resistance)} ohm, give or take {short(uncertainty, 2)} ohm",
        remedy=part.remedy,
    )


def _ohms_said(resistance: float, uncertainty: float) -> Part:
    shown = "over range" if math.isinf(resistance) else f"{short(resistance)} ohm"
    if math.isinf(resistance):
        return Part(Verdict.PASS, f"{shown} between the poles: clean")
    if resistance + uncertainty < SWITCHED_ON_OHM:
        return Part(
            Verdict.FAIL, f"{shown} between the poles: something is switched on", "switch it off, measure again"
        )
    return OHMS.part(resistance, uncertainty)


def _ma(amperes: float, figures: int = 3) -> str:
    return short(1000 * amperes, figures)


CHECK = Check(
    name="leak",
    rule="R22",
    title="leak with everything switched off",
    inputs=(
        Input("current", "mA", "current in series, all off", -20000, 20000, required=False, instrument="dmm_ma"),
        Input(
            "resistance",
            "ohm",
            "ohms between the poles, batteries and loads off",
            0,
            required=False,
            over_range=True,
            instrument="dmm_r",
            worse="less",
        ),
        Input("named", "mA", "sum of the loads that are always on, each by name", 0, 20000, default=0.0, worse="less"),
    ),
    judge=_judge,
    danger=_burns_meter,
    sources=(practice("1 and 50 mA; 10 kohm, 1 kohm and 10 ohm"), GUARD_BAND),
    gives=(
        ("unexplained_ma", "current that no named load explains"),
        ("resistance_ohm", "resistance between the poles"),
    ),
    example="tugtest check leak current=0.4mA",
)
