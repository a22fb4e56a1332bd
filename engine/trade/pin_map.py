"""A connector measured contact by contact: what is open, what is joined that should not be, and how it was swapped."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from engine.quantity.pin_rows import Pair, PinRows
from engine.trade.ranges import OutOfRange, within

JOINED_OHM = 0.5
"""The most that a wanted pair may have above the meter's leads. Source: common practice (quoted)."""

APART_OHM = 1e6
"""The least between all others. Source: common practice (quoted)."""

MOST_CONTACTS = 40
"""Contacts that may be read each to each (project rule: 1,600 readings)."""

At = tuple[int, int]
"""A position at this end and one at the far end, by their places in order, counted from 1."""


@dataclass(frozen=True, slots=True)
class PinMap:
    """A connector held against its plan: the faults as pairs of named positions. ``contacts`` counts this end's."""

    contacts: int
    open_pairs: tuple[tuple[str, str], ...]
    joined_pairs: tuple[tuple[str, str], ...]
    looks_like: str


def straight_through(contacts: int) -> tuple[int, ...]:
    """Return the plan in which every contact goes to the same number.

    Args:
        contacts: Contacts of the connector [no unit], 1 to 40.

    Returns:
        For each contact of this end the contact of the far end.

    Raises:
        OutOfRange: if ``contacts`` lies outside its range.

    Source:
        The meaning of the words.

    Example:
        >>> straight_through(3)
        (1, 2, 3)
    """
    within("contacts", contacts, 1, MOST_CONTACTS)
    return tuple(range(1, contacts + 1))


def rows_of_ohms(ohms: Sequence[float], contacts: int) -> PinRows:
    """Return a connector that was measured each contact to each as a map of its numbered contacts.

    Args:
        ohms: Readings row by row: contact 1 to far 1, 2, ... n, then contact 2 [ohm]; infinite for over range.
        contacts: Contacts of either end [no unit], 1 to 40.

    Returns:
        The map, each pair that was not over range with its ohms.

    Raises:
        OutOfRange: if the count of readings is not the square of the contacts, or a number lies outside its range.

    Source:
        The meaning of the words.

    Example:
        >>> rows_of_ohms([math.inf, 0.4, 0.4, math.inf], 2).label
        '1-2=0.4 2-1=0.4'
    """
    within("contacts", contacts, 1, MOST_CONTACTS)
    if len(ohms) != contacts * contacts:
        raise OutOfRange(f"ohms has {len(ohms)} readings; {contacts} contacts need {contacts**2}, row by row")
    sizes = [_size("ohms", ohm) for ohm in ohms]
    names = tuple(str(contact) for contact in range(1, contacts + 1))
    read = ((names[at // contacts], names[at % contacts], ohm) for at, ohm in enumerate(sizes))
    return PinRows("", names, tuple(Pair(here, far, ohm) for here, far, ohm in read if ohm != math.inf))


def rows_of_plan(plan: Sequence[int]) -> PinRows:
    """Return a plan of numbered contacts as a map.

    Args:
        plan: For each contact the far contact that it should reach, 0 for none [no unit].

    Returns:
        The map.

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        The meaning of the words.

    Example:
        >>> rows_of_plan([2, 1, 0]).label
        '1-2 2-1 3-OL'
    """
    for far in plan:
        within("map", far, 0, len(plan))
    names = tuple(str(contact) for contact in range(1, len(plan) + 1))
    return PinRows("", names, tuple(Pair(here, str(far)) for here, far in zip(names, plan, strict=True) if far))


def compare_rows(found: PinRows, plan: PinRows | None, leads_ohm: float) -> PinMap:
    """Return what is wrong with a connector whose every pair was tried, and the joined ones named.

    Args:
        found: The map as measured; a pair without ohms was seen joined, a pair that is not named reads over range.
        plan: The map as it should be; each position to the one of its own name if left out.
        leads_ohm: What the meter shows with its leads together [ohm], 0 to 5.

    Returns:
        The faults by name, empty where the map is as planned.

    Raises:
        OutOfRange: if map and plan have not the same positions, or a number lies outside its range.

    Source:
        Wanted pairs at most 0.5 ohm above the leads, all others above 1 Mohm: common practice (quoted).

    Example:
        >>> from engine.quantity.pin_map import read_pin_map as rows
        >>> compare_rows(rows("1-2 2-1"), rows("1-1 2-2"), 0.3).looks_like
        'contacts 1 and 2 swapped'
    """
    within("leads", leads_ohm, 0, 5, "ohm")
    near = plan.near if plan else found.near
    _refuse_other_rows(found.near, near)
    pairs = plan.pairs if plan else [Pair(position, position) for position in near]
    far = _in_order({pair.far: None for pair in (*pairs, *found.pairs)})
    joined = {_at(pair, near, far) for pair in found.pairs if _is_joined(pair, leads_ohm)}
    unclear = {_at(pair, near, far) for pair in found.pairs if pair.ohm is not None and pair.ohm <= APART_OHM}
    wanted = {_at(pair, near, far) for pair in pairs}

    def named(pairs: set[At]) -> tuple[tuple[str, str], ...]:
        return tuple((near[here - 1], far[there - 1]) for here, there in sorted(pairs))

    against = (joined | unclear) - wanted
    return PinMap(len(near), named(wanted - joined), named(against), _looks_like(joined, wanted, near))


def _in_order(names: Iterable[str]) -> tuple[str, ...]:
    """Return the far positions in the order in which they stand: numbers by size, else as they were named."""
    listed = tuple(names)
    return tuple(sorted(listed, key=int)) if all(name.isdigit() for name in listed) else listed


def _refuse_other_rows(measured: Sequence[str], planned: Sequence[str]) -> None:
    for position in dict.fromkeys((*measured, *planned)):
        if position not in planned:
            raise OutOfRange(f"the plan has no row for {position}; each position measured must be in it")
        if position not in measured:
            raise OutOfRange(f"the map has no row for {position}; each position of the plan must be measured")


def _is_joined(pair: Pair, leads_ohm: float) -> bool:
    return pair.ohm is None or _size("ohms", pair.ohm) - leads_ohm <= JOINED_OHM


def _at(pair: Pair, near: Sequence[str], far: Sequence[str]) -> At:
    return near.index(pair.near) + 1, far.index(pair.far) + 1


def _size(name: str, ohm: float) -> float:
    if ohm == math.inf:
        return ohm
    return within(name, ohm, 0, 1e12, "ohm")


def _looks_like(joined: set[At], wanted: set[At], names: Sequence[str]) -> str:
    """Say in words how a wrong map came about, where it is one of the usual ways."""
    if joined == wanted:
        return ""
    moved = sorted(here for here, far in wanted if (here, far) not in joined)
    reached = sorted(joined - wanted)
    plan = dict(wanted)
    if len(moved) == 2 and len(reached) == 2:
        first, second = moved
        if set(reached) == {(first, plan[second]), (second, plan[first])}:
            return f"contacts {names[first - 1]} and {names[second - 1]} swapped"
    if joined in (_far_turned(wanted, len(names)), _near_turned(wanted, len(names))):
        return "mirrored: one end was seen from the face, the other from the wires"
    return ""


def _far_turned(wanted: set[At], count: int) -> set[At]:
    return {(here, count + 1 - far) for here, far in wanted}


def _near_turned(wanted: set[At], count: int) -> set[At]:
    return {(count + 1 - here, far) for here, far in wanted}
