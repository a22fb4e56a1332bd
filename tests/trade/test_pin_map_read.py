"""A connector read each contact to each: what the readings mean."""

import math
from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.quantity.pin_map import read_pin_map as rows
from engine.trade.pin_map import PinMap, compare_rows, rows_of_ohms, rows_of_plan, straight_through
from engine.trade.ranges import OutOfRange

OPEN = math.inf
LEADS = 0.3


def held(ohms: Sequence[float], plan: Sequence[int], leads: float = LEADS) -> PinMap:
    """Return a connector read each contact to each, held against a plan by numbers."""
    return compare_rows(rows_of_ohms(ohms, len(plan)), rows_of_plan(plan), leads)


def matrix(reaches: list[int]) -> list[float]:
    """Return the readings of a connector whose contact i reaches ``reaches[i]``."""
    return [0.4 if far == reached else OPEN for reached in reaches for far in range(1, len(reaches) + 1)]


@given(st.permutations([1, 2, 3, 4, 5, 6, 7]))
def test_any_plan_that_is_kept_has_no_fault(plan: list[int]) -> None:
    # Source: a map equal to its plan is right, whatever the plan.
    found = held(matrix(plan), plan, LEADS)
    assert (found.open_pairs, found.joined_pairs, found.looks_like) == ((), (), "")


@given(st.permutations([1, 2, 3, 4, 5, 6, 7]))
def test_any_other_map_is_a_fault(reaches: list[int]) -> None:
    # Source: a map unlike its plan is wrong.
    found = held(matrix(reaches), straight_through(7), LEADS)
    assert bool(found.open_pairs) == (reaches != [1, 2, 3, 4, 5, 6, 7])


def test_two_contacts_swapped_are_named() -> None:
    # Common practice, no source: swapped ways are found before power.
    assert held(matrix([1, 3, 2]), (1, 2, 3), LEADS).looks_like == "contacts 2 and 3 swapped"


def test_mirror_image_is_named() -> None:
    # Source: common practice (quoted): face against wire side is the commonest wrong wiring.
    assert held(matrix([4, 3, 2, 1]), (1, 2, 3, 4), LEADS).looks_like.startswith("mirrored")


@pytest.mark.parametrize(("ohm", "is_open"), [(0.8, False), (0.81, True)])
def test_wanted_pair_may_have_half_an_ohm_above_the_leads(ohm: float, is_open: bool) -> None:
    # Source: common practice (quoted): 0.5 ohm above the leads, here 0.3 + 0.5.
    assert bool(held([ohm], (1,), LEADS).open_pairs) is is_open


@pytest.mark.parametrize(("ohm", "joined"), [(1_000_001, False), (1_000_000, True), (20_000, True)])
def test_other_pairs_must_be_over_a_megohm(ohm: float, joined: bool) -> None:
    # Source: common practice (quoted): over 1 Mohm.
    found = held([0.4, ohm, OPEN, 0.4], (1, 2), LEADS)
    assert found.joined_pairs == ((("1", "2"),) if joined else ())


def test_contact_that_must_stay_empty_reaches_nothing() -> None:
    # Source: plan 0 is a contact without a wire.
    found = held(matrix([1, 2, 3]), (1, 2, 0), LEADS)
    assert found.joined_pairs == (("3", "3"),)


@pytest.mark.parametrize(
    ("ohms", "plan", "leads", "sentence"),
    [
        ([0.4], (1, 2), LEADS, "ohms has 1 readings; 2 contacts need 4, row by row"),
        ([0.4], (2,), LEADS, "map is 2; it must be from 0 to 1"),
        ([0.4], (1,), 6, "leads is 6 ohm; it must be from 0 to 5 ohm"),
        ([-1], (1,), LEADS, "ohms is -1 ohm; it must be from 0 to 1e+12 ohm"),
    ],
)
def test_bad_input_is_refused(ohms, plan, leads, sentence) -> None:
    with pytest.raises(OutOfRange) as refused:
        held(ohms, plan, leads)
    assert str(refused.value) == sentence


@given(st.permutations(["a", "b", "c", "d", "e"]), st.permutations(["a", "b", "c", "d", "e"]))
def test_named_positions_are_judged_as_numbered_ones(plan: list[str], reaches: list[str]) -> None:
    # Source: a map by name and the same map by number say the same.
    named = compare_rows(rows(typed(reaches)), rows(typed(plan)), LEADS)
    numbers = {name: at for at, name in enumerate("abcde", start=1)}
    numbered = held(matrix([numbers[name] for name in reaches]), [numbers[name] for name in plan], LEADS)
    by_number = {(here, "abcde"[int(far) - 1]) for here, far in numbered.open_pairs}
    assert set(named.open_pairs) == by_number
    assert named.contacts == 5


def typed(reaches: list[str]) -> str:
    return " ".join(f"{here}-{far}" for here, far in enumerate(reaches, start=1))


@pytest.mark.parametrize(
    ("found", "open_pairs", "joined_pairs"),
    [
        ("1-1 2-2 3-3", (), ()),
        ("1-1 2-2 3-3 1-3", (), (("1", "3"),)),
        ("1-1 2-2=0.81 3-3", (("2", "2"),), ()),
        ("1-1 2-2=0.8 3-3", (), ()),
        ("1-1 2-2 3-3 1-2=1000001", (), ()),
        ("1-1 2-2 3-3 1-2=1000k", (), (("1", "2"),)),
        ("1-OL 2-2 3-3", (("1", "1"),), ()),
    ],
)
def test_a_typed_pair_is_judged_by_its_ohms(found: str, open_pairs: tuple, joined_pairs: tuple) -> None:
    # Source: common practice (quoted): 0.5 ohm above the leads, here 0.3 + 0.5; all others over 1 Mohm.
    read = compare_rows(rows(found), None, LEADS)
    assert (read.open_pairs, read.joined_pairs) == (open_pairs, joined_pairs)


def test_a_map_seen_from_the_other_side_is_named_whatever_the_far_ends_are_called() -> None:
    # Source: common practice (quoted): face against wire side is the commonest wrong wiring.
    plan = rows("1-left 2-right 3-ground 4-tail")
    assert compare_rows(rows("4-left 3-right 2-ground 1-tail"), plan, LEADS).looks_like.startswith("mirrored")


def test_map_and_plan_have_the_same_rows() -> None:
    with pytest.raises(OutOfRange, match=r"^the plan has no row for 3; each position measured must be in it$"):
        compare_rows(rows("1-1 2-2 3-3"), rows("1-1 2-2"), LEADS)
    with pytest.raises(OutOfRange, match=r"^the map has no row for 2; each position of the plan must be measured$"):
        compare_rows(rows("1-1"), rows("1-1 2-OL"), LEADS)


def test_numbered_far_ends_stand_in_the_order_of_their_numbers() -> None:
    # Common practice, no source: a plan that crosses two ways is mirrored as the plug stands, not as the plan lists it.
    plan = rows("1-2 2-1 3-3 4-4")
    assert compare_rows(rows("1-3 2-4 3-2 4-1"), plan, LEADS).looks_like.startswith("mirrored")
