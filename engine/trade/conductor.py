"""A conductor: from its marked size to its area, and from area and temperature to resistance."""

import math
from functools import cache

from engine.published.tables import NotPrinted, Row, number, table
from engine.trade.ranges import OutOfRange, within

COPPER_RESISTIVITY_OHM_MM2_PER_M = 1 / 58
"""Annealed copper at 20 degC. Source: IEC 60028, standard annealed copper (100 % IACS)."""

COPPER_COEFFICIENT_PER_K = 0.00393
"""Rise of copper's resistance from 20 degC. Source: IEC 60028."""

VERDICT_TEMPERATURE_C = 29.3
"""Copper temperature that the printed form CM = 10.75 I L / E stands for.

Source: worked by hand, 10.75 ohm cmil/ft = 0.017871 ohm mm2/m = (1/58)(1 + 0.00393 (T - 20)), so T = 29.3 degC.
"""

CIRCULAR_MIL_MM2 = math.pi / 4 * 0.0254**2
"""One circular mil [mm2]: a circle of 0.001 in = 0.0254 mm across. Source: its definition."""

MATERIALS = ("copper", "aluminium", "copper-clad aluminium")

PLAIN, TINNED, CLAD = CONDUCTORS = ("plain", "tinned", "copper-clad")
"""What the strands of a wire are, from good to bad: plain copper, tinned copper, copper-clad aluminium."""

FOOT_1000_M = 304.8
"""A thousand feet [m]. Source: 1 ft = 0.3048 m by definition."""

_COLDEST_C, _HOTTEST_C = -60.0, 300.0
_AWG_LEAST, _AWG_MOST = -3, 36


def awg_number(name: str) -> int:
    """Return an AWG name as the number that the formula takes.

    Args:
        name: The gauge as marked: ``8``, ``1/0``, ``4/0`` [no unit].

    Returns:
        The number: 8 for ``8``, 0 for ``1/0``, -3 for ``4/0``.

    Raises:
        OutOfRange: if it is not a gauge from 4/0 to 36.

    Source:
        ASTM B258.

    Example:
        >>> awg_number("4/0")
        -3
    """
    whole, slash, nought = name.partition("/")
    if slash and nought == "0" and whole in {"1", "2", "3", "4"}:
        return 1 - int(whole)
    if not slash and name.isdecimal() and 1 <= int(name) <= _AWG_MOST:
        return int(name)
    raise OutOfRange(f"size is {name} AWG; it must be from 36 AWG to 4/0 AWG")


def awg_diameter_mm(gauge: int) -> float:
    """Return the diameter of a solid AWG wire [mm].

    Args:
        gauge: The number of the gauge, 0 for 1/0, -3 for 4/0 [no unit], -3 to 36.

    Returns:
        Its diameter [mm].

    Raises:
        OutOfRange: if ``gauge`` is not from -3 to 36.

    Source:
        ASTM B258: d = 0.127 mm x 92^((36 - n) / 39).

    Example:
        >>> round(awg_diameter_mm(8), 3)
        3.264
    """
    within("gauge", gauge, _AWG_LEAST, _AWG_MOST)
    return 0.127 * math.pow(92, (36 - gauge) / 39)


def awg_area_mm2(gauge: int) -> float:
    """Return the area of an AWG wire [mm2].

    Args:
        gauge: The number of the gauge, 0 for 1/0, -3 for 4/0 [no unit], -3 to 36.

    Returns:
        Its area [mm2].

    Raises:
        OutOfRange: if ``gauge`` is not from -3 to 36.

    Source:
        ASTM B258.

    Example:
        >>> round(awg_area_mm2(8), 2)
        8.37
    """
    return math.pi / 4 * awg_diameter_mm(gauge) ** 2


@cache
def area_mm2(size: str) -> float:
    """Return the area of a conductor by its marked size [mm2].

    Args:
        size: Its label: ``8 AWG``, ``1/0 AWG``, ``SAE 10``, ``16 mm2`` [as marked].

    Returns:
        AWG by formula, SAE by its printed least area, mm2 as marked [mm2].

    Raises:
        OutOfRange: if the label is not such a size, or no area is printed for it.

    Source:
        ASTM B258; SAE J1127 / J1128 least areas; IEC 60228 nominal areas.

    Example:
        >>> [round(area_mm2(size), 2) for size in ("10 AWG", "SAE 10", "16 mm2")]
        [5.26, 4.73, 16.0]
    """
    if size.endswith(" AWG"):
        return awg_area_mm2(awg_number(size.removesuffix(" AWG")))
    if size.startswith("SAE "):
        return _sae_area_mm2(size.removeprefix("SAE "))
    if size.endswith(" mm2"):
        return _metric_area_mm2(size)
    raise OutOfRange(f'size is "{size}"; it must be a size such as "8 AWG", "SAE 10" or "16 mm2"')


def conductor_ohm_per_m(size: str, temperature_c: float, kind: str = PLAIN) -> float:
    """Return what one metre of a wire has by its marked size and the kind of its strands [ohm/m].

    Args:
        size: Its label: ``8 AWG``, ``SAE 10``, ``16 mm2`` [as marked].
        temperature_c: Temperature of the metal [degC], -60 to 300.
        kind: One of ``CONDUCTORS``.

    Returns:
        Its resistance for one metre of one conductor [ohm/m].

    Raises:
        OutOfRange: if the size or the kind is not known, or the temperature lies outside its range.

    Source:
        A metric size is defined by its largest resistance and its area is a name: IEC 60228, class 5, plain or tinned.
        AWG, SAE and an area that is no such name: solid copper of it, tinned with the share of NFPA 70 (NEC) chapter 9
        table 8, coated. Copper-clad aluminium: 62 % of copper's conductivity, from memory.

    Example:
        >>> [round(1000 * conductor_ohm_per_m("16 mm2", 20, kind), 3) for kind in ("plain", "tinned", "copper-clad")]
        [1.21, 1.24, 1.952]
        >>> round(conductor_ohm_per_m("10 AWG", 20, "tinned") / conductor_ohm_per_m("10 AWG", 20), 3)
        1.062
    """
    if kind not in CONDUCTORS:
        raise OutOfRange(f'conductor is "{kind}"; it must be one of {", ".join(CONDUCTORS)}')
    material = "copper-clad aluminium" if kind == CLAD else "copper"
    return _share(size, kind) * resistance_ohm_per_m(area_mm2(size), temperature_c, material)


def is_metric_name(size: str) -> bool:
    """Return whether a size is one that IEC 60228 names, and not an area that somebody measured."""
    return size.endswith(" mm2") and area_mm2(size) in _metric()


@cache
def _share(size: str, kind: str) -> float:
    """Return what a wire of that kind has over solid metal of its area [no unit]."""
    if is_metric_name(size):
        key = "class5_tinned_ohm_per_km" if kind == TINNED else "class5_plain_ohm_per_km"
        per_m = number(_metric()[area_mm2(size)], key) / 1000
        return per_m / resistance_ohm_per_m(area_mm2(size), 20)
    return _coated_share(area_mm2(size)) if kind == TINNED else 1.0


@cache
def _metric() -> dict[float, Row]:
    return {number(row, "area_mm2"): row for row in table("conductor_size", "iec_60228_20c").rows}


def _coated_share(wire_mm2: float) -> float:
    """Return coated strands over solid copper, by the nearest printed gauge that is not thicker."""
    rows = table("conductor_size", "nec_table8_75c").rows
    printed = {number(row, "area_circular_mil") * CIRCULAR_MIL_MM2: row for row in rows}
    nearest = max((area for area in printed if area <= 1.01 * wire_mm2), default=min(printed))
    per_m = number(printed[nearest], "coated_ohm_per_1000ft_75C") / FOOT_1000_M
    return per_m / resistance_ohm_per_m(nearest, 75)


def resistance_ohm_per_m(conductor_area_mm2: float, temperature_c: float, material: str = "copper") -> float:
    """Return the resistance of one metre of conductor [ohm/m].

    Args:
        conductor_area_mm2: Its area [mm2], above 0 to 1000.
        temperature_c: Temperature of the metal [degC], -60 to 300.
        material: ``copper``, ``aluminium`` or ``copper-clad aluminium``.

    Returns:
        Its resistance for one metre of one conductor [ohm/m].

    Raises:
        OutOfRange: if a number lies outside its range, or the material is not known.

    Source:
        IEC 60028: R = rho20 (1 + 0.00393 (T - 20)) / A. Aluminium: 61 % IACS, with 258.1 / (238.1 + T) of
        FAA AC 43.13-1B 11-66. Copper-clad aluminium: about 62 % of copper's conductivity, from memory.

    Example:
        >>> round(1000 * resistance_ohm_per_m(8.37, 20), 2)
        2.06
    """
    within("conductor_area_mm2", conductor_area_mm2, 0.001, 1000, "mm2")
    return resistivity_ohm_mm2_per_m(temperature_c, material) / conductor_area_mm2


def resistivity_ohm_mm2_per_m(temperature_c: float, material: str = "copper") -> float:
    """Return the resistivity of a conductor's metal [ohm mm2/m].

    Args:
        temperature_c: Temperature of the metal [degC], -60 to 300.
        material: ``copper``, ``aluminium`` or ``copper-clad aluminium``.

    Returns:
        The resistivity [ohm mm2/m].

    Raises:
        OutOfRange: if the temperature lies outside its range, or the material is not known.

    Source:
        As ``resistance_ohm_per_m``.

    Example:
        >>> round(resistivity_ohm_mm2_per_m(29.3), 6)
        0.017872
    """
    within("temperature_c", temperature_c, _COLDEST_C, _HOTTEST_C, "degC")
    if material == "copper":
        return COPPER_RESISTIVITY_OHM_MM2_PER_M * (1 + COPPER_COEFFICIENT_PER_K * (temperature_c - 20))
    if material not in MATERIALS:
        raise OutOfRange(f'material is "{material}"; it must be one of {", ".join(MATERIALS)}')
    conductivity = 0.61 if material == "aluminium" else 0.62
    return COPPER_RESISTIVITY_OHM_MM2_PER_M / conductivity * (238.1 + temperature_c) / 258.1


def copper_mass_kg(conductor_area_mm2: float, length_m: float) -> float:
    """Return the mass of copper in a length of conductor [kg].

    Args:
        conductor_area_mm2: Its area [mm2], above 0 to 1000.
        length_m: Length of conductor, out and back together [m], 0 to 10000.

    Returns:
        The mass of the bare copper [kg].

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        IEC 60028: standard annealed copper has 8.89 g/cm3 at 20 degC.

    Example:
        >>> round(copper_mass_kg(8.37, 10.4), 3)
        0.774
    """
    within("conductor_area_mm2", conductor_area_mm2, 0.001, 1000, "mm2")
    within("length_m", length_m, 0, 10000, "m")
    return 8.89e-3 * conductor_area_mm2 * length_m


def _sae_area_mm2(gauge: str) -> float:
    try:
        row = table("conductor_size", "sae_minimum_area").row(gauge=gauge)
    except NotPrinted as not_printed:
        raise OutOfRange(f"size is SAE {gauge}; no least area is printed for it, measure the strands") from not_printed
    return number(row, "sae_min_circular_mil") * CIRCULAR_MIL_MM2


def _metric_area_mm2(size: str) -> float:
    try:
        area = float(size.removesuffix(" mm2"))
    except ValueError:
        raise OutOfRange(f'size is "{size}"; it must be a size such as "8 AWG", "SAE 10" or "16 mm2"') from None
    return within("size", area, 0.05, 1000, "mm2")
