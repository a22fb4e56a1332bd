"""A hole, what covers it, and the room behind a panel; all sums worked by hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.trade.opening import least_overlap_m, panel_fit, screw_edge_spare_m
from engine.trade.ranges import OutOfRange

BODY = st.floats(0.02, 0.1)


def fit(**changed: float):
    lengths = {
        "panel_m": 0.006,
        "thread_m": 0.022,
        "nut_m": 0.010,
        "seal_m": 0.002,
        "pitch_m": 0.002,
        "depth_m": 0.120,
        "body_m": 0.070,
        "cable_m": 0.007,
    }
    return panel_fit(**(lengths | changed))


def test_overlap_with_the_body_pushed_aside() -> None:
    # Source: worked by hand: centred (70 - 62) / 2 = 4 mm, play (62 - 58) / 2 = 2 mm: 2 mm left.
    assert least_overlap_m(0.070, 0.062, 0.058) == pytest.approx(0.002)


@given(BODY, st.floats(0, 0.01), st.floats(0, 0.03))
def test_overlap_is_the_centred_one_less_the_play(body: float, play: float, rim: float) -> None:
    # Source: geometry: pushed to one side, a body moves by half its play.
    hole = body + play
    cover = hole + 2 * rim
    assert least_overlap_m(cover, hole, body) == pytest.approx(rim - play / 2, abs=1e-12)


@given(BODY, st.floats(0, 0.01), st.floats(0.0001, 0.01))
def test_a_larger_hole_never_bears_more(body: float, play: float, more: float) -> None:
    # Source: geometry.
    assert least_overlap_m(0.11, body + play + more, body) < least_overlap_m(0.11, body + play, body)


def test_length_typed_in_metres_is_refused_in_millimetres() -> None:
    with pytest.raises(OutOfRange, match=r"^hole is 62000 mm; it must be from 5 to 500 mm$"):
        least_overlap_m(0.070, 62, 0.058)


def test_screw_needs_one_and_a_half_diameters_to_the_edge() -> None:
    # Source: common practice (quoted): 1.5 diameters. 8 mm with a 4 mm screw leaves 2 mm.
    assert screw_edge_spare_m(0.008, 0.004) == pytest.approx(0.002)


def test_thread_left_beyond_nut_and_one_turn() -> None:
    # Source: worked by hand: 22 - 6 - 2 - 10 - 2 = 2 mm.
    assert fit().thread_spare_m == pytest.approx(0.002)


def test_five_cable_diameters_are_room_to_bend() -> None:
    # Source: this project's rule: 120 - 70 - 5 x 7 = 15 mm.
    assert fit().depth_spare_m == pytest.approx(0.015)


def test_makers_bend_radius_counts_where_it_is_larger() -> None:
    # Source: worked by hand: 120 - 70 - 50 = 0 mm.
    assert fit(bend_m=0.050).depth_spare_m == pytest.approx(0, abs=1e-12)


@given(st.floats(0.0005, 0.05))
def test_every_millimetre_of_panel_costs_a_millimetre_of_thread(panel: float) -> None:
    # Source: the sum is linear in the panel.
    assert fit(panel_m=panel).thread_spare_m == pytest.approx(0.008 - panel, abs=1e-12)


@pytest.mark.parametrize("name", ["panel", "thread", "nut", "seal", "pitch", "depth", "body", "cable", "bend"])
def test_each_length_has_its_range(name: str) -> None:
    with pytest.raises(OutOfRange, match=f"^{name} is 5000 mm; it must be from "):
        fit(**{f"{name}_m": 5.0})
