"""What to buy for a run: wire with the spare for another termination, lugs, heat-shrink tube."""

import math
from dataclasses import dataclass

from engine.trade.ranges import within
from engine.trade.reading import wire_length_m

REDO_M = 0.040
"""Wire that one more termination takes at an end. Source: common practice, no source."""

TUBE_PER_LUG_M = 0.040
"""Adhesive-lined tube over the barrel of a lug and some of the jacket. Source: common practice, no source."""

_ROUND_UP_M = 0.1


@dataclass(frozen=True, slots=True)
class Item:
    """One line of the list. ``unit`` is ``m`` or ``pieces``."""

    what: str
    amount: float
    unit: str


def wire_to_buy_m(run_m: float) -> float:
    """Return how much wire to buy for one conductor [m].

    Args:
        run_m: The way it lies, taped [m], 0 to 200.

    Returns:
        The run with 3 % for bends, and wire for one more termination at each end, up to the next 0.1 m; 0 for none [m].

    Raises:
        OutOfRange: if the run lies outside its range.

    Source:
        Common practice, no source. Worked by hand: 5.2 x 1.03 + 2 x 0.04 = 5.436, so 5.5 m.

    Example:
        >>> wire_to_buy_m(5.2)
        5.5
    """
    if within("run_m", run_m, 0, 200, "m") == 0:
        return 0.0
    wanted = wire_length_m(run_m) + 2 * REDO_M
    return round(math.ceil(wanted / _ROUND_UP_M - 1e-9) * _ROUND_UP_M, 1)


def what_to_buy(size: str, out_m: float, back_m: float, lugs: int = 4) -> tuple[Item, ...]:
    """Return the list for one new pair.

    Args:
        size: Label of the wire [as marked].
        out_m: Wire from source to load, taped [m], 0 to 200.
        back_m: Wire from load to source, taped [m], 0 to 200.
        lugs: Ring terminals: both posts, and both sides of the fuse or breaker [count], 0 to 50.

    Returns:
        One line an item, the wire first.

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        Common practice, no source.

    Example:
        >>> for item in what_to_buy("6 AWG", 5.2, 5.2):
        ...     print(f"{item.amount:g} {item.unit} {item.what}")
        5.5 m 6 AWG wire, red
        5.5 m 6 AWG wire, black or yellow
        4 pieces ring terminal for 6 AWG
        0.2 m adhesive-lined heat-shrink tube for 6 AWG
    """
    within("lugs", lugs, 0, 50)
    items = [
        Item(f"{size} wire, red", wire_to_buy_m(out_m), "m"),
        Item(f"{size} wire, black or yellow", wire_to_buy_m(back_m), "m"),
    ]
    if lugs:
        tube_m = round(math.ceil(lugs * TUBE_PER_LUG_M / _ROUND_UP_M - 1e-9) * _ROUND_UP_M, 1)
        items.append(Item(f"ring terminal for {size}", lugs, "pieces"))
        items.append(Item(f"adhesive-lined heat-shrink tube for {size}", tube_m, "m"))
    return tuple(items)
