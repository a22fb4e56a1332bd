"""A row that asks one thing becomes an entry, and the limits that stand in it."""

import pytest

from engine.finding import Value, Verdict
from engine.procedure.model import Entry, Known, StepLimit
from engine.procedure.rows import USUAL
from engine.published.instruments import instrument, instrument_ids
from engine.quantity.units import kind_of
from engine.rules.registry import CHECK_NAMES, check
from tests.procedure.small import changed, loaded

FACT = 'fact.taps = { ask = "Are there taps", of = "yes/no" }'
READING = 'read.strip_length = { ask = "Bare length", mm = [0, 8, 20, 60], by = "cal" }'


def fact(row: str) -> Entry:
    """Return the fact of a row."""
    return loaded(changed(FACT, f"fact.taps = {{ {row} }}")).entry_by_id["taps"]


def reading(row: str) -> Entry:
    """Return the reading of a row."""
    return loaded(changed(READING, f"{READING}\nread.it = {{ {row} }}")).entry_by_id["it"]


def limits(row: str) -> list[StepLimit]:
    """Return the limits that stand in a row."""
    step = loaded(changed(READING, f"{READING}\nread.it = {{ {row} }}")).step_by_id["strip"]
    return [limit for limit in step.limits if limit.expression.names == {"it"}]


def verdict(row: str, value: Value) -> Verdict:
    """Return the worst verdict on a value: of the limits that it does not meet."""
    missed = [limit.otherwise for limit in limits(row) if limit.expression.holds({"it": value}) is False]
    return max(missed, key=lambda each: each.severity, default=Verdict.PASS)


@pytest.mark.parametrize(
    ("row", "hard", "likely"),
    [
        ("mm = [5, 10, 20, 40]", (0.005, 0.04), (0.01, 0.02)),
        ("m = [0.3, 15]", (0.3, 15.0), (0.3, 15.0)),
        ("degC = [-20, -20, 60, 60]", (-20.0, 60.0), (-20.0, 60.0)),
        ("count = [0, 0, 10, 3000]", (0.0, 3000.0), (0.0, 10.0)),
        ('"%" = [0, 100]', (0.0, 100.0), (0.0, 100.0)),
        ("ohm = [0, 1e6, 1e8, 1e8]", (0.0, 1e8), (1e6, 1e8)),
        ("in = [0, 10]", (0.0, 0.254), (0.0, 0.254)),
    ],
)
def test_ranges_stand_in_base_units(row: str, hard: tuple[float, float], likely: tuple[float, float]) -> None:
    """25.4 mm to the inch: international inch of 1959, as in NIST SP 811, appendix B.8."""
    entry = fact(f'ask = "x", {row}')
    assert (entry.hard, entry.likely) == (hard, likely)


@pytest.mark.parametrize(
    ("row", "unit"),
    [('"N m" = [0, 9]', "N m"), ("count = [0, 9]", ""), ('of = "words"', "words"), ('good = "yes"', "yes/no"),
     ('one_of = ["a", "b"]', "choice"), ('of = "pin map", positions = ["1"]', "pin map")],
)  # fmt: skip
def test_a_row_asks_what_its_one_kind_says(row: str, unit: str) -> None:
    assert fact(f'ask = "x", {row}').unit == unit


@pytest.mark.parametrize(
    ("row", "known"),
    [
        ("A = [0, 9]", Known.LABEL), ('of = "wire"', Known.LABEL), ("count = [0, 9]", Known.SEEN),
        ('of = "yes/no"', Known.SEEN), ('one_of = ["a", "b"]', Known.SEEN), ('of = "words"', Known.SEEN),
        ('m = [0, 9], by = "tape"', Known.MEASURED), ('A = [0, 9], known = "told"', Known.TOLD),
    ],
)  # fmt: skip
def test_how_a_fact_is_known_follows_from_what_it_asks(row: str, known: Known) -> None:
    assert fact(f'ask = "x", {row}').known is known


@pytest.mark.parametrize(
    ("row", "known", "by"),
    [
        ("V = [0, 9]", Known.MEASURED, "dmm_v"), ("mm = [0, 9]", Known.MEASURED, ""),
        ('mm = [0, 9], by = "tape"', Known.MEASURED, "tape"), ("count = [0, 9]", Known.SEEN, ""),
        ('A = [0, 9], known = "label"', Known.LABEL, ""), ('of = "wire"', Known.LABEL, ""),
        ("s = [0, 9]", Known.MEASURED, ""),
    ],
)  # fmt: skip
def test_a_reading_is_measured_with_the_usual_instrument_of_its_unit(row: str, known: Known, by: str) -> None:
    entry = reading(f'ask = "x", {row}')
    assert (entry.known, entry.instrument) == (known, by)


@pytest.mark.parametrize(("unit", "name"), USUAL.items())
def test_a_usual_instrument_measures_its_unit(unit: str, name: str) -> None:
    assert name in instrument_ids()
    assert instrument(name).unit in ("", kind_of(unit).value)


CHOICE = 'ask = "Behind", one_of = ["clear", "moved", "odd", "in the way"]'


@pytest.mark.parametrize(
    ("row", "verdicts"),
    [
        ('good = ["clear"]', "pass fail fail fail"),
        ('good = ["clear", "moved"]', "pass pass fail fail"),
        ('good = "clear"', "pass fail fail fail"),
        ('bad = ["in the way"]', "pass pass pass fail"),
        ('bearable = ["odd"]', "pass pass marginal pass"),
        ('good = ["clear"], bearable = ["moved"], doubtful = ["odd"]', "pass marginal undecided fail"),
        ('stop = ["in the way"], hands = "Out."', "pass pass pass fail"),
        ('good = ["clear"], stop = ["in the way"], hands = "Out."', "pass fail fail fail"),
    ],
)
def test_the_answers_of_a_choice_are_judged_in_its_row(row: str, verdicts: str) -> None:
    answers = ("clear", "moved", "odd", "in the way")
    assert [str(verdict(f"{CHOICE}, {row}", answer)) for answer in answers] == verdicts.split()


def test_each_answer_of_a_choice_misses_one_limit_at_most() -> None:
    row = f'{CHOICE}, good = ["clear"], bearable = ["moved"], stop = ["in the way"], hands = "Out."'
    for answer in ("clear", "moved", "odd", "in the way"):
        assert sum(limit.expression.holds({"it": answer}) is False for limit in limits(row)) <= 1


def test_what_stops_all_work_says_what_the_hands_do_and_no_other_limit_does() -> None:
    row = f'{CHOICE}, good = ["clear"], stop = ["in the way"], hands = "Drum off, out of the hole."'
    assert [limit.hands for limit in limits(row)] == ["Drum off, out of the hole.", ""]


@pytest.mark.parametrize(
    ("row", "good", "verdict_otherwise", "hands"),
    [
        ('good = "yes"', True, Verdict.FAIL, ""),
        ('good = "no"', False, Verdict.FAIL, ""),
        ('good = "yes", bearable = true', True, Verdict.MARGINAL, ""),
        ('good = "yes", doubtful = true', True, Verdict.UNDECIDED, ""),
        ('of = "yes/no", good = "no", stop = true, hands = "Off."', False, Verdict.FAIL, "Off."),
    ],
)
def test_yes_or_no_is_judged_in_its_row(row: str, good: bool, verdict_otherwise: Verdict, hands: str) -> None:
    (limit,) = limits(f'ask = "Off", {row}')
    assert [limit.expression.holds({"it": value}) for value in (good, not good)] == [True, False]
    assert (limit.otherwise, limit.hands) == (verdict_otherwise, hands)


@pytest.mark.parametrize(
    ("row", "held"),
    [
        ("least = 5", [False, True, True, True]),
        ("most = 20", [True, True, True, False]),
        ("least = 5, most = 20", [False, True, True, False]),
        ("least = 5, most = 20.0", [False, True, True, False]),
    ],
)
def test_a_number_is_judged_in_the_unit_of_its_row(row: str, held: list[bool]) -> None:
    (limit,) = limits(f'ask = "x", mm = [0, 60], {row}, says = "so"')
    assert [limit.expression.holds({"it": metres}) for metres in (0.0049, 0.005, 0.02, 0.0201)] == held


def test_a_number_below_zero_may_be_the_least() -> None:
    (limit,) = limits('ask = "x", degC = [-20, 60], least = -0.5, says = "so"')
    assert (limit.expression.holds({"it": -0.4}), limit.expression.holds({"it": -0.6})) == (True, False)


@pytest.mark.parametrize(
    ("row", "says"),
    [(f'{CHOICE}, good = ["clear", "moved"]', "Behind: clear or moved"), ('ask = "Off", good = "yes"', "Off: yes"),
     ('ask = "Off", good = "yes", says = "it is off"', "it is off")],
)  # fmt: skip
def test_a_limit_without_words_says_what_is_asked_and_what_is_good(row: str, says: str) -> None:
    assert limits(row)[0].says == says


def test_the_limits_of_rows_come_in_the_order_of_the_rows_before_those_that_are_written() -> None:
    found = loaded().step_by_id["strip"].limits
    assert [sorted(limit.expression.names) for limit in found] == [
        ["strands"], ["strands"], ["barrel_depth", "strip_length"]
    ]  # fmt: skip


def test_no_check_has_an_input_that_is_called_like_a_key_of_its_table() -> None:
    assert [name for name in CHECK_NAMES if {"when", "name"} & check(name).known.keys()] == []
