"""The cheapest set of changes under which the whole circuit passes, found by judging the circuit with them made.

The order of cost: nothing; a new fuse or breaker; a plug, receptacle or switch; wire, by its copper; a shorter run. So
the least copper comes first, then the fewest devices that go with it, then the fuse. A device or fuse is only ever
changed for the smallest that carries the load for hours: none is bought larger to save wire.
"""

import math
from bisect import bisect_left
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from engine.finding import Finding, Value, Verdict
from engine.plan.circuit import DEVICES, Circuit, Part, as_number
from engine.plan.judged import Judged, JudgedPart, as_shorted, judge_circuit, parts_ohm, wire_run
from engine.plan.wires import Choice, cheapest_of, choices, copper, larger_sizes
from engine.procedure.model_circuit import PartKind
from engine.published.profiles import profile
from engine.rules.check import Context
from engine.rules.given import number
from engine.rules.registry import run
from engine.rules.voltage_drop import drop_limits_percent
from engine.trade.conductor import CLAD, PLAIN
from engine.trade.protection import standard_sizes_a
from engine.trade.ranges import OutOfRange

BEST: Mapping[str, Value] = {
    "volts": 2000.0,
    "interrupting": 200000.0,
    "manual_reset": True,
    "trip_free": True,
    "ignition_protected": True,
}
"""The figures of a fuse or breaker that is right for any bank: what the inputs of protection-kind end at."""

PLACED = 0.95
"""Share of the farthest place that a breaker is moved to, for the tape. Source: this project's rule."""

LARGEST_A = 2000.0
"""The largest rating of a device that the checks take [A]: nothing fails by it. Source: their inputs."""


LEAST_OHM, MOST_OHM, LOOP_HALVINGS = 1e-4, 10.0, 20
"""The least and the largest loop that are looked at [ohm], and how finely one is told; project rules."""

ROOM = (1 + 1e-9, 1 - 1e-6)
"""Room for rounding in what the wires may have [no unit]: a set that is just inside may be judged just outside."""

SHORTEST, HALVINGS = 0.25, 6
"""The least share of a run that is still told as a shorter run, and how finely the share is told; project rules."""


@dataclass(frozen=True, slots=True)
class Bought:
    """The circuit with the list bought, and what no listed change cures, the worst first.

    ``shorter`` is the largest size and the share of its length at which the run would not fail with it.
    """

    judged: Judged
    stands: tuple[tuple[Part, Finding], ...] = ()
    shorter: tuple[str, float] | None = None

    def changed(self, planned: Circuit) -> tuple[Part, ...]:
        """Return the parts that differ from the planned ones."""
        return tuple(p for p, old in zip(self.judged.circuit.parts, planned.parts, strict=True) if p != old)


def cheapest(planned: Judged, profile_name: str) -> Bought:
    """Return the planned circuit with the cheapest changes made; unchanged if it passes, or if nothing is to be told.

    Nothing is bought while the load or a wire is not known, or while a fail would stay.
    """
    if planned.verdict is Verdict.PASS or not known_enough(planned):
        return Bought(planned)
    return _Search(planned, profile_name).found()


def known_enough(planned: Judged) -> bool:
    """Return whether the load and every wire are known and could be judged: what else is chosen rests on them."""
    found = [f for p in planned.parts if p.part.kind is PartKind.WIRE for f in p.findings]
    return bool(found) and all(f.verdict is not Verdict.MISSING and f.inputs for f in found)


def price(planned: Circuit, bought: Circuit) -> tuple[float, float, float]:
    """Return what the changes cost: copper of new wire [mm2 m], ratings of new devices [A], new or moved breakers."""
    new = [part for part, old in zip(bought.parts, planned.parts, strict=True) if part != old]
    return (
        sum(copper(part) for part in new if part.kind is PartKind.WIRE),
        sum(part.number("rating") or 0.0 for part in new if part.kind in DEVICES),
        float(sum(part.kind is PartKind.PROTECTION for part in new)),
    )


def _of_copper(circuit: Circuit) -> Circuit:
    """Return the circuit with plain copper in place of copper-clad aluminium: that is a new wire, whatever its size."""
    clad = (wire for wire in circuit.of_kind(PartKind.WIRE) if wire.word("conductor") == CLAD)
    return circuit.with_parts(*(wire.changed(conductor=PLAIN) for wire in clad))


class _Search:
    """One search. ``_new`` is each fuse, breaker and device as it would be bought; ``_wide`` has them and the largest
    wires: what it still has, nothing listed cures."""

    def __init__(self, planned: Judged, profile_name: str) -> None:
        self._profile = profile_name
        self._context = Context(profile(profile_name))
        self._known: dict[tuple[Value, ...], Finding | None] = {}
        self._planned = planned
        self._circuit = self._placed(_of_copper(planned.circuit))
        self._wires = self._circuit.of_kind(PartKind.WIRE)
        self._load_a = self._circuit.number("current") or 0.0
        largest = self._circuit.with_parts(*(self._largest(wire) for wire in self._wires))
        self._new = self._to_choose_from(largest)
        self._wide = self._judged(largest.with_parts(*self._new))
        self._borne = {(part.id, f.check): f.verdict.severity for part, f in self._wide.not_passed()}
        self._borne |= {(part.id, f.check): f.verdict.severity for part, f in planned.not_passed() if _unread(part, f)}

    def found(self) -> Bought:
        """Return the circuit with the cheapest changes made."""
        stands = self._wide.not_passed()
        if any(finding.verdict is Verdict.FAIL for _, finding in stands):
            return Bought(self._planned, stands, self._shorter())
        best = self._least_copper()
        if best is None:
            return Bought(self._planned, stands)
        for new in sorted(self._new, key=lambda part: part.kind is PartKind.PROTECTION):
            as_planned = self._circuit.part(new.id)
            if new != as_planned:
                best = self._accepted(best.circuit.with_parts(as_planned)) or best
        return Bought(best, stands)

    def _judged(self, circuit: Circuit) -> Judged:
        return judge_circuit(circuit, self._profile)

    def _accepted(self, circuit: Circuit) -> Judged | None:
        """Return the circuit judged if nothing in it is worse than what must be borne, else None."""
        judged = self._judged(circuit)
        return judged if all(self._bears(part.id, finding) for part, finding in judged.not_passed()) else None

    def _passes(self, check: str, inputs: Mapping[str, Value]) -> bool:
        return self._run(check, inputs).verdict is Verdict.PASS

    def _placed(self, circuit: Circuit) -> Circuit:
        """Return the circuit with each breaker in a sheath, or nearer to its source, where its place is wrong."""
        for part in circuit.of_kind(PartKind.PROTECTION):
            place = self._planned.of(part.id).finding("protection-place")
            if place is None or place.verdict is Verdict.PASS or not place.values:
                continue
            nearer: Value = PLACED * number(place.values, "farthest_m")
            ways = ({"sheathed": True}, {"distance": nearer}, {"sheathed": True, "distance": nearer})
            for way in ways:
                if self._passes("protection-place", {**place.inputs, **way}):
                    circuit = circuit.with_parts(part.changed(**way))
                    break
        return circuit

    def _largest(self, wire: Part) -> Part:
        return wire.changed(size=(wire.word("size"), *larger_sizes(wire.word("size")))[-1])

    def _to_choose_from(self, largest: Circuit) -> list[Part]:
        """Return every fuse, breaker and device as it would be bought, the smallest that is right for the load."""
        fuses = largest.of_kind(PartKind.PROTECTION)
        best = (*(_with(part, BEST) for part in fuses), *(p.changed(rating=LARGEST_A) for p in _devices(largest)))
        judged = self._judged(largest.with_parts(*best))
        bought = [self._fuse(part, judged.of(part.id)) for part in fuses]
        spared_a = max((part.number("fitted") or 0.0 for part in bought), default=0.0)
        return [*bought, *(self._device(part, judged.of(part.id), spared_a) for part in _devices(largest))]

    def _fuse(self, part: Part, judged: JudgedPart) -> Part:
        """Return the fuse or breaker to buy: of the smallest size, with volts and interrupting figure as needed."""
        size, kind = judged.finding("protection-size"), judged.finding("protection-kind")
        part = _with(part, {name: value for name, value in BEST.items() if value is True} | {"at_once": None})
        if kind is not None and kind.values:
            part = part.changed(volts=kind.values["charging_v"], interrupting=kind.values["needed_interrupting_a"])
        if size is None:
            return part
        fits = (a for a in self._sizes_a() if self._passes("protection-size", {**size.inputs, "fitted": a}))
        return part.changed(fitted=next(fits, part.number("fitted")))

    def _device(self, part: Part, judged: JudgedPart, spared_a: float) -> Part:
        """Return the device to buy: the smallest that carries the load, and that the fuse before it spares."""
        weakest = judged.finding("weakest-part")
        if weakest is None:
            return part
        fits = (
            rating_a
            for rating_a in self._sizes_a(spared_a)
            if self._passes("weakest-part", {**weakest.inputs, "ratings": ((part.name, rating_a),)})
        )
        return part.changed(rating=next(fits, part.number("rating")))

    def _sizes_a(self, least_a: float = 0.0) -> tuple[float, ...]:
        least = max(least_a, self._load_a) * (1 - 1e-9)
        return tuple(size for size in standard_sizes_a() if size >= least)

    def _least_copper(self) -> Judged | None:
        """Return the circuit with the least copper of new wire, all else new, under which it is accepted, if any."""
        circuit = self._circuit.with_parts(*self._new)
        segments = [self._carrying(wire) for wire in self._wires]
        cold, hot = self._most_ohm()
        for room in ROOM:
            taken = cheapest_of(segments, room * cold, room * hot)
            judged = None if taken is None else self._accepted(circuit.with_parts(*(choice.wire for choice in taken)))
            if judged is not None:
                return judged
        return None

    def _carrying(self, wire: Part) -> list[Choice]:
        """Return the sizes of a wire from the smallest that carries the load on."""
        every = choices(wire, self._load_a)
        return every[bisect_left(every, 1, key=lambda choice: self._carries(choice.wire)) :]

    def _carries(self, wire: Part) -> bool:
        """Return whether a wire of one size carries the load, suits the new fuses and bears a short, where it lies."""
        return all(finding is None or self._bears(part_id, finding) for part_id, finding in self._of_wire(wire))

    def _of_wire(self, wire: Part) -> Iterator[tuple[str, Finding | None]]:
        """Yield what hangs on the size of one wire whatever the others are, with the part that it is said of."""
        heat = self._tried(wire, "ampacity", size=wire.word("size"))
        yield wire.id, heat
        carried = {} if heat is None else heat.values
        allowable = {"allowable": carried.get("allowable_a"), "table_allowable": carried.get("table_a")}
        alone = wire_run(wire, self._load_a)
        shorted = {"loop": LEAST_OHM, **(as_shorted(wire, alone) if alone else {})}
        for part in self._circuit.of_kind(PartKind.PROTECTION):
            yield part.id, self._tried(part, "protection-size", **allowable)
            yield part.id, self._tried(part, "fault-current", **shorted)

    def _tried(self, part: Part, check: str, **changed: Value) -> Finding | None:
        """Return a finding on the best circuit with some inputs changed, None if it was not made."""
        asked = (part.id, check, *changed.values())
        if asked not in self._known:
            wide = self._wide.of(part.id).finding(check)
            self._known[asked] = None if wide is None else self._run(check, {**wide.inputs, **changed})
        return self._known[asked]

    def _run(self, check: str, inputs: Mapping[str, Value]) -> Finding:
        try:
            return run(check, inputs, self._context)
        except OutOfRange as problem:
            return Finding(check, Verdict.FAIL, str(problem))

    def _bears(self, part_id: str, finding: Finding) -> bool:
        """Return whether a finding is no worse than what must be borne."""
        return finding.verdict.severity <= self._borne.get((part_id, finding.check), 0)

    def _most_ohm(self) -> tuple[float, float]:
        """Return what the wires may have together, cold and with the load on [ohm], by drop, short and least volts."""
        cold = hot = math.inf
        drop = self._wide.of(self._wires[0].id).finding("voltage-drop")
        if drop is not None:
            good, allowed = drop_limits_percent(str(drop.inputs["class"]), self._context)
            most = number(drop.inputs, "nominal") / 100 / self._load_a
            cold, hot = (good * most, good * most) if drop.verdict is Verdict.PASS else (allowed * most, math.inf)
        for part in self._circuit.parts:
            cold = min(cold, self._largest_loop(part, "fault-current") - parts_ohm(self._wide.circuit))
            hot = min(hot, self._largest_loop(part, "volts-at-load"))
        return cold, hot

    def _largest_loop(self, part: Part, check: str) -> float:
        """Return the largest loop at which a finding on a part is still borne [ohm], infinite without one."""
        wide = self._wide.of(part.id).finding(check)
        if wide is None or as_number(wide.inputs.get("loop")) is None:
            return math.inf
        least, most = max(number(wide.inputs, "loop"), LEAST_OHM), MOST_OHM
        for _ in range(LOOP_HALVINGS):
            middle = math.sqrt(least * most)
            found = self._tried(part, check, loop=middle)
            least, most = (middle, most) if found is not None and self._bears(part.id, found) else (least, middle)
        return least

    def _shorter(self) -> tuple[str, float] | None:
        """Return the largest size and the share of its length at which no fail is left, None if length is not it."""
        least, most = SHORTEST, 1.0
        if not self._short_enough(least):
            return None
        for _ in range(HALVINGS):
            middle = (least + most) / 2
            least, most = (middle, most) if self._short_enough(middle) else (least, middle)
        return self._wide.circuit.part(self._wires[0].id).word("size"), least

    def _short_enough(self, share: float) -> bool:
        wide = self._wide.circuit
        wires = [
            wire.changed(out=share * (wire.number("out") or 0.0), back=share * (wire.number("back") or 0.0))
            for wire in wide.of_kind(PartKind.WIRE)
        ]
        return all(f.verdict is not Verdict.FAIL for _, f in self._judged(wide.with_parts(*wires)).not_passed())


def _devices(circuit: Circuit) -> tuple[Part, ...]:
    """Return the devices whose rating is known: what is not known is read, not bought."""
    return tuple(part for part in circuit.of_kind(*DEVICES) if part.number("rating") is not None)


def _with(part: Part, figures: Mapping[str, Value]) -> Part:
    """Return a part with those of some figures that the circuit asks of it."""
    return part.changed(**{name: value for name, value in figures.items() if name in part.figures})


def _unread(part: Part, finding: Finding) -> bool:
    """Return whether a finding waits for something to be read, not for a size to be chosen."""
    unchosen = part.number("fitted") is None and finding.check in ("protection-size", "fault-current")
    return finding.verdict is Verdict.MISSING and not unchosen
