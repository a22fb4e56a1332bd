"""The names of all checks, and the way from a name to its check; a check's module is loaded when first asked for."""

from collections.abc import Mapping
from functools import cache
from importlib import import_module

from engine.finding import Finding, Value
from engine.nearest import nearest
from engine.rules.check import Check, Context

CHECK_NAMES: tuple[str, ...] = (
    "dead",
    "polarity",
    "bank",
    "ampacity",
    "voltage-drop",
    "protection-size",
    "protection-place",
    "protection-kind",
    "weakest-part",
    "true-size",
    "strands",
    "strip",
    "pull",
    "torque",
    "hole",
    "panel-fit",
    "wire-left",
    "measured-drop",
    "joint",
    "heat",
    "spare-end",
    "leak",
    "lamp",
    "fuse-load",
    "solar",
    "solar-wire",
    "pump",
    "pin-map",
    "sensor",
    "splice",
    "stud",
    "fault-current",
    "waited",
    "volts-at-load",
)


class UnknownCheck(LookupError):
    """No check has that name. The message names the nearest that there is."""


@cache
def check(name: str) -> Check:
    """Return the check of that name.

    Args:
        name: One of ``CHECK_NAMES``.

    Returns:
        The check; its module is loaded now if it was not yet.

    Raises:
        UnknownCheck: if there is none; names the nearest.

    Source:
        This project's list of checks.

    Example:
        >>> check("fuse-load").title
        'steady load on a fuse'
    """
    if name not in CHECK_NAMES:
        hint = nearest(name, CHECK_NAMES, f"there are {', '.join(CHECK_NAMES)}")
        raise UnknownCheck(f'there is no check "{name}"; {hint}')
    module = import_module(f"engine.rules.{name.replace('-', '_')}")
    found: Check = module.CHECK
    return found


def run(name: str, given: Mapping[str, Value], context: Context) -> Finding:
    """Return the finding of a check on some inputs.

    Args:
        name: One of ``CHECK_NAMES``.
        given: Its inputs by name [base units].
        context: The rule profile, and the accuracy of what was measured.

    Returns:
        The finding.

    Raises:
        UnknownCheck: if there is no such check.
        OutOfRange: if an input lies outside its range.

    Source:
        The check's own.

    Example:
        >>> from engine.published.profiles import profile
        >>> run("fuse-load", {"load": 10.0, "fuse": 15.0}, Context(profile())).sentence
        '10 A is 67 % of the 15 A fuse'
    """
    return check(name).run(given, context)


def at_once(name: str, given: Mapping[str, Value], context: Context) -> Finding | None:
    """Return the fail that one value alone decides, before the others are there, or None.

    Args:
        name: One of ``CHECK_NAMES``.
        given: The inputs that are there already, by name [base units]; a list may be short.
        context: The rule profile.

    Returns:
        A fail whose ``hands`` says what the hands do now, or None while nothing is decided. The whole judgement says
        the same once all inputs are there.

    Raises:
        UnknownCheck: if there is no such check.
        OutOfRange: if an unknown input is named.

    Source:
        The check's own.

    Example:
        >>> from engine.published.profiles import profile
        >>> found = at_once("dead", {"points": (11.9,)}, Context(profile()))
        >>> found.sentence if found else ""
        'a point reads 11.9 V: live, over 1 V'
    """
    return check(name).at_once(given, context)
