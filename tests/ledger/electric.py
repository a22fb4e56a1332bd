"""What is read, what is live, and what was shown dead: the electric half of the ledger."""

from collections.abc import Mapping, Sequence
from copy import copy
from dataclasses import dataclass
from typing import Any

from tests.ledger.world import Proof, World

DEAD_V = 0.10
"""A point that reads no more than this is dead [V]; up to ``LIVE_V`` a lamp across it may take it down to this."""

LIVE_V = 1.0
"""A point that reads more than this is live, whatever a lamp says [V]. Both: the project's own dead bands."""

KNOWN_V = 1.0
"""A known source that reads less than this proves no meter [V]."""


@dataclass(slots=True)
class Reading:
    """One value: when it was measured (the ledger's count), and the stretches that were one piece of metal with it."""

    value: Any
    at: float
    joined: frozenset[str] = frozenset()

    @property
    def volts(self) -> float:
        """How far from dead it is [V]; what is no number is as far as can be."""
        return abs(self.value) if isinstance(self.value, float) else float("inf")


class Electric:
    """``count`` is the ledger's; ``open`` are the open switches, ``fed`` and ``shown`` when each stretch last was so.

    ``handed_over`` is when another person, or the same one after a long gap, came to it; ``look_due`` is the last gap
    after which one look at a stretch is enough, ``looked`` when each was looked at.
    """

    def __init__(self, world: World) -> None:
        self.world = world
        self.count = 0.0
        self.open = frozenset(i for i, s in world.switch.items() if s.open)
        self.read: dict[str, Reading] = {}
        self.known: list[tuple[str, Reading]] = []
        self.fed = {i: 0.0 for i, s in world.stretch.items() if not s.new}
        self.shown: dict[str, float] = {}
        self.looked: dict[str, float] = {}
        self.handed_over = self.look_due = 0.0
        self._graphs: dict[object, frozenset[str]] = {}

    def copy(self) -> "Electric":
        """Return one that goes on from here on its own."""
        other = copy(self)
        for name in ("fed", "shown", "looked"):
            setattr(other, name, getattr(self, name).copy())
        same = {id(r): copy(r) for r in (*self.read.values(), *(r for _, r in self.known))}
        other.read = {k: same[id(r)] for k, r in self.read.items()}
        other.known = [(k, same[id(r)]) for k, r in self.known]
        return other

    # what is read

    def measured(self, entry: str, value: Any) -> None:
        """Take a value that is measured, or told, now."""
        joined = self._reach(self.world.measured_on.get(entry, frozenset()), self.open)
        self.read[entry] = reading = Reading(value, self.count, joined)
        if entry in self.world.known:
            self.known.append((entry, reading))
        if reading.volts <= DEAD_V:
            self.looked |= dict.fromkeys(joined, self.count)
        self._follows(entry)

    def corrected(self, entry: str, value: Any) -> None:
        """Take another text for a value that was measured before."""
        self.read[entry].value = value
        self._follows(entry)

    def _follows(self, entry: str) -> None:
        for proof in self.world.proofs if entry in self.world.proving else ():
            self._prove(proof)
        if entry in self.world.asked:
            self._feed(self.count)

    def holds(self, when: Mapping[str, Any]) -> bool:
        """Return whether a condition on what was told holds, or may: what was not told yet is no reason against it."""
        for entry, wanted in when.items():
            if (told := self.read.get(entry)) is None:
                continue
            if not (told.value >= wanted if isinstance(wanted, int | float) else told.value in wanted):
                return False
        return True

    def dead_at(self, entry: str, loaded: str, most_v: float = LIVE_V) -> bool:
        """Return whether a point was last read dead, by itself or under a lamp that was tried after it."""
        point, lamp = self.read[entry], self.read.get(loaded)
        under = lamp is not None and lamp.at > point.at and lamp.volts <= DEAD_V
        return point.volts <= DEAD_V or (point.volts <= most_v and under)

    def is_bad(self, entry: str) -> bool:
        """Return whether the last value of an entry shows that it is not so."""
        rule, value = self.world.bad.get(entry), self.read[entry].value
        if isinstance(rule, dict) and "live" in rule:
            return not self.dead_at(entry, rule["live"], most_v=float("inf"))
        if isinstance(rule, dict):
            return not isinstance(value, float) or value < rule["under"]
        return value in rule if isinstance(rule, list) else rule is not None and value == rule

    # what is live

    def move(self, switches: Sequence[str], *, open_: bool) -> None:
        """Open or close switches."""
        after = self.open | set(switches) if open_ else self.open - set(switches)
        if after != self.open:
            self._feed(self.count - 0.5)
            self.open = after
            self._feed(self.count - 0.5)

    def live(self) -> frozenset[str]:
        """Return the stretches that are live."""
        return self._reach(self.world.source, self.open)

    def _maybe_live(self) -> frozenset[str]:
        """Return the stretches that a source reaches, a switch that is only off counted as on."""
        return self._reach(self.world.source, self.open - self.world.weak)

    def _feed(self, at: float) -> None:
        """Note that whatever may be live was so until now, or is from now on."""
        self.fed |= dict.fromkeys(self._maybe_live(), at)

    def _reach(self, start: frozenset[str], open_: frozenset[str]) -> frozenset[str]:
        """Return the stretches that hang together with ``start`` while these switches are open."""
        open_ = open_ | {i for i, s in self.world.switch.items() if not self.holds(s.when)}
        if (key := (start, open_)) not in self._graphs:
            reached, wires = set(start), [w for w in self.world.wires if not w.by & open_]
            while new := {end for w in wires if reached & w.ends for end in w.ends - self.world.source} - reached:
                reached |= new
            self._graphs[key] = frozenset(reached - self.world.source)
        return self._graphs[key]

    # what was shown dead

    def unproved(self, stretch: str) -> tuple[str, str] | None:
        """Return why hands must not be on a stretch: the kind of offence and the reason; None if they may."""
        one, fed, shown = self.world.stretch[stretch], self.fed.get(stretch), self.shown.get(stretch)
        if stretch in self._maybe_live():
            return "unproved", "only a switch that is off keeps it dead"
        if fed is None or one.in_hand:
            return None
        if shown is None or shown <= fed:
            return "unproved", "not shown dead" + (" since it may have been live" if shown else "")
        if any(at == stretch and e in self.read and not self.dead_at(e, p.loaded) for e, at, p in self.world.points()):
            return "unproved", "it was last read live"
        if self.handed_over > shown:
            return "old", "shown dead by somebody else, or before a long gap"
        if self.look_due > shown and self.looked.get(stretch, 0.0) < self.look_due:
            return "old", "shown dead before a gap, and not looked at since"
        return None

    def _prove(self, proof: Proof) -> None:
        """Note when a proof was begun that is whole now, for each stretch that its points are one metal with."""
        for entries in proof.dead.values():
            if not all(e in self.read and self.dead_at(e, proof.loaded) for e in entries):
                continue
            points = [self.read[e] for e in entries]
            first, last = min(p.at for p in points), max(p.at for p in points)
            began = first
            if proof.before:
                looks = [r.at for e, r in self.known if e in (proof.before, proof.after) and _proves_meter(r)]
                if not looks or min(looks) > first or max(looks) < last:
                    continue
                began = max(at for at in looks if at < first)
            fed_later = {s for s, at in self.fed.items() if at >= first}
            for stretch in frozenset.intersection(*(p.joined for p in points)) - fed_later:
                self.shown[stretch] = max(began, self.shown.get(stretch, 0.0))


def _proves_meter(reading: Reading) -> bool:
    return isinstance(reading.value, float) and reading.volts >= KNOWN_V
