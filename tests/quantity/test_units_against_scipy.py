"""Every unit factor against two outside tables, and that the unit library is loaded only for what the table lacks."""

import subprocess
import sys
from fractions import Fraction

import pytest
from pint import UnitRegistry
from scipy import constants

from engine.quantity import UNITS, Kind, UnknownUnit, from_base, kind_of, read, to_base
from engine.quantity.spellings import spellings
from engine.quantity.units import scale_of

INCH, POUND_FORCE = constants.inch, constants.lbf
FACTORS = {
    "mV": constants.milli,
    "mA": constants.milli,
    "uohm": constants.micro,
    "mohm": constants.milli,
    "kohm": constants.kilo,
    "Mohm": constants.mega,
    "mm": constants.milli,
    "cm": constants.centi,
    "in": INCH,
    "ft": constants.foot,
    "cN m": constants.centi,
    "kgf cm": constants.g * constants.centi,
    "lbf in": POUND_FORCE * INCH,
    "lbf ft": POUND_FORCE * constants.foot,
    "ozf in": POUND_FORCE / 16 * INCH,
    "kgf": constants.g,
    "lbf": POUND_FORCE,
    "ozf": POUND_FORCE / 16,
    "degF diff": constants.degree_Fahrenheit,
    "min": constants.minute,
    "h": constants.hour,
    "kW": constants.kilo,
    "mAh": constants.milli,
}
"""Factors to base units from scipy.constants, which takes them from CODATA and NIST SP 811."""

SAME_AS_BASE = {kind.value for kind in Kind}


@pytest.mark.parametrize(("unit", "factor"), FACTORS.items())
def test_a_factor_agrees_with_an_outside_table(unit, factor):
    assert to_base(1.0, unit) == pytest.approx(factor, rel=1e-14)


@pytest.mark.parametrize("fahrenheit", [-40.0, 0.0, 32.0, 70.0, 212.0])
def test_fahrenheit_agrees_with_an_outside_table(fahrenheit):
    outside = constants.convert_temperature(fahrenheit, "Fahrenheit", "Celsius")
    assert to_base(fahrenheit, "degF") == pytest.approx(float(outside), abs=1e-10)


LIBRARY = UnitRegistry(non_int_type=Fraction)
LIBRARY_NAMES = {
    "lbf in": "lbf*inch", "lbf ft": "lbf*foot", "ozf in": "ounce_force*inch", "kgf cm": "kgf*centimeter",
    "cN m": "centinewton*meter", "N m": "newton*meter", "ozf": "ounce_force", "degF diff": "delta_degF", "mm2": "mm**2",
    "%": "percent", "": "count", "Ah": "ampere_hour", "mAh": "milliampere_hour",
}  # fmt: skip
"""What the library calls a unit where that is not our name."""


@pytest.mark.parametrize("unit", UNITS)
def test_a_scale_is_exactly_that_of_the_unit_library(unit):
    """Its definitions follow NIST SP 811 and the SI Brochure; they are pint's own, none is of this program."""
    base = kind_of(unit).value
    mine, theirs = (LIBRARY_NAMES.get(name, name) for name in (unit, base))
    zero, one = (LIBRARY.Quantity(Fraction(n), LIBRARY.parse_units(mine)).to(theirs).magnitude for n in (0, 1))
    assert scale_of(unit) == (Fraction(one - zero), Fraction(zero))


def test_no_unit_is_left_without_an_outside_check():
    assert set(UNITS) == set(FACTORS) | SAME_AS_BASE | {"degF"}


@pytest.mark.parametrize("unit", UNITS)
def test_a_number_comes_back_from_base_units_as_it_went(unit):
    assert from_base(to_base(24.9, unit), unit) == pytest.approx(24.9, rel=1e-12)


@pytest.mark.parametrize("unit", [unit for unit in UNITS if unit])
def test_a_unit_name_of_ours_is_also_a_spelling(unit):
    assert read(f"5 {unit}", unit).unit == unit


@pytest.mark.parametrize("spelling", [s for s in spellings() if s not in ("'", "K", "degC", "degF")])
def test_a_spelling_is_understood_where_its_kind_is_asked(spelling):
    unit = spellings()[spelling]
    assert read(f"5 {spelling}", kind_of(unit).value).unit == unit


def test_an_unknown_unit_is_named():
    with pytest.raises(UnknownUnit, match="'cubit' is not a unit known here"):
        kind_of("cubit")


def test_infinity_stays_infinite():
    assert to_base(float("inf"), "mV") == float("inf")


def run(code):
    return subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.strip()


def test_importing_the_room_does_not_import_the_unit_library():
    assert run("import sys, engine.quantity; print('pint' in sys.modules)") == "False"


def test_no_unit_of_the_table_loads_the_unit_library():
    code = "import sys; from engine.quantity import UNITS, read, show; "
    code += "[show(read(f'+5 {unit}', unit).number, unit) for unit in UNITS]; "
    assert run(code + "print('pint' in sys.modules)") == "False"


def test_the_room_brings_no_screen_library():
    assert run("import sys, engine.quantity; print({'textual', 'rich'} & set(sys.modules))") == "set()"
