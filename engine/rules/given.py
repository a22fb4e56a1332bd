"""Typed access to a check's inputs: each takes the mapping of base-unit values and one name."""

from collections.abc import Mapping, Sequence

from engine.finding import Value
from engine.trade.ranges import OutOfRange


def number(given: Mapping[str, Value], name: str) -> float:
    """Return one input as a number in base units.

    Args:
        given: A check's inputs by name [base units].
        name: The input's name.

    Returns:
        The number [base unit].

    Raises:
        OutOfRange: if it is not a number.

    Source:
        The contract of a check's inputs.

    Example:
        >>> number({"load": 48}, "load")
        48.0
    """
    value = given[name]
    if type(value) is float:
        return value
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise OutOfRange(f"{name} is {value!r}; it must be a number")
    return float(value)


def maybe(given: Mapping[str, Value], name: str) -> float | None:
    """Return one input as a number in base units, or None if it was left out.

    Args:
        given: A check's inputs by name [base units].
        name: The input's name.

    Returns:
        The number, or None [base unit].

    Raises:
        OutOfRange: if it is there and not a number.

    Source:
        The contract of a check's inputs.

    Example:
        >>> maybe({"fitted": None}, "fitted") is None
        True
    """
    return None if given.get(name) is None else number(given, name)


def word(given: Mapping[str, Value], name: str) -> str:
    """Return one input as its word or label, empty if it was left out.

    Args:
        given: A check's inputs by name [base units].
        name: The input's name.

    Returns:
        The word.

    Source:
        The contract of a check's inputs.

    Example:
        >>> word({"size": "8 AWG"}, "size")
        '8 AWG'
    """
    value = given.get(name)
    return "" if value is None else str(value)


def flag(given: Mapping[str, Value], name: str) -> bool:
    """Return one yes/no input, False if it was left out.

    Args:
        given: A check's inputs by name [base units].
        name: The input's name.

    Returns:
        True for yes.

    Source:
        The contract of a check's inputs.

    Example:
        >>> flag({"sheathed": True}, "sheathed"), flag({}, "sheathed")
        (True, False)
    """
    return given.get(name) is True


def numbers(given: Mapping[str, Value], name: str) -> tuple[float, ...]:
    """Return an input that takes several numbers as a tuple, empty if it was left out.

    Args:
        given: A check's inputs by name [base units].
        name: The input's name.

    Returns:
        The numbers [base unit].

    Raises:
        OutOfRange: if an item is not a number.

    Source:
        The contract of a check's inputs.

    Example:
        >>> numbers({"volts": (12.4, 12.5)}, "volts")
        (12.4, 12.5)
    """
    value = given.get(name)
    if value is None:
        return ()
    items = value if isinstance(value, tuple) else (value,)
    return tuple(number({name: item}, name) for item in items)


def labelled(given: Mapping[str, Value], name: str) -> tuple[tuple[str, float], ...]:
    """Return an input whose items may carry a label as (label, number) pairs.

    Args:
        given: A check's inputs by name [base units].
        name: The input's name.

    Returns:
        The pairs; a label is empty if there is none [base unit].

    Raises:
        OutOfRange: if an item is neither a number nor a label with a number.

    Source:
        The contract of a check's inputs.

    Example:
        >>> labelled({"ratings": (("plug", 60.0), 70.0)}, "ratings")
        (('plug', 60.0), ('', 70.0))
    """
    value = given.get(name)
    if value is None:
        return ()
    items = value if isinstance(value, tuple) else (value,)
    return tuple(_pair(name, item) for item in items)


def label_of(named: Sequence[tuple[str, float]], value: float, otherwise: str = "") -> str:
    """Return the label of the first item that has a value.

    Args:
        named: Items with their labels, as ``labelled`` returns them [base unit].
        value: The value [the same unit].
        otherwise: What is returned if that item has no label.

    Returns:
        The label.

    Source:
        The contract of a check's inputs.

    Example:
        >>> label_of([("plug", 60.0), ("", 70.0)], 60.0), label_of([("", 70.0)], 70.0, "a part")
        ('plug', 'a part')
    """
    return next((label for label, number in named if number == value and label), otherwise)


def about(label: str, text: str) -> str:
    """Return a sentence with the label of what it is about before it, if there is one.

    Args:
        label: The label, empty for none.
        text: The sentence.

    Returns:
        Both.

    Source:
        This project's rule.

    Example:
        >>> about("plug", "60 A"), about("", "60 A")
        ('plug: 60 A', '60 A')
    """
    return f"{label}: {text}" if label else text


def _pair(name: str, item: Value) -> tuple[str, float]:
    if isinstance(item, tuple) and len(item) == 2:
        return str(item[0]), number({name: item[1]}, name)
    return "", number({name: item}, name)
