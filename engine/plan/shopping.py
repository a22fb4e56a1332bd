"""What to buy: how the circuit as bought differs from what is there, wire in lengths with spare."""

from collections.abc import Iterator

from engine.plan.circuit import DEVICES, Circuit, Part
from engine.plan.judged import Judged
from engine.plan.remedy import OF_A_BREAKER, breaker_told, price_order, size_told
from engine.procedure.model_circuit import PartKind
from engine.rules.say import short
from engine.trade.shopping import what_to_buy

LUGS = 4
"""Ring terminals of a new pair: both posts, both sides of the breaker [count]. Source: common practice, no source."""


def to_buy(found: Circuit, planned: Circuit, bought: Judged) -> tuple[str, ...]:
    """Return one line for each thing to buy; nothing that the circuit has already."""
    lines: list[str] = []
    for part in sorted(bought.circuit.parts, key=price_order):
        old, meant = found.part(part.id), planned.part(part.id)
        if part.kind is PartKind.WIRE and part.word("size") != old.word("size"):
            lines += _wire(part, several=len(bought.circuit.of_kind(PartKind.WIRE)) > 1)
        elif part.kind in DEVICES and part.number("rating") != old.number("rating"):
            lines.append(f"1 {part.name}, {short(part.number('rating') or 0.0)} A")
        elif part.kind is PartKind.PROTECTION and _is_new(old, meant, part):
            lines.append(f"1 {part.name}, {breaker_told(part, bought)}")
    return tuple(lines)


def _is_new(old: Part, meant: Part, part: Part) -> bool:
    """Return whether a fuse or breaker is another than the old one: the plan names its size, or it was changed."""
    changed = any(part.figures.get(name) != meant.figures.get(name) for name in OF_A_BREAKER)
    return changed or part.number("fitted") != old.number("fitted")


def _wire(part: Part, *, several: bool) -> Iterator[str]:
    out_m, back_m, insulation_c = (part.number(name) or 0.0 for name in ("out", "back", "insulation"))
    size = part.word("size")
    jacket = f", {short(insulation_c)} degC jacket" if insulation_c else ""
    where = f" for the {part.name}" if several else ""
    red, black, *rest = what_to_buy(size, out_m, back_m, lugs=LUGS)
    lengths = " and ".join(f"{item.amount:g} m" for item in (red, black) if item.amount)
    yield f"{lengths} of {size_told(size)} stranded copper{jacket}, spare counted in{where}"
    yield from (f"{i.amount:g} {'x' if i.unit == 'pieces' else 'm of'} {i.what}{where}" for i in rest)
    yield f"ends as the parts' makers ask, labels, chafe guards{where}"
