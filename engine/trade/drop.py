"""Voltage lost along one out-and-back run of a single size, at the printed form's temperature and hot."""

from dataclasses import dataclass

from engine.trade.ampacity import TABLE_AMBIENT_C, bundle_factor, in_table, table_allowable_a, working_temperature_c
from engine.trade.conductor import PLAIN, VERDICT_TEMPERATURE_C, conductor_ohm_per_m
from engine.trade.ranges import within

HOTTEST_SUM_C = 300.0
"""Above this the straight line of copper's resistance is no longer used: there is then no hot value."""


@dataclass(frozen=True, slots=True)
class RunDrop:
    """The drop of one run. ``hot_drop_v`` is None when the wire would be too hot for the sum."""

    drop_v: float
    loop_ohm: float
    hot_temperature_c: float
    hot_drop_v: float | None
    allowable_a: float | None


def run_drop(
    current_a: float,
    size: str,
    out_m: float,
    back_m: float,
    insulation_c: float = 105.0,
    ambient_c: float = TABLE_AMBIENT_C,
    loaded_conductors: float = 2,
    extra_ohm: float = 0.0,
    extra_hot_ohm: float | None = None,
    conductor: str = PLAIN,
) -> RunDrop:
    """Return the drop of one run at 29.3 degC and at the temperature that the load brings the wire to.

    Args:
        current_a: Steady load current [A], 0 to 100000.
        size: Label of the wire: ``8 AWG``, ``SAE 8``, ``10 mm2`` [as marked].
        out_m: Wire from source to load [m], 0 to 1000.
        back_m: Wire from load to source [m], 0 to 1000.
        insulation_c: Temperature rating printed on the jacket [degC], 60 to 250.
        ambient_c: Air around the wire [degC], -40 to 120.
        loaded_conductors: Loaded conductors in its bundle [count], 1 to 500.
        extra_ohm: Resistance of joints, devices and other wires in the run at 29.3 degC [ohm], 0 to 10.
        extra_hot_ohm: The same with the load on [ohm], 0 to 10; as cold if it is not known.
        conductor: What its strands are, one of ``conductor.CONDUCTORS``.

    Returns:
        The drop, the loop's resistance at 29.3 degC and the hot drop. A wire too small for table 5 is taken at its
        insulation's own temperature.

    Raises:
        OutOfRange: if a number lies outside its range or the size is not known.

    Source:
        Ohm's law over out and back; 29.3 degC is the copper of CM = 10.75 I L / E (ABYC E-11, as quoted). Worked by
        hand: 48 A x 2 x 5.2 m x 0.017872 / 8.37 mm2 = 1.066 V.

    Example:
        >>> found = run_drop(48, "8 AWG", 5.2, 5.2)
        >>> round(100 * found.drop_v / 24, 2), round(found.hot_temperature_c), round(100 * found.hot_drop_v / 24, 2)
        (4.44, 57, 4.91)
    """
    within("load", current_a, 0, 100000, "A")
    length_m = within("out", out_m, 0, 1000, "m") + within("back", back_m, 0, 1000, "m")
    within("extra", extra_ohm, 0, 10, "ohm")
    warm_ohm = extra_ohm if extra_hot_ohm is None else within("extra_hot", extra_hot_ohm, 0, 10, "ohm")
    loop_ohm = length_m * conductor_ohm_per_m(size, VERDICT_TEMPERATURE_C, conductor) + extra_ohm
    allowable_a, hot_c = _hot(current_a, size, insulation_c, ambient_c, loaded_conductors)
    hot_v = None
    if hot_c <= HOTTEST_SUM_C:
        hot_v = current_a * (length_m * conductor_ohm_per_m(size, hot_c, conductor) + warm_ohm)
    return RunDrop(current_a * loop_ohm, loop_ohm, hot_c, hot_v, allowable_a)


def _hot(
    current_a: float, size: str, insulation_c: float, ambient_c: float, loaded_conductors: float
) -> tuple[float | None, float]:
    if not in_table(size):
        return None, float(insulation_c)
    allowable_a = table_allowable_a(size, insulation_c) * bundle_factor(loaded_conductors)
    return allowable_a, working_temperature_c(current_a, allowable_a, insulation_c, ambient_c)
