"""The whole of 33 CFR 183.425 table 5 and its notes, typed out a second time from the regulation."""

import pytest

from engine.published.tables import number, table

INSULATIONS_C = (60, 75, 80, 90, 105, 125, 200)

ALLOWABLE_A = {
    "18": (10, 10, 15, 20, 20, 25, 25),
    "16": (15, 15, 20, 25, 25, 30, 35),
    "14": (20, 20, 25, 30, 35, 40, 45),
    "12": (25, 25, 35, 40, 45, 50, 55),
    "10": (40, 40, 50, 55, 60, 70, 70),
    "8": (55, 65, 70, 70, 80, 90, 100),
    "6": (80, 95, 100, 100, 120, 125, 135),
    "4": (105, 125, 130, 135, 160, 170, 180),
    "3": (120, 145, 150, 155, 180, 195, 210),
    "2": (140, 170, 175, 180, 210, 225, 240),
    "1": (165, 195, 210, 210, 245, 265, 280),
    "1/0": (195, 230, 245, 245, 285, 305, 325),
    "2/0": (225, 265, 285, 285, 330, 355, 370),
    "3/0": (260, 310, 330, 330, 385, 410, 430),
    "4/0": (300, 360, 385, 385, 445, 475, 510),
}


@pytest.mark.parametrize("awg", ALLOWABLE_A)
def test_a_row_holds_the_seven_printed_figures(awg: str) -> None:
    row = table("conductor_current", "table5").row(awg=awg)
    assert tuple(number(row, f"allowable_a_{c}C") for c in INSULATIONS_C) == ALLOWABLE_A[awg]


def test_the_table_has_no_other_row() -> None:
    assert table("conductor_current", "table5").column("awg") == tuple(ALLOWABLE_A)


def test_engine_space_factors_are_those_of_note_one() -> None:
    assert table("conductor_current", "engine_space").column("factor") == (0.58, 0.75, 0.78, 0.82, 0.85, 0.89, 1.0)


def test_the_engine_space_column_of_boat_cable_follows_from_note_one() -> None:
    """ABYC E-11 as quoted prints 0.85 x table 5 to the nearest ampere, a half going down."""
    for row in table("conductor_current", "practice_105c").rows:
        product = 0.85 * number(row, "outside_a")
        assert -0.5 <= product - number(row, "inside_engine_space_a") <= 0.5 + 1e-9


def test_boat_cable_of_105_degrees_is_the_column_of_the_regulation() -> None:
    for row in table("conductor_current", "practice_105c").rows:
        federal = table("conductor_current", "table5").row(awg=row["awg"])
        assert number(row, "outside_a") == number(federal, "allowable_a_105C")
