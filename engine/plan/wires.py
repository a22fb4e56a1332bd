"""Sizes of wire for the segments of a run: what each costs and has, cold and hot, and the cheapest for all together."""

import math
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from heapq import nsmallest
from itertools import accumulate, pairwise

from engine.plan.circuit import Part
from engine.plan.judged import hot_ohm, wire_run
from engine.published.tables import table
from engine.trade.ampacity import table_sizes
from engine.trade.conductor import area_mm2

HARDLY_SOLD = ("3 AWG", "5 AWG")
"""Sizes that few shops carry. Source: common practice, no source."""


AT_ONCE = 10
"""Sets of sizes that are carried on in the search for a near one [count]; a project rule."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One size for one wire: its price [mm2 m of copper, 0 for the size that is there], and its resistance [ohm]."""

    wire: Part
    price: float
    cold_ohm: float
    hot_ohm: float


@cache
def sizes_like(label: str) -> tuple[str, ...]:
    """Return the printed sizes of the same system as ``label``, small to large."""
    if label.endswith("mm2"):
        return tuple(f"{area:g} mm2" for area in table("conductor_size", "iec_60228_20c").column("area_mm2"))
    if label.startswith("SAE"):
        return tuple(f"SAE {gauge}" for gauge in table("conductor_size", "sae_minimum_area").column("gauge"))
    return table_sizes()


@cache
def larger_sizes(label: str) -> tuple[str, ...]:
    """Return the listed sizes of the same system that have more copper, small to large."""
    return tuple(size for size in sizes_like(label) if area_mm2(size) > area_mm2(label) * (1 + 1e-9))


def copper(wire: Part) -> float:
    """Return the copper of a wire there and back [mm2 m], by which its price is told."""
    return area_mm2(wire.word("size")) * ((wire.number("out") or 0.0) + (wire.number("back") or 0.0))


def choices(wire: Part, load_a: float) -> list[Choice]:
    """Return what a wire may become: as it is, and every larger size."""
    found = []
    for size in (wire.word("size"), *larger_sizes(wire.word("size"))):
        changed = wire.changed(size=size)
        run = wire_run(changed, load_a)
        if run is not None:
            price = copper(changed) if size != wire.word("size") else 0.0
            found.append(Choice(changed, price, run.loop_ohm, hot_ohm(run)))
    return found


def cheapest_of(segments: Sequence[Sequence[Choice]], cold_ohm: float, hot_ohm: float) -> tuple[Choice, ...] | None:
    """Return the choice for each segment that costs the least and has at most so much resistance, None if none has.

    By each limit alone first; only if neither answer keeps the other limit as well are both looked at together.

    Args:
        segments: The choices of each segment.
        cold_ohm: The most that all may have together at 29.3 degC [ohm], infinite for no limit.
        hot_ohm: The most with the load on [ohm].
    """
    if not all(segments):
        return None
    cold = [[(c.price, c.cold_ohm, c.hot_ohm) for c in segment] for segment in segments]
    hot = [[(c.price, c.hot_ohm, c.cold_ohm) for c in segment] for segment in segments]
    for figures, limits in ((hot, (hot_ohm, math.inf)), (cold, (cold_ohm, math.inf)), (hot, (hot_ohm, cold_ohm))):
        taken = _least(figures, *limits)
        if taken is None:
            return None
        chosen = [segment[place] for segment, place in zip(segments, taken, strict=True)]
        if sum(c.cold_ohm for c in chosen) <= cold_ohm and sum(c.hot_ohm for c in chosen) <= hot_ohm:
            return tuple(chosen)
    return None


_Figures = Sequence[Sequence[tuple[float, float, float]]]
"""For each choice of each segment: its price, and its resistance by the limit looked at and by the other."""


def _least(figures: _Figures, most: float, other: float) -> tuple[int, ...] | None:
    """Return the cheapest set by the places of its choices: a near one first, then what may be cheaper than that."""
    order = sorted(range(len(figures)), key=lambda at: -max(figures[at])[0])
    dearest_first = [figures[at] for at in order]
    near = _grown(dearest_first, (most, other, math.inf), AT_ONCE)
    best = _grown(dearest_first, (most, other, near[0][0]), None) if near else near
    return tuple(place for _, place in sorted(zip(order, best[0][3], strict=True))) if best else None


_Set = tuple[float, float, float, tuple[int, ...], float]


def _grown(figures: _Figures, limits: tuple[float, float, float], kept: int | None) -> list[_Set]:
    """Return sets with price, both resistances, places and the least price of the whole, segment by segment.

    What is dearer and has no less resistance than another set is dropped, and what can not become as cheap as the price
    that is known to do; of what is left the most promising are ``kept``, or all.
    """
    most, other, known_price = limits
    sets: list[_Set] = [(0.0, 0.0, 0.0, (), 0.0)]
    for at, segment in enumerate(figures):
        rest = _Bound(figures[at + 1 :])
        left = other - sum(min(choice[2] for choice in later) for later in figures[at + 1 :])
        grown = [
            (price + more, ohm + own, second + beside, (*taken, place), bound)
            for price, ohm, second, taken, _ in sets
            for place, (more, own, beside) in enumerate(segment)
            if second + beside <= left
            and (bound := price + more + rest.price(most - ohm - own)) <= known_price * (1 + 1e-9)
            and bound < math.inf
        ]
        sets = []
        for each in sorted(grown):
            if not sets or each[1] < sets[-1][1] or (other < math.inf and each[2] < sets[-1][2]):
                sets.append(each)
        if kept is not None:
            sets = sorted(nsmallest(kept, sets, key=lambda each: each[4]))
    return sets


class _Bound:
    """The least price for which some segments together stay under a resistance, mixtures of two sizes allowed."""

    def __init__(self, figures: _Figures) -> None:
        free = [min(segment) for segment in figures]
        self._ohm = sum(choice[1] for choice in free)
        self._base = sum(choice[0] for choice in free)
        steps = sorted((step for segment in figures for step in _hull(segment)), key=lambda step: step[1] / step[0])
        self._saved = list(accumulate((ohm for ohm, _ in steps), initial=0.0))
        self._paid = list(accumulate((price for _, price in steps), initial=0.0))

    def price(self, ohm: float) -> float:
        """Return that price, infinite if no size is large enough."""
        wanted = self._ohm - ohm
        if wanted <= 0:
            return self._base
        at = bisect_left(self._saved, wanted * (1 - 1e-9))
        if at == len(self._saved):
            return math.inf
        part = (wanted - self._saved[at - 1]) / (self._saved[at] - self._saved[at - 1])
        return self._base + self._paid[at - 1] + min(part, 1.0) * (self._paid[at] - self._paid[at - 1])


def _hull(segment: Sequence[tuple[float, float, float]]) -> list[tuple[float, float]]:
    """Return the steps from the cheapest choice down in resistance, ohm saved and price paid, ever dearer an ohm."""
    hull: list[tuple[float, float]] = []
    for price, ohm, _ in sorted(segment):
        if hull and ohm >= hull[-1][0]:
            continue
        while len(hull) > 1 and _slope(hull[-2], hull[-1]) >= _slope(hull[-2], (ohm, price)):
            hull.pop()
        hull.append((ohm, price))
    return [(a[0] - b[0], b[1] - a[1]) for a, b in pairwise(hull)]


def _slope(one: tuple[float, float], other: tuple[float, float]) -> float:
    return (other[1] - one[1]) / (one[0] - other[0])
