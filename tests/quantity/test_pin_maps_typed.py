"""A pin map as typed: understood as every one of its pairs, or refused with a place and a sentence."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.quantity import Fault, PinRows, read_pin_map
from engine.quantity.pin_rows import LONGEST_MAP, MOST_ROWS

NEAR = ("1", "2", "3", "4")
FAR = ("left", "ground", "right", "reverse", "10", "1")


def understood(text: str, far: tuple[str, ...] = ()) -> str:
    found = read_pin_map(text, NEAR, far)
    assert isinstance(found, PinRows), found
    return found.label


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("1-1 2-2 3-3 4-4", "1-1 2-2 3-3 4-4"),
        ("1-1, 2-2, 3-3, 4-4", "1-1 2-2 3-3 4-4"),
        ("1 - 1,2-2  3-3 4-4 ", "1-1 2-2 3-3 4-4"),
        ("4-4 2-2 1-1 3-3", "1-1 2-2 3-3 4-4"),
        ("1-1 2-2 3-3 4-4 2-3", "1-1 2-2 2-3 3-3 4-4"),
        ("1-1 2-2 3-OL 4-4", "1-1 2-2 3-OL 4-4"),
        ("1-1 2-open 3-ol 4-0L", "1-1 2-OL 3-OL 4-OL"),
        ("1-1=0,4 2-2=0.40 3-3=.5 4-4=1.2k", "1-1=0.4 2-2=0.4 3-3=0.5 4-4=1200"),
        ("1-1 2-2 3-3 4-4 1-2=300 ohm 2-1=0.3 kohm", "1-1 1-2=300 2-2 2-1=300 3-3 4-4"),
        ("1\u22121 2\u20132 3-3 4-4", "1-1 2-2 3-3 4-4"),
    ],
)
def test_what_a_row_may_look_like(typed: str, kept: str) -> None:
    assert understood(typed) == kept


def test_far_ends_have_names_of_their_own_that_may_be_cut_short() -> None:
    assert understood("1-l 2-RI 3-g 4-10", FAR) == "1-left 2-right 3-ground 4-10"


def test_what_is_kept_reads_back_as_the_same_map() -> None:
    kept = understood("4-g 2-le 1-OL 3-rev=1.5k", FAR)
    assert understood(kept, FAR) == kept


@pytest.mark.parametrize(
    ("typed", "column", "sentence"),
    [
        ("", 0, "Nothing was typed: type a row for each position, such as 1-1."),
        ("1-1 9-2", 4, "There is no position 9 here: they are 1 to 4."),
        ("1-7", 2, "There is no position 7 here: they are 1 to 4."),
        ("1-1 2 2", 5, "After 2 a dash is wanted and what it reaches, such as 1-1."),
        ("1-1 2-", 6, "Here a position is wanted, such as in 1-1; type OL for nothing."),
        ("1-1 1-2 1-1", 8, "1 to 1 stands here twice: type each pair once."),
        ("1-OL 1-OL", 5, "Row 1 stands here twice: type what it reaches, or OL once."),
        ("1-1 1-OL", 4, "1 reaches 1 before this: type what it reaches, or OL once."),
        ("1-OL 1-1", 5, "1 reaches nothing before this: type what it reaches, or OL alone."),
        ("1-1 2-2 4-4", 11, "Row 3 is missing: type what 3 reaches, or 3-OL for nothing."),
        ("1-1", 3, "Rows 2 to 4 are missing: type what each reaches, or OL, such as 2-OL."),
        ("1-1;2-2", 3, "Here a row should end: part rows with a space, such as 1-1."),
        ("1-1 2-2=", 8, "After = the ohms are wanted, such as 2-2=300 or 1.2k."),
        ("1-1 2-2=-3", 8, "After = the ohms are wanted, such as 2-2=300 or 1.2k."),
        ("1-1=1,000", 4, "Does the comma mean 1.000 ohm or 1000 ohm? Type it without a comma."),
        ("1-1=4,2-2", 7, "Here a row should end: part rows with a space, such as 1-1."),
        ("1-1=OL", 3, "A pair that reads OL is left out; 1-OL if 1 reaches nothing."),
        ("1-1=3V", 5, "Here a row should end: part rows with a space, such as 1-1."),
    ],
)
def test_each_fault_has_its_place_and_one_sentence(typed: str, column: int, sentence: str) -> None:
    found = read_pin_map(typed, NEAR)
    assert isinstance(found, Fault)
    assert (found.column, found.sentence) == (column, sentence)


def test_a_word_that_two_positions_begin_with_is_asked_about() -> None:
    found = read_pin_map("1-r 2-OL 3-OL 4-OL", NEAR, FAR)
    assert isinstance(found, Fault)
    assert found.sentence == "r can be right or reverse: type more of it."


def test_a_number_is_never_cut_short() -> None:
    # 1 is a position of its own here, and 10 another; without 1 it stays unknown instead of becoming 10.
    assert understood("1-1 2-10 3-OL 4-OL", FAR) == "1-1 2-10 3-OL 4-OL"
    assert isinstance(read_pin_map("1-1", ("1",), ("10", "12")), Fault)


def test_a_map_off_a_sheet_has_no_ohms() -> None:
    found = read_pin_map("1-1 2-2=0.4 3-3 4-4", NEAR, measured=False)
    assert isinstance(found, Fault)
    assert (found.column, found.sentence) == (7, "Ohms belong to what is measured: type the pair alone, such as 2-2.")


def test_any_positions_may_be_named_where_none_are_asked() -> None:
    found = read_pin_map("pin-block 7-OL")
    assert isinstance(found, PinRows)
    assert (found.near, found.label) == (("pin", "7"), "pin-block 7-OL")


@given(st.text(max_size=3 * LONGEST_MAP))
def test_no_text_is_more_than_a_map_or_a_fault(text: str) -> None:
    found = read_pin_map(text, NEAR)
    if isinstance(found, Fault):
        assert 0 <= found.column <= len(found.raw)
        assert found.sentence.isprintable()


@given(st.text(alphabet="1234-=OLk., ;x", max_size=60))
def test_what_is_understood_names_each_position_and_reads_back(text: str) -> None:
    found = read_pin_map(text, NEAR)
    if isinstance(found, PinRows):
        assert found.near == NEAR
        assert understood(found.label) == found.label


PAIRS = st.sets(st.tuples(st.sampled_from(NEAR), st.sampled_from(NEAR)))


@given(PAIRS, st.randoms(use_true_random=False))
def test_exactly_the_pairs_that_are_typed_are_joined(pairs: set[tuple[str, str]], random) -> None:
    rows = [f"{near}-{far}" for near, far in pairs]
    rows += [f"{near}-OL" for near in NEAR if near not in {here for here, _ in pairs}]
    random.shuffle(rows)
    found = read_pin_map(" ".join(rows), NEAR)
    assert isinstance(found, PinRows)
    assert {(pair.near, pair.far) for pair in found.pairs} == pairs


def test_the_largest_map_with_all_its_ohms_fits() -> None:
    # The sum of the project rule: 16 rows with their ohms, and two pairs more.
    near = tuple(str(number) for number in range(1, MOST_ROWS + 1))
    text = " ".join([*(f"{name}-{name}=0.45" for name in near), "15-16=0.45", "16-15=0.45"])
    assert len(text) <= LONGEST_MAP
    assert isinstance(read_pin_map(text, near), PinRows)


def test_a_longer_text_is_refused_by_its_length() -> None:
    found = read_pin_map("1-1 " * 100_000, NEAR)
    assert isinstance(found, Fault)
    assert found.sentence == "This is 400000 characters long: type one reading, at most 200 characters."
