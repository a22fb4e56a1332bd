"""Whatever is pasted: no exception but ours, no work beyond the length of an ordinary entry."""

import string

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.quantity import UNITS, Amount, Fault, Question, Wanted, WireSize, read, several, show, slip

OUTCOMES = (Amount, WireSize, Fault, Question)
ASKED = st.sampled_from([*UNITS, "wire"])
ENTRY_LIKE = st.text(string.digits + " .,/+-'\"eEOLolmMVAWGSnfit#%°ΩµΩ²½\u2212\u2032;*^", max_size=44)
WORDS = [
    "AWG",
    "SAE",
    "in",
    "ft",
    "lbf",
    "mm2",
    "1/0",
    "5/16",
    "1,000",
    "OL",
    "-",
    "+",
    ";",
    " ",
    "12",
    ".",
    ",",
    "e",
    "mohm",
]
PUZZLED = st.lists(st.sampled_from(WORDS), max_size=12).map("".join)


HOSTILE = [
    "9**9**9**9", "9" * 10_000, "1." + "0" * 1_000_000 + " V", "\ud800", "\x00", "OL \u202e", "OL ;\u00b5,",
    "0/0", "--", "1/0", "0" * 40, "#" * 40, "\u0661/\u0662", "5\u0301", "1" * 39 + "e",
]  # fmt: skip


@given(st.one_of(st.text(), ENTRY_LIKE, PUZZLED), ASKED, st.booleans(), st.booleans())
def test_any_text_gives_one_of_four_outcomes(text, unit, over_range, signed):
    assert isinstance(read(text, unit, over_range=over_range, signed=signed), OUTCOMES)


@pytest.mark.parametrize("text", HOSTILE, ids=[ascii(text[:10]) for text in HOSTILE])
@pytest.mark.parametrize("unit", ["V", "in", "wire", ""])
def test_hostile_text_gives_one_of_four_outcomes(text, unit):
    assert isinstance(read(text, unit, over_range=True), OUTCOMES)


@given(st.one_of(st.text(), ENTRY_LIKE, PUZZLED), ASKED)
def test_a_fault_has_its_place_in_the_text_and_fits_two_lines(text, unit):
    fault = read(text, unit)
    if isinstance(fault, Fault):
        assert 0 <= fault.column <= len(fault.raw)
        assert fault.sentence.endswith(".")
        assert fault.sentence.isprintable()
        assert len(fault.sentence) <= 2 * 66
        assert "\n" not in fault.raw


@given(st.one_of(ENTRY_LIKE, PUZZLED), ASKED)
def test_an_understood_number_is_finite_and_its_text_is_kept(text, unit):
    meant = read(text, unit)
    if isinstance(meant, Amount):
        assert abs(meant.number) < 1e50
        assert meant.raw == text
        assert isinstance(show(meant.number, meant.unit, step=meant.step), str)


@given(st.one_of(ENTRY_LIKE, PUZZLED), st.sampled_from(UNITS))
def test_asking_about_a_slip_never_fails(text, unit):
    meant = read(text, unit)
    if isinstance(meant, Amount):
        assert slip(meant, (1, 2), (0, 10), unit) is None or meant.raw == text


@given(st.one_of(st.text(), ENTRY_LIKE, PUZZLED))
def test_any_line_gives_a_fault_or_all_its_readings(text):
    meant = several(text, "V", Wanted("wire"))
    assert isinstance(meant, Fault) or len(meant) == 2


class OnlyMeasured(str):
    """Text that may be measured and cut short, and nothing else."""

    def __iter__(self):
        raise AssertionError("the text was walked through")

    def _touched(self, *_):
        raise AssertionError("the text was worked on")

    strip = lstrip = translate = split = find = encode = isprintable = lower = casefold = _touched


@pytest.mark.parametrize("unit", ["V", "wire", ""])
def test_long_text_is_refused_by_its_length_before_anything_else(unit):
    fault = read(OnlyMeasured("9" * 1_000_000), unit)
    assert fault.sentence == "This is 1000000 characters long: type one reading, at most 40 characters."
    assert len(fault.raw) == 40


def test_a_long_line_is_refused_by_its_length_before_anything_else():
    assert len(several(OnlyMeasured("9;" * 500_000), "V", "V").raw) == 40


@pytest.mark.parametrize(
    "text", ["9" * 40, "1/" + "9" * 38, "1 " * 20, "-" * 40, "'" * 40, "1." * 20, "9**9**9**9", "(" * 40]
)
def test_the_longest_entries_that_are_looked_at_give_a_small_answer(text):
    meant = read(text, "in")
    assert isinstance(meant, OUTCOMES)
    assert len(repr(meant)) < 400
