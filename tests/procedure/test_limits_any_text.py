"""Whatever text stands as a limit, it is read or refused by its own fault; what is read means the same in Python."""

from collections.abc import Mapping

from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from engine.procedure.limit import Expression, LimitFault, parse

UNITS = {"a": "V", "b": "V", "c": "A", "t": "degC", "n": "", "p": "%", "yes": "yes/no", "wire": "wire"}
SIGNS = [
    "and",
    "or",
    "not",
    "min",
    "max",
    "abs",
    "(",
    ")",
    ",",
    "+",
    "-",
    "*",
    "/",
    "<",
    "<=",
    ">",
    ">=",
    "==",
    "!=",
    "3",
    ".",
]
ODD = ["1 V", "2 A", "4 %", "5 degC", "6 K", '"yes"', '"8 AWG"', '"', "\x00", "\u202e", "９"]

numbers = st.floats(-1e6, 1e6, allow_nan=False)


def read_or_refused(text: str) -> Expression | LimitFault:
    """Any other exception fails the test."""
    try:
        return parse(text, UNITS)
    except LimitFault as refused:
        return refused


def sums(depth: int) -> st.SearchStrategy[str]:
    leaf = st.sampled_from(["a", "b", "1.5 V", "0.25 V"])
    if depth == 0:
        return leaf
    inner = sums(depth - 1)
    pairs = [st.builds(form.format, inner, inner) for form in ("({} + {})", "({} - {})", "min({}, {})", "max({}, {})")]
    ones = [st.builds(form.format, inner) for form in ("abs({})", "{} * 2", "{} / 4", "({} * 50 %)")]
    return st.one_of(leaf, *pairs, *ones)


def truths(depth: int) -> st.SearchStrategy[str]:
    signs = st.sampled_from(["<", "<=", ">", ">=", "==", "!="])
    leaf = st.builds("{} {} {}".format, sums(2), signs, sums(2))
    if depth == 0:
        return leaf
    inner = truths(depth - 1)
    pairs = [st.builds(form.format, inner, inner) for form in ("({} and {})", "({} or {})")]
    return st.one_of(leaf, *pairs, st.builds("not ({})".format, inner))


def python_of(text: str) -> str:
    return text.replace(" V", "").replace("50 %", "0.5")


@given(st.lists(st.sampled_from([*UNITS, *SIGNS, *ODD]), max_size=40).map(" ".join))
def test_words_of_limits_in_any_order_raise_nothing_but_the_own_fault(text: str) -> None:
    found = read_or_refused(text)
    assert isinstance(found, Expression) or 0 <= found.column <= len(text)


@given(st.text(max_size=250))
def test_any_text_raises_nothing_but_the_own_fault(text: str) -> None:
    found = read_or_refused(text)
    assert isinstance(found, Expression) or found.sentence.isprintable()


@given(st.text(alphabet="()-abs mintor>", max_size=200))
def test_deep_text_raises_nothing_but_the_own_fault(text: str) -> None:
    found = read_or_refused(text)
    assert isinstance(found, Expression) or 0 <= found.column <= len(text)


@settings(max_examples=300)
@example("(abs(a) * 50 %) <= (abs(a) + (a * 50 %))", -671089.3216002495, 0.0)
@given(truths(2), numbers, numbers)
def test_a_limit_means_what_the_same_text_means_in_python(text: str, a: float, b: float) -> None:
    """The oracle is Python's own arithmetic on the same text, evaluated in this test and nowhere in the program."""
    limit = read_or_refused(text)
    assume(isinstance(limit, Expression))
    oracle = eval(python_of(text), {"__builtins__": {}, "min": min, "max": max, "abs": abs}, {"a": a, "b": b})
    assert isinstance(limit, Expression)
    assert limit.holds({"a": a, "b": b}) is oracle


@given(truths(1), numbers, numbers)
def test_a_limit_is_said_with_any_values(text: str, a: float, b: float) -> None:
    limit = read_or_refused(text)
    assert isinstance(limit, LimitFault) or "None" not in limit.says({"a": a, "b": b})


@given(truths(1))
def test_reading_the_text_of_a_limit_again_gives_the_same_tree(text: str) -> None:
    limit = read_or_refused(text)
    assert isinstance(limit, LimitFault) or parse(limit.text, UNITS).tree == limit.tree


@given(truths(2), st.tuples(numbers, numbers), st.tuples(numbers, numbers), st.floats(0, 1), st.floats(0, 1))
def test_what_is_sure_over_ranges_is_so_for_every_value_in_them(
    text: str, first: tuple[float, float], second: tuple[float, float], at: float, too: float
) -> None:
    limit = read_or_refused(text)
    assume(isinstance(limit, Expression))
    assert isinstance(limit, Expression)
    ranges = {"a": (min(first), max(first)), "b": (min(second), max(second))}
    sure = limit.over(ranges)
    values = {"a": inside(ranges["a"], at), "b": inside(ranges["b"], too)}
    assert sure is None or limit.holds(values) is sure


def inside(span: tuple[float, float], share: float) -> float:
    return min(max(span[0] + (span[1] - span[0]) * share, span[0]), span[1])


VALUES = st.one_of(st.none(), st.floats(), st.booleans(), st.text(max_size=3))


@given(st.dictionaries(st.sampled_from(sorted(UNITS)), VALUES))
def test_any_values_give_yes_no_or_not_known(values: Mapping[str, float | bool | str | None]) -> None:
    limit = parse('(a - b) / c > 1 ohm or not (yes == "no") and t > 5 degC', UNITS)
    assert limit.holds(values) in (True, False, None)
