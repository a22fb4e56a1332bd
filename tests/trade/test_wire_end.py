"""Damaged strands and strip length of a wire end."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.trade.ranges import OutOfRange
from engine.trade.termination import StrandLimit, handbook_limit, share_percent, strip_window_m


@pytest.mark.parametrize(
    ("size", "strands", "nicked", "broken"),
    [
        ("24 AWG", 19, 2, 0),
        ("14 AWG", 19, 2, 0),
        ("12 AWG", 37, 4, 0),
        ("10 AWG", 37, 4, 0),
        ("8 AWG", 133, 6, 6),
        ("4 AWG", 133, 6, 6),
        ("2 AWG", 665, 6, 6),
        ("1 AWG", 817, 6, 6),
        ("1/0 AWG", 1045, 6, 6),
        ("2/0 AWG", 1330, 6, 6),
    ],
)
def test_handbook_row_at_both_ends(size: str, strands: int, nicked: int, broken: int) -> None:
    # Source: FAA AC 43.13-1B, table 11-13, page 11-62 (read).
    assert handbook_limit(size, strands) == StrandLimit(nicked, broken)


@pytest.mark.parametrize(
    ("size", "strands"), [("8 AWG", 168), ("14 AWG", 41), ("SAE 8", 133), ("10 mm2", 133), ("3/0 AWG", 1330)]
)
def test_handbook_has_no_row_for_other_makes(size: str, strands: int) -> None:
    # Source: FAA AC 43.13-1B, table 11-13: by size and strand count; nothing is put between.
    assert handbook_limit(size, strands) is None


def test_share_of_strands() -> None:
    # Source: worked by hand, 3 / 133 = 2.2556 %.
    assert share_percent(3, 133) == pytest.approx(2.2556, rel=1e-4)


@given(st.integers(1, 5000).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))))
def test_share_is_from_nothing_to_all(counts: tuple[int, int]) -> None:
    # Source: the meaning of a share.
    assert 0 <= share_percent(*counts) <= 100


def test_more_damaged_than_there_are_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"^damaged is 20; it must be from 0 to 19$"):
        share_percent(20, 19)


def test_strip_window_of_a_14_mm_terminal() -> None:
    # Source: this project's rule, depth - 1.5 to + 2 mm. Worked by hand: 12.5 to 16.0 mm.
    assert strip_window_m(0.014) == pytest.approx((0.0125, 0.016))


def test_depth_of_no_terminal_is_refused_in_millimetres() -> None:
    with pytest.raises(OutOfRange, match=r"^depth is 14000 mm; it must be from 2 to 100 mm$"):
        strip_window_m(14)
