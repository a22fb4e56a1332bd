"""What to change, a sentence each, wire first: the changes that are bought, or what stands in the way of any."""

from collections.abc import Iterator

from engine.finding import Finding, Verdict
from engine.plan.cheapest import Bought, known_enough
from engine.plan.circuit import DEVICES, Part, as_number
from engine.plan.judged import Judged
from engine.plan.wires import HARDLY_SOLD, larger_sizes
from engine.procedure.model_circuit import PartKind
from engine.rules.say import short


def remedies(planned: Judged, bought: Bought) -> tuple[str, ...]:
    """Return what to do about the planned circuit, a sentence each; empty if it passes."""
    return tuple(dict.fromkeys(_remedies(planned, bought)))


def _remedies(planned: Judged, bought: Bought) -> Iterator[str]:
    if not known_enough(planned):
        missing = [each for each in planned.not_passed() if each[1].verdict is Verdict.MISSING]
        yield from (_own_words(*each) for each in missing or planned.not_passed())
        return
    if any(finding.verdict is Verdict.FAIL for _, finding in bought.stands):
        yield from _in_the_way(*bought.stands[0], bought.shorter)
        return
    changed = bought.changed(planned.circuit)
    for part in sorted(changed, key=price_order):
        yield from _change(planned, bought.judged, part)
    yield from (_own_words(*each) for each in bought.judged.not_passed())


def price_order(part: Part) -> tuple[bool, bool]:
    """Return what sorts parts by what they cost: wire, then devices, then the rest."""
    return part.kind is not PartKind.WIRE, part.kind not in DEVICES


def _in_the_way(part: Part, finding: Finding, shorter: tuple[str, float] | None) -> Iterator[str]:
    yield f"nothing listed cures this: {part.name}: {finding.sentence}"
    if shorter is None:
        yield "ask a marine electrician"
    else:
        size, share = shorter
        yield f"even {size} wants the run {100 * (1 - share):.0f} % shorter"


def _change(planned: Judged, bought: Judged, part: Part) -> Iterator[str]:
    old = planned.circuit.part(part.id)
    if part.kind is PartKind.WIRE:
        yield _wire(planned, bought, part)
    elif part.kind in DEVICES:
        load_a = planned.circuit.number("current")
        yield f"a {part.name} of {short(part.number('rating') or 0.0)} A for {short(load_a or 0.0)} A"
    elif any(part.figures.get(name) != old.figures.get(name) for name in OF_A_BREAKER):
        yield f"a {part.name} of {breaker_told(part, bought)}"
    if part.figures.get("sheathed") != old.figures.get("sheathed"):
        yield f"put the wire from its source to the {part.name} in a sheath all the way"
    if (distance_m := part.number("distance")) is not None and distance_m != old.number("distance"):
        yield f"move the {part.name} to within {1000 * distance_m:.0f} mm of its source, along the wire"


OF_A_BREAKER = ("fitted", "volts", "interrupting", "manual_reset", "trip_free", "ignition_protected")
"""What a fuse or breaker is bought by."""


def breaker_told(part: Part, judged: Judged) -> str:
    """Return a fuse or breaker as it is asked for in a shop."""
    kind, nominal_v = judged.of(part.id).finding("protection-kind"), judged.circuit.number("nominal")
    volts_v, breaks_a = (
        as_number(kind.values.get(n)) if kind else None for n in ("charging_v", "needed_interrupting_a")
    )
    told = [f"{short(part.number('fitted') or 0.0)} A"]
    told += ["manual reset"] * ("manual_reset" in part.figures)  # a fuse has none
    told += ["ignition protected"] * (judged.circuit.shared("fuel_vapour") is True)
    if volts_v is not None:
        told.append(f"{short(volts_v)} V DC or more")
    elif nominal_v is not None:
        told.append(f"DC volts above the charging volts of a {short(nominal_v)} V bank")
    if kind is not None:
        told.append(
            "interrupts what the battery maker says" if breaks_a is None else f"interrupts {breaks_a:.0f} A or more"
        )
    return ", ".join(told)


def _wire(planned: Judged, bought: Judged, part: Part) -> str:
    was, now = planned.of(part.id), bought.of(part.id)
    named = f"{part.name}: " if len(planned.circuit.of_kind(PartKind.WIRE)) > 1 else ""
    passes = ": passes" if bought.verdict is Verdict.PASS else ""
    drop, carries = was.finding("voltage-drop"), was.finding("ampacity")
    if drop is not None and drop.verdict is not Verdict.PASS:
        warm = _figure(now.finding("voltage-drop"), "hot_drop_percent")
        said = f" brings {_figure(drop, 'drop_percent')} % to {_figure(now.finding('voltage-drop'), 'drop_percent')} %"
        said += f", {warm} % warm" if warm else ""
    else:
        heat = now.finding("ampacity")
        said = (
            f" carries {_figure(heat, 'allowable_a', 0)} A where {_figure(carries, 'allowable_a', 0)} A are too little"
        )
    return f"{named}{size_told(part.word('size'))}{said}{passes}"


def size_told(size: str) -> str:
    """Return a size of wire, with a word on one that few shops carry."""
    return f"{size} (few shops carry it; {larger_sizes(size)[0]} does too)" if size in HARDLY_SOLD else size


def _figure(finding: Finding | None, name: str, places: int = 1) -> str:
    value = None if finding is None else as_number(finding.values.get(name))
    return "" if value is None else f"{value:.{places}f}"


def _own_words(part: Part, finding: Finding) -> str:
    """Return what a finding says to do, or says."""
    return f"{part.name}: {finding.remedy or finding.sentence}"
