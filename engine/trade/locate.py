"""Where the extra resistance of a run is, as far as the readings can tell, and which reading would tell more."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from engine.trade.ranges import OutOfRange, above_zero, within
from engine.trade.reading import combined, expanded, quotient

LIKELY = {"joint": 4.0, "device": 2.0, "wire": 1.0, "bank": 1.0}
"""How much likelier the extra resistance sits in one kind of part than in a wire.

Source: this project's rule; common practice has a joint before the wire.
"""


@dataclass(frozen=True, slots=True)
class LoopPart:
    """One part of the loop, in the order of the current. ``leg`` is ``bank``, ``out`` or ``back``."""

    name: str
    kind: str
    leg: str
    predicted_ohm: float


@dataclass(frozen=True, slots=True)
class Across:
    """One drop that was read across some parts together [V], with its standard uncertainty [V]."""

    parts: frozenset[str]
    drop_v: float
    u_v: float


@dataclass(frozen=True, slots=True)
class Stretch:
    """Parts that the readings cannot tell apart, and what they have over their prediction.

    ``excess_v`` and ``excess_w`` are at rated current; ``uncertainty_ohm`` and ``uncertainty_v`` are U, k = 2.
    """

    parts: tuple[str, ...]
    measured_ohm: float
    predicted_ohm: float
    excess_ohm: float
    uncertainty_ohm: float
    excess_v: float
    uncertainty_v: float
    excess_w: float

    @property
    def stands_out(self) -> bool:
        """True if the excess is larger than its uncertainty."""
        return self.excess_ohm > self.uncertainty_ohm


@dataclass(frozen=True, slots=True)
class Located:
    """What the readings tell. ``suspect`` has the largest excess that stands out; ``next_across`` may be empty."""

    stretches: tuple[Stretch, ...]
    unread: tuple[str, ...]
    suspect: Stretch | None
    next_across: tuple[str, ...]


def locate(
    parts: Sequence[LoopPart], readings: Sequence[Across], current_a: float, current_u_a: float, rated_a: float
) -> Located:
    """Return where the extra resistance is.

    Args:
        parts: The loop in the order of the current, names unlike each other; predicted resistance [ohm].
        readings: Drops under load, each across one part or several [V]. Two of them must be one inside the other or
            have no part in common.
        current_a: Current at the same minute [A], above 0 to 2000.
        current_u_a: Its standard uncertainty [A], zero or above.
        rated_a: Rated current of the load [A], above 0 to 2000.

    Returns:
        Each stretch that the readings can tell apart, with its excess over the prediction; the parts in no reading;
        the suspect; and the parts across which one further reading would tell most.

    Raises:
        OutOfRange: if a reading names an unknown part, two readings overlap in part, or a number is out of range.

    Source:
        Ohm's law and Kirchhoff's law of volts; uncertainty as JCGM 100:2008, 5.1.2. The further reading halves what
        is still in doubt. Worked by hand: run 1.10 V, contact 2 in it 0.20 V, 44 A: contact 2 has 4.55 mohm where
        0.5 was due, excess 4.05 mohm = 0.194 V and 9.3 W at 48 A.

    Example:
        >>> loop = [LoopPart("wire", "wire", "out", 0.0205), LoopPart("contact 2", "joint", "out", 0.0005)]
        >>> run = Across(frozenset({"wire", "contact 2"}), 1.10, 0.0166)
        >>> found = locate(loop, [run, Across(frozenset({"contact 2"}), 0.20, 0.0008)], 44, 0.8, 48)
        >>> found.suspect.parts, round(found.suspect.excess_v, 3)
        (('contact 2',), 0.194)
    """
    known = {part.name: part for part in parts}
    if len(known) != len(parts):
        raise OutOfRange("two parts of the loop have one name; each must have its own")
    above_zero("current_a", current_a, 2000, "A")
    above_zero("rated_a", rated_a, 2000, "A")
    within("current_u_a", current_u_a, 0, 2000, "A")
    best = _best_of_each(readings, known)
    stretches = tuple(
        _stretch([known[name] for name in known if name in left], drop, u, (current_a, current_u_a), rated_a)
        for left, drop, u in _apart(best)
        if left
    )
    read = frozenset[str]().union(*(reading.parts for reading in best))
    unread = tuple(name for name in known if name not in read)
    suspect = max((s for s in stretches if s.stands_out), key=lambda s: s.excess_ohm, default=None)
    return Located(stretches, unread, suspect, _next(parts, stretches, unread, suspect))


def _best_of_each(readings: Sequence[Across], known: Mapping[str, LoopPart]) -> list[Across]:
    """Return one reading for each set of parts, the surest; refuse what cannot be nested."""
    best: dict[frozenset[str], Across] = {}
    for reading in readings:
        unknown = sorted(reading.parts - set(known))
        if unknown or not reading.parts:
            raise OutOfRange(f"a reading is across {unknown or 'nothing'}; it must be across parts of the loop")
        if reading.parts not in best or reading.u_v < best[reading.parts].u_v:
            best[reading.parts] = reading
    for one, other in combinations(best, 2):
        if one & other and not (one <= other or other <= one):
            raise OutOfRange(
                f"readings across {_names(one)} and across {_names(other)} overlap in part; read one inside"
            )
    return sorted(best.values(), key=lambda reading: len(reading.parts))


def _apart(best: list[Across]) -> list[tuple[frozenset[str], float, float]]:
    """Return for each reading the parts that no smaller reading covers, with the drop and u that are left."""
    found = []
    for at, reading in enumerate(best):
        inside = [other for other in best[:at] if other.parts < reading.parts]
        direct = [o for o in inside if not any(o.parts < p.parts for p in inside)]
        left = reading.parts - frozenset[str]().union(*(other.parts for other in direct))
        drop = reading.drop_v - sum(other.drop_v for other in direct)
        found.append((left, drop, combined([reading.u_v, *(other.u_v for other in direct)])))
    return found


def _stretch(parts: list[LoopPart], drop_v: float, u_v: float, current: tuple[float, float], rated_a: float) -> Stretch:
    measured = drop_v / current[0]
    predicted = sum(part.predicted_ohm for part in parts)
    excess = measured - predicted
    uncertainty = expanded(quotient(drop_v, u_v, *current))
    return Stretch(
        parts=tuple(part.name for part in parts),
        measured_ohm=measured,
        predicted_ohm=predicted,
        excess_ohm=excess,
        uncertainty_ohm=uncertainty,
        excess_v=excess * rated_a,
        uncertainty_v=uncertainty * rated_a,
        excess_w=excess * rated_a**2,
    )


def _next(
    parts: Sequence[LoopPart], stretches: tuple[Stretch, ...], unread: tuple[str, ...], suspect: Stretch | None
) -> tuple[str, ...]:
    """Return the neighbouring parts whose reading would halve what is still in doubt, empty if nothing is."""
    if suspect is not None:
        return _halving(parts, suspect.parts) if len(suspect.parts) > 1 else ()
    if unread:
        return _runs(parts, unread)[0]
    coarse = [s for s in stretches if len(s.parts) > 1]
    return _halving(parts, max(coarse, key=lambda s: s.uncertainty_ohm).parts) if coarse else ()


def _halving(parts: Sequence[LoopPart], doubtful: tuple[str, ...]) -> tuple[str, ...]:
    weight = {part.name: LIKELY.get(part.kind, 1.0) for part in parts}
    half = sum(weight[name] for name in doubtful) / 2
    candidates = [
        run[start:end]
        for run in _runs(parts, doubtful)
        for start in range(len(run))
        for end in range(start + 1, len(run) + 1)
        if run[start:end] != doubtful
    ]
    return min(candidates, key=lambda names: (abs(sum(weight[name] for name in names) - half), len(names)))


def _runs(parts: Sequence[LoopPart], wanted: tuple[str, ...]) -> list[tuple[str, ...]]:
    """Return the wanted parts as runs of neighbours in one leg: a probe cannot span the load."""
    runs: list[list[str]] = []
    before: LoopPart | None = None
    for part in parts:
        if part.name in wanted:
            joins = before is not None and before.name in wanted and before.leg == part.leg
            if joins:
                runs[-1].append(part.name)
            else:
                runs.append([part.name])
        before = part
    return [tuple(run) for run in runs]


def _names(names: frozenset[str]) -> str:
    return ", ".join(sorted(names))
