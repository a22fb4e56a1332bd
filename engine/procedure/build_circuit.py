"""Builds the parts of the circuit, and holds the entries that fill them against the fields of each kind of part."""

from difflib import get_close_matches

from engine.procedure.faults import Faults
from engine.procedure.fields import Fields
from engine.procedure.forms import short
from engine.procedure.model_circuit import CircuitPart, Operand, PartKind
from engine.procedure.operands import Wanted, operand
from engine.procedure.scope import Scope, condition

_V, _A, _OHM, _MM, _M = Wanted("V"), Wanted("A"), Wanted("ohm"), Wanted("mm"), Wanted("m")
_YES_NO, _CHOICE, _COUNT = Wanted("yes/no"), Wanted("choice"), Wanted("")

FIELDS: dict[PartKind, dict[str, Wanted]] = {
    PartKind.BANK: {
        "nominal": _V,
        "batteries": _COUNT,
        "open_circuit": _V,
        "internal": _OHM,
        "cranking": _A,
        "chemistry": _CHOICE,
        "short_circuit": _A,
        "battery_nominal": _V,
        "charging": _V,
    },
    PartKind.PROTECTION: {
        "fitted": _A,
        "distance": _MM,
        "sheathed": _YES_NO,
        "at_battery": _YES_NO,
        "volts": _V,
        "interrupting": _A,
        "manual_reset": _YES_NO,
        "trip_free": _YES_NO,
        "ignition_protected": _YES_NO,
        "fuel_vapour": _YES_NO,
    },
    PartKind.WIRE: {
        "size": Wanted("wire"),
        "out": _M,
        "back": _M,
        "insulation": Wanted("degC"),
        "engine_space": _YES_NO,
        "bundled": _COUNT,
    },
    PartKind.JOINT: {"resistance": Wanted("mohm")},
    PartKind.RECEPTACLE: {"rating": _A},
    PartKind.PLUG: {"rating": _A},
    PartKind.SWITCH: {"rating": _A},
    PartKind.LOAD: {
        "current": _A,
        "nominal": _V,
        "class": _CHOICE,
        "continuous": _YES_NO,
        "self_limiting": _YES_NO,
        "maker_size": _A,
    },
}
"""The fields of each kind of part, with what may fill them."""

FILLED = ("found", "planned", "built")
"""The keys of a part that fill its fields."""


def build_part(given: Fields, scope: Scope, faults: Faults) -> CircuitPart:
    """Return one part of the circuit.

    Args:
        given: Its table.
        scope: The entries that may fill it.
        faults: Takes what is wrong.
    """
    kind = PartKind(given.text("kind", PartKind.JOINT))
    filled = {key: _filled(given, key, kind, scope, faults) if given.has("kind") else {} for key in FILLED}
    return CircuitPart(
        id=given.text("id"),
        kind=kind,
        name=given.text("name"),
        found=filled["found"],
        planned=filled["planned"],
        built=filled["built"],
        when=condition(given, "when", scope, faults),
    )


def _filled(given: Fields, key: str, kind: PartKind, scope: Scope, faults: Faults) -> dict[str, Operand]:
    place = given.place.key(key)
    found: dict[str, Operand] = {}
    for name, texts in given.mapping(key).items():
        wanted = FIELDS[kind].get(name)
        if wanted is None:
            faults.add(place.key(short(name)), _unknown_field(name, kind))
        elif value := operand(texts, wanted, scope, place.key(name), faults):
            found[name] = value
    return found


def _unknown_field(name: str, kind: PartKind) -> str:
    near = get_close_matches(name, FIELDS[kind], 1)
    hint = f'did you mean "{near[0]}"?' if near else f"it has {', '.join(FIELDS[kind])}"
    return f"a {kind} has no such field; {hint}"
