"""Words that an entry offers: which gaps they have, and how they are filled. Sources: project rules."""

import string

from hypothesis import given
from hypothesis import strategies as st

from engine.procedure.offer import filled, gaps

NAMES = st.text(string.ascii_lowercase + string.digits + "_", min_size=1, max_size=8).map(lambda name: f"n{name}")
WORDS = st.text(st.characters(exclude_characters="<>", exclude_categories=("Cs", "Cc")), min_size=1, max_size=20)


def test_a_clause_without_its_value_is_left_out() -> None:
    clauses = ["breaker <rating> at bank", "third wire <third>", "<date>"]
    assert filled(clauses, {"rating": "60 A", "date": "2 May 2026"}, 200) == "breaker 60 A at bank; 2 May 2026"


def test_an_empty_value_is_none() -> None:
    assert filled(["<rating>", "<date>"], {"rating": "", "date": "2 May 2026"}, 200) == "2 May 2026"


def test_a_clause_that_would_be_too_long_is_left_out_whole() -> None:
    assert filled(["ab", "<long>", "cd"], {"long": "x" * 200}, 10) == "ab; cd"


def test_nothing_to_say_is_nothing() -> None:
    assert filled(["<rating>"], {}, 200) == ""


def test_what_is_given_is_not_looked_through_for_gaps() -> None:
    assert filled(["<named>"], {"named": "<date>", "date": "2 May 2026"}, 200) == "<date>"


@given(st.dictionaries(NAMES, WORDS, min_size=1, max_size=6))
def test_every_gap_is_filled_with_its_own_value(words: dict[str, str]) -> None:
    clauses = [f"{name}=<{name}>" for name in words]
    assert gaps(clauses) == tuple(words)
    assert filled(clauses, words, 1000) == "; ".join(f"{name}={said}" for name, said in words.items())


@given(st.lists(st.text(max_size=30), max_size=8), st.integers(0, 60))
def test_no_text_of_a_file_makes_it_too_long(clauses: list[str], most: int) -> None:
    assert len(filled(clauses, dict.fromkeys(gaps(clauses), "v"), most)) <= most
