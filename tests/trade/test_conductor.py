"""Areas and resistances of conductors against the printed wire tables."""

import math

import pytest
from scipy import constants

from engine.published.tables import number, table
from engine.trade.conductor import (
    CIRCULAR_MIL_MM2,
    VERDICT_TEMPERATURE_C,
    area_mm2,
    awg_area_mm2,
    awg_diameter_mm,
    awg_number,
    conductor_ohm_per_m,
    copper_mass_kg,
    resistance_ohm_per_m,
    resistivity_ohm_mm2_per_m,
)
from engine.trade.ranges import OutOfRange

OHM_PER_1000_FT = 1000 * constants.foot

SOLID = {
    "18": (40.3, 1624.3, 6.385),
    "14": (64.08, 4106.8, 2.525),
    "10": (101.9, 10381, 0.9989),
    "6": (162.0, 26250, 0.3951),
    "4": (204.3, 41742, 0.2485),
    "2": (257.6, 66373, 0.1563),
    "1": (289.3, 83694, 0.1239),
    "1/0": (324.9, 105530, 0.0983),
    "3/0": (409.6, 167810, 0.0618),
    "4/0": (460.0, 211600, 0.0490),
}
"""Diameter [mil], area [circular mil], ohm per 1000 ft at 20 degC. NBS Handbook 100, standard annealed copper."""

AWG_MM2_AND_MILLIOHM_PER_M = {
    "14 AWG": (2.08, 8.29),
    "10 AWG": (5.26, 3.28),
    "8 AWG": (8.37, 2.06),
    "6 AWG": (13.30, 1.30),
    "4 AWG": (21.15, 0.815),
    "2 AWG": (33.63, 0.513),
    "1/0 AWG": (53.5, 0.322),
    "2/0 AWG": (67.4, 0.256),
}
"""Worked by hand from the formula of ASTM B258 and IEC 60028."""


def step(printed: float) -> float:
    """Return half of the last printed digit, so that agreement means agreement in every printed digit."""
    text = f"{printed:.10f}".rstrip("0")
    return 0.5 * 10.0 ** -len(text.partition(".")[2]) * 1.001


@pytest.mark.parametrize("awg", SOLID)
def test_the_diameter_is_the_printed_one_to_its_last_digit(awg: str) -> None:
    assert awg_diameter_mm(awg_number(awg)) / 0.0254 == pytest.approx(SOLID[awg][0], abs=0.051)


@pytest.mark.parametrize("awg", SOLID)
def test_the_area_is_the_printed_one_to_five_figures(awg: str) -> None:
    """NBS Handbook 100 rounds areas to four or five figures; the widest rounding is half of ten circular mil."""
    assert area_mm2(f"{awg} AWG") / CIRCULAR_MIL_MM2 == pytest.approx(SOLID[awg][1], rel=2e-4)


@pytest.mark.parametrize("awg", SOLID)
def test_the_resistance_at_20_degrees_is_the_printed_one(awg: str) -> None:
    """NBS Handbook 100: three or four figures are printed."""
    found = resistance_ohm_per_m(area_mm2(f"{awg} AWG"), 20) * OHM_PER_1000_FT
    assert found == pytest.approx(SOLID[awg][2], rel=6e-4)


@pytest.mark.parametrize("size", AWG_MM2_AND_MILLIOHM_PER_M)
def test_a_size_has_its_worked_area_and_resistance(size: str) -> None:
    area, milliohm = AWG_MM2_AND_MILLIOHM_PER_M[size]
    assert area_mm2(size) == pytest.approx(area, abs=step(area) if area != 13.30 else 0.006)
    assert 1000 * resistance_ohm_per_m(area_mm2(size), 20) == pytest.approx(milliohm, abs=0.006)


@pytest.mark.parametrize(("awg", "printed"), [("14", 3.07), ("12", 1.93), ("10", 1.21), ("8", 0.764)])
def test_the_solid_figures_of_the_code_table_at_75_degrees_follow(awg: str, printed: float) -> None:
    """NFPA 70 chapter 9 table 8, solid, uncoated, ohm per 1000 ft."""
    found = resistance_ohm_per_m(area_mm2(f"{awg} AWG"), 75) * OHM_PER_1000_FT
    assert found == pytest.approx(printed, abs=0.006 if awg != "8" else 0.0006)


@pytest.mark.parametrize("row", table("conductor_size", "nec_table8_75c").rows, ids=lambda row: str(row["awg"]))
def test_stranding_and_tin_explain_the_code_table(row: dict[str, float]) -> None:
    """NFPA 70 chapter 9 table 8 at 75 degC: the lay of the strands adds 2 %, tin 3 to 9 % in all."""
    solid = resistance_ohm_per_m(area_mm2(f"{row['awg']} AWG"), 75) * OHM_PER_1000_FT
    assert number(row, "uncoated_ohm_per_1000ft_75C") / solid == pytest.approx(1.02, abs=0.006)
    assert 1.03 < number(row, "coated_ohm_per_1000ft_75C") / solid < 1.09


@pytest.mark.parametrize("row", table("conductor_size", "iec_60228_20c").rows, ids=lambda row: str(row["area_mm2"]))
def test_the_metric_standard_allows_more_than_the_nominal_area_gives(row: dict[str, float]) -> None:
    """IEC 60228 tables 2 and 3 limit the resistance: 4 to 16 % over 1/58 ohm mm2/m on the nominal area.

    The sizes are names; their copper may be less. A sum on the nominal area is the friendliest reading.
    """
    nominal = 1000 * resistance_ohm_per_m(number(row, "area_mm2"), 20)
    assert 1.04 < number(row, "class2_plain_ohm_per_km") / nominal < 1.13
    assert 1.10 < number(row, "class5_plain_ohm_per_km") / nominal < 1.16
    assert number(row, "class5_tinned_ohm_per_km") > number(row, "class5_plain_ohm_per_km")


def test_circular_mil_is_its_definition() -> None:
    assert math.pi / 4 * (constants.mil * 1000) ** 2 == pytest.approx(CIRCULAR_MIL_MM2, rel=1e-12)


def test_the_printed_form_of_boat_wiring_stands_for_copper_at_29_3_degrees() -> None:
    """CM = 10.75 I L / E, ABYC E-11 as quoted; 10.371 is the same at 20 degC (IEC 60028)."""
    ohm_cmil_per_ft = resistivity_ohm_mm2_per_m(VERDICT_TEMPERATURE_C) / CIRCULAR_MIL_MM2 * constants.foot
    at_20 = resistivity_ohm_mm2_per_m(20) / CIRCULAR_MIL_MM2 * constants.foot
    assert ohm_cmil_per_ft == pytest.approx(10.75, abs=0.005)
    assert at_20 == pytest.approx(10.371, abs=0.0005)


@pytest.mark.parametrize("celsius", [0, 20, 57, 75, 105])
def test_both_forms_of_the_temperature_rule_agree(celsius: float) -> None:
    """(234.5 + T) / 254.5 of FAA AC 43.13-1B against 1 + 0.00393 (T - 20): 0.01 %."""
    form = (234.5 + celsius) / 254.5
    assert resistivity_ohm_mm2_per_m(celsius) / resistivity_ohm_mm2_per_m(20) == pytest.approx(form, rel=1.2e-4)


@pytest.mark.parametrize(("gauge", "share"), [("10", 0.89), ("8", 0.88), ("6", 0.97), ("4", 0.89), ("2", 0.94)])
def test_automotive_sizes_are_smaller(gauge: str, share: float) -> None:
    """SAE J1127 / J1128 least areas as reprinted, over the nominal circular mils beside them."""
    row = table("conductor_size", "sae_minimum_area").row(gauge=gauge)
    assert number(row, "sae_min_circular_mil") / number(row, "awg_nominal_circular_mil") == pytest.approx(
        share, abs=0.006
    )
    assert area_mm2(f"SAE {gauge}") < area_mm2(f"{gauge} AWG")


def test_the_figure_eight_is_the_trap() -> None:
    """8 AWG is 8.37 mm2, while 6 AWG is 13.3 mm2 and 10 AWG 5.26 mm2."""
    assert abs(area_mm2("8 AWG") - 8) < 0.4
    assert area_mm2("6 AWG") > 2 * 6
    assert area_mm2("10 AWG") < 6


def test_aluminium_goes_by_the_handbooks_own_rule() -> None:
    """FAA AC 43.13-1B 11-66: L2 = 258.1 L1 / (238.1 + T2)."""
    ratio = resistivity_ohm_mm2_per_m(75, "aluminium") / resistivity_ohm_mm2_per_m(20, "aluminium")
    assert ratio == pytest.approx((238.1 + 75) / 258.1, rel=1e-12)


@pytest.mark.parametrize(
    ("size", "said"),
    [
        ("41 AWG", "size is 41 AWG; it must be from 36 AWG to 4/0 AWG"),
        ("5/0 AWG", "size is 5/0 AWG; it must be from 36 AWG to 4/0 AWG"),
        ("SAE 3", "size is SAE 3; no least area is printed for it, measure the strands"),
        ("2000 mm2", "size is 2000 mm2; it must be from 0.05 to 1000 mm2"),
        ("wide mm2", 'size is "wide mm2"; it must be a size such as "8 AWG", "SAE 10" or "16 mm2"'),
        ("thick", 'size is "thick"; it must be a size such as "8 AWG", "SAE 10" or "16 mm2"'),
    ],
)
def test_a_size_that_is_none_is_refused_in_a_sentence(size: str, said: str) -> None:
    with pytest.raises(OutOfRange) as refused:
        area_mm2(size)
    assert str(refused.value) == said


@pytest.mark.parametrize(
    ("area", "celsius", "metal", "said"),
    [
        (0, 20, "copper", "conductor_area_mm2 is 0 mm2; it must be from 0.001 to 1000 mm2"),
        (8, 301, "copper", "temperature_c is 301 degC; it must be from -60 to 300 degC"),
        (8, float("nan"), "copper", "temperature_c is nan degC; it must be from -60 to 300 degC"),
        (8, 20, "gold", 'material is "gold"; it must be one of copper, aluminium, copper-clad aluminium'),
    ],
)
def test_a_resistance_outside_its_range_is_refused(area: float, celsius: float, metal: str, said: str) -> None:
    with pytest.raises(OutOfRange) as refused:
        resistance_ohm_per_m(area, celsius, metal)
    assert str(refused.value) == said


def test_gauges_end_at_both_ends_of_the_formula() -> None:
    """ASTM B258: 36 AWG is 0.005 in, 4/0 is 0.46 in, by definition."""
    assert awg_diameter_mm(36) == pytest.approx(0.127, rel=1e-12)
    assert awg_diameter_mm(-3) == pytest.approx(11.684, rel=1e-12)
    for gauge in (-4, 37):
        with pytest.raises(OutOfRange):
            awg_area_mm2(gauge)


def test_copper_mass_is_area_times_length_times_density() -> None:
    """IEC 60028: 8.89 g/cm3; 10 mm2 over 100 m is 1000 cm3."""
    assert copper_mass_kg(10, 100) == pytest.approx(8.89)


IEC_5_PLAIN_TINNED = {"1.5 mm2": (13.3, 13.7), "6 mm2": (3.30, 3.39), "16 mm2": (1.21, 1.24), "50 mm2": (0.386, 0.393)}
"""Largest resistance at 20 degC [ohm/km], plain and tinned. IEC 60228, class 5, as cable makers' sheets print it."""


@pytest.mark.parametrize("size", IEC_5_PLAIN_TINNED)
def test_a_metric_size_has_its_printed_resistance_and_not_that_of_its_area(size: str) -> None:
    found = tuple(1000 * conductor_ohm_per_m(size, 20, kind) for kind in ("plain", "tinned"))
    assert found == pytest.approx(IEC_5_PLAIN_TINNED[size])
    assert found[0] > 1.1 * 1000 * resistance_ohm_per_m(area_mm2(size), 20)


COATED_75C = {"18": 8.45, "14": 3.26, "12": 2.05, "8": 0.809, "6": 0.510, "4": 0.321, "1/0": 0.127, "4/0": 0.0626}
"""Stranded, coated, at 75 degC [ohm per 1000 ft]. NFPA 70 (NEC) chapter 9 table 8, in a public reprint."""


@pytest.mark.parametrize("awg", COATED_75C)
def test_a_tinned_gauge_has_the_printed_resistance_of_coated_strands(awg: str) -> None:
    assert conductor_ohm_per_m(f"{awg} AWG", 75, "tinned") * OHM_PER_1000_FT == pytest.approx(
        COATED_75C[awg],
        rel=3e-3,  # the table rounds the area of 18 AWG to 1620 circular mils
    )


@pytest.mark.parametrize("row", table("aircraft_wire", "table_11_9").rows[3:], ids=lambda row: str(row["awg"]))
def test_tinned_wire_is_under_the_most_that_an_aircraft_wire_may_have(row) -> None:
    """FAA AC 43.13-1B, table 11-9: tin-plated wire at 20 degC, 16 to 4/0 (its thinner ones have more copper)."""
    most = number(row, "max_resistance_ohm_per_1000ft_20C") + 0.005
    assert conductor_ohm_per_m(f"{row['awg']} AWG", 20, "tinned") * OHM_PER_1000_FT <= most


def test_copper_clad_aluminium_has_1_6_times_the_resistance() -> None:
    """62 % of copper's conductivity: 1 / 0.62 = 1.61."""
    assert conductor_ohm_per_m("6 AWG", 20, "copper-clad") / conductor_ohm_per_m("6 AWG", 20) == pytest.approx(
        1.613, 1e-3
    )
