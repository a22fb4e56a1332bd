"""From what a person typed for a check to its inputs, and a check's own description; text in, text out."""

import re
from collections.abc import Mapping

from engine.finding import Value
from engine.nearest import near_word, nearest
from engine.quantity.amount import Amount, Fault, Question, WireSize
from engine.quantity.pin_map import read_pin_map
from engine.quantity.pin_rows import PIN_MAP, PinRows
from engine.quantity.read import read
from engine.rules.check import Check, Input
from engine.rules.registry import CHECK_NAMES, check

_YES, _NO = frozenset({"yes", "y", "true"}), frozenset({"no", "n", "false"})
_LABELLED = re.compile(r"\s*(?P<label>[^\W\d][\w /-]*?)\s*[=: ]\s*(?P<rest>[-+]?[\d.,].*)", re.DOTALL)


def from_text(asked: Check, typed: Mapping[str, str]) -> dict[str, Value] | list[str]:
    """Return the inputs of a check in base units, or one sentence for each entry that cannot be understood.

    Args:
        asked: The check.
        typed: Text by input name. Items of an input that takes several are parted by ``;``, and may carry a label:
            ``plug 60 A`` or ``plug=60 A``.

    Returns:
        The values by name [base units], or the sentences.

    Source:
        The units and ranges that the check declares.

    Example:
        >>> from_text(check("fuse-load"), {"load": "10 A", "fuse": "15"})
        {'load': 10.0, 'fuse': 15.0}
        >>> from_text(check("fuse-load"), {"lode": "10 A"})
        ['lode: fuse-load has no such input; did you mean "load"?']
    """
    known = {item.name: item for item in asked.inputs}
    given: dict[str, Value] = {}
    faults: list[str] = []
    for name, text in typed.items():
        if name not in known:
            faults.append(_unknown(asked, name))
            continue
        found = _entry(known[name], text)
        if isinstance(found, Fault):
            faults.append(f"{name}={text}: {found.sentence}")
        else:
            given[name] = found
    return faults or given


def describe(asked: Check) -> str:
    """Return a check's inputs with units, ranges and defaults, what it gives, its sources and an example.

    Args:
        asked: The check.

    Returns:
        Lines of plain text.

    Source:
        The check itself.

    Example:
        >>> describe(check("fuse-load")).splitlines()[0]
        'fuse-load: steady load on a fuse'
    """
    lines = [f"{asked.name}: {asked.title}", "", "Inputs"]
    wide = max(len(item.name) for item in asked.inputs)
    for item in asked.inputs:
        lines.append(f"  {item.name:<{wide}}  {_kind(item)}; {_presence(item)}")
        lines.append(f"  {'':<{wide}}  {item.says}")
    if asked.gives:
        lines += ["", "Gives"]
        wide = max(len(name) for name, _ in asked.gives)
        lines += [f"  {name:<{wide}}  {says}" for name, says in asked.gives]
    lines += ["", "Sources", *(f"  {source}" for source in asked.sources)]
    if asked.example:
        lines += ["", "Example", f"  {asked.example}"]
    return "\n".join(lines)


def listing() -> str:
    """Return every check's name and title, one a line.

    Returns:
        Lines of plain text.

    Source:
        The checks themselves.

    Example:
        >>> "fuse-load         steady load on a fuse" in listing().splitlines()
        True
    """
    wide = max(len(name) for name in CHECK_NAMES)
    return "\n".join(f"{name:<{wide}}  {check(name).title}" for name in CHECK_NAMES)


def _unknown(asked: Check, name: str) -> str:
    known = [item.name for item in asked.inputs]
    hint = nearest(name, known, f"it takes {', '.join(known)}")
    return f"{name}: {asked.name} has no such input; {hint}"


def _entry(item: Input, text: str) -> Value | Fault:
    if not item.many:
        return _single(item, text)
    found: list[Value] = []
    for part in text.split(";"):
        meant = _perhaps_labelled(item, part.strip())
        if isinstance(meant, Fault):
            return meant
        found.append(meant)
    return tuple(found)


def _perhaps_labelled(item: Input, text: str) -> Value | Fault:
    plain = _single(item, text)
    labelled = _LABELLED.fullmatch(text)
    if not isinstance(plain, Fault) or labelled is None:
        return plain
    rest = _single(item, labelled["rest"])
    return rest if isinstance(rest, Fault) else (labelled["label"], rest)


def _single(item: Input, text: str) -> Value | Fault:
    if item.unit == "yes/no":
        return _yes_no(text)
    if item.unit == "choice":
        return _choice(item, text)
    if item.unit == "words":
        return text.strip()
    if item.unit == PIN_MAP:
        rows = read_pin_map(text)
        return rows.label if isinstance(rows, PinRows) else rows
    meant = read(text, item.unit, over_range=item.over_range)
    if isinstance(meant, Amount):
        return meant.number
    if isinstance(meant, WireSize):
        return meant.label
    if isinstance(meant, Question):
        choices = " or ".join(shown for shown, _ in meant.choices)
        return Fault(text, f"{meant.sentence} Type it out: {choices}.")
    return meant


def _yes_no(text: str) -> Value | Fault:
    word = text.strip().casefold()
    if word in _YES | _NO:
        return word in _YES
    return Fault(text, "This is a question of yes or no: type yes or no.")


def _choice(item: Input, text: str) -> Value | Fault:
    word = text.strip().casefold()
    if word in item.choices:
        return word
    near = near_word(word, item.choices)
    hint = f" Did you mean {near}?" if near else ""
    return Fault(text, f"This must be one of {', '.join(item.choices)}.{hint}")


def _kind(item: Input) -> str:
    if item.unit == "choice":
        return f"one of {', '.join(item.choices)}"
    words = {
        "wire": "a wire size, such as 8 AWG, SAE 10 or 16 mm2",
        "yes/no": "yes or no",
        "words": "words",
        PIN_MAP: "a pin map, such as 1-1 2-2 2-5=300 3-OL",
        "": "count",
    }
    kind = words.get(item.unit, item.unit)
    several = ", several parted by ;" if item.many else ""
    return f"{kind}{_range(item)}{several}"


def _range(item: Input) -> str:
    if item.low is None or item.high is None:
        return ""
    return f", {item.low:g} to {item.high:g}"


def _presence(item: Input) -> str:
    if item.required:
        return "asked for"
    if item.default is None:
        return "may be left out"
    if isinstance(item.default, bool):
        return f"{'yes' if item.default else 'no'} if left out"
    return f"{item.default:g} if left out" if isinstance(item.default, int | float) else f"{item.default} if left out"
