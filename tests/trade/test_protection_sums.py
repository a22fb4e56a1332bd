"""Window, place and interrupting capacity of protection."""

import pytest

from engine.published.tables import table
from engine.trade.protection import (
    farthest_place_m,
    interrupting_a,
    next_size_up_a,
    standard_sizes_a,
    window,
)
from engine.trade.ranges import OutOfRange

CODE_SIZES = (15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300, 350, 400)
"""The first of NFPA 70 240.6(A), as quoted."""


def test_the_worked_window_holds_fifty_and_sixty() -> None:
    """48 A on 8 AWG of 80 A behind a 60 A receptacle: [48, min(120, 60)]."""
    found = window(48, 120, 60)
    assert (found.low_a, found.high_a, found.sizes_a) == (48, 60, (50, 60))


def test_only_sixty_has_the_reserve_for_hours() -> None:
    """1.25 x 48 A = 60 A; common practice, no source."""
    assert window(48, 120, 60).wanted_sizes_a == (60,)


def test_a_small_wire_ends_the_window_before_the_receptacle() -> None:
    """14 AWG of 35 A: 1.5 x 35 = 52.5 A."""
    assert window(30, 52.5, 60).high_a == 52.5


def test_a_part_below_the_load_leaves_no_window() -> None:
    found = window(48, 120, 30)
    assert found.empty
    assert found.sizes_a == ()


def test_the_list_holds_the_code_sizes() -> None:
    assert set(CODE_SIZES) <= set(standard_sizes_a())


def test_sizes_rise() -> None:
    assert list(standard_sizes_a()) == sorted(set(standard_sizes_a()))


@pytest.mark.parametrize(("amperes", "size"), [(48, 50), (50, 50), (50.1, 60), (0.4, 1), (7.1, 7.5)])
def test_the_next_size_is_never_below_the_current(amperes: float, size: float) -> None:
    assert next_size_up_a(amperes) == size


@pytest.mark.parametrize(
    ("sheathed", "at_battery", "needs_sheath", "inches"),
    [
        (False, False, True, 7),
        (True, False, True, 40),
        (False, True, True, 7),
        (True, True, True, 72),
        (False, True, False, 72),
        (True, False, False, 40),
    ],
)
def test_the_farthest_place_goes_by_sheath_and_battery(
    sheathed: bool, at_battery: bool, needs_sheath: bool, inches: float
) -> None:
    """33 CFR 183.455(b) and 183.460(a); ABYC E-11 as quoted for the sheath of the longest."""
    found = farthest_place_m(sheathed, at_battery, 7, 40, 72, needs_sheath)
    assert found == pytest.approx(inches * 0.0254)


@pytest.mark.parametrize(
    ("cranking", "main", "branch"),
    [(1, 1500, 750), (650, 1500, 750), (650.5, 3000, 1500), (800, 3000, 1500), (1100, 3000, 1500), (1101, 5000, 2500)],
)
def test_interrupting_capacity_is_the_printed_one(cranking: float, main: float, branch: float) -> None:
    """ABYC E-11 table V.A, as quoted."""
    assert (interrupting_a(cranking), interrupting_a(cranking, branch=True)) == (main, branch)


def test_a_large_bank_goes_by_its_makers_figure() -> None:
    """Newer practice as quoted: over 2200 cold-cranking amperes the maker's short-circuit rating."""
    with pytest.raises(OutOfRange, match="cca is 2300 A; it must be from 1 to 2200 A"):
        interrupting_a(2300)
    assert "2200 CCA" in str(table("interrupting", "large_bank").rows[1]["bank"])


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ((0, 80, 60), "load is 0 A; it must be from 0.001 to 10000 A"),
        ((48, -1, 60), "ceiling is -1 A; it must be from 0.001 to 20000 A"),
        ((48, 80, float("nan")), "device is nan A; it must be from 0.001 to 10000 A"),
    ],
)
def test_a_window_of_nonsense_is_refused(given: tuple[float, float, float], said: str) -> None:
    with pytest.raises(OutOfRange) as refused:
        window(*given)
    assert str(refused.value) == said
