"""The parts of the circuit: their fields by kind, and what fills them."""

from dataclasses import dataclass

from engine.nearest import nearest
from engine.procedure.forms import mapped, short, texts
from engine.procedure.model_circuit import CircuitPart, Operand, PartKind
from engine.procedure.operands import Wanted, operand
from engine.procedure.scope import Scope
from engine.procedure.tables import Fields, Key, table
from engine.rules.registry import check


@dataclass(frozen=True, slots=True)
class Field:
    """One field of a part: what may fill it, and what it says."""

    wanted: Wanted
    says: str


def _fields(**said: tuple[str, str]) -> dict[str, Field]:
    return {name.rstrip("_"): Field(Wanted(unit), says) for name, (unit, says) in said.items()}


DEVICE = _fields(
    rating=("A", "current printed on it, steady"),
    resistance=("mohm", "its resistance, if it was read"),
    ambient=("degC", "warmest air around it"),
    engine_space=("yes/no", "whether it stands in an engine space"),
)

FIELDS: dict[PartKind, dict[str, Field]] = {
    PartKind.BANK: _fields(
        nominal=("V", "nominal volts of the bank"),
        batteries=("", "how many batteries it has"),
        open_circuit=("V", "volts with no load on it"),
        internal=("ohm", "internal resistance of the whole bank"),
        cranking=("A", "cold-cranking current of one battery"),
        chemistry=("choice", "lead, agm, gel or lifepo4"),
        short_circuit=("A", "short-circuit current of one battery, by its maker"),
        battery_nominal=("V", "nominal volts of one battery"),
        charging=("V", "highest volts while it is charged"),
        electronics=("A", "at what one battery's own electronics let go"),
    ),
    PartKind.PROTECTION: _fields(
        fitted=("A", "rating of the fuse or breaker"),
        distance=("mm", "from the source to it, along the wire"),
        sheathed=("yes/no", "whether the wire is sheathed or enclosed all the way to it"),
        at_battery=("yes/no", "whether that wire starts at a battery post"),
        volts=("V", "DC volts printed on it"),
        interrupting=("A", "the current that it can break once, at DC"),
        manual_reset=("yes/no", "whether it resets by hand only"),
        trip_free=("yes/no", "whether it trips even if held in"),
        ignition_protected=("yes/no", "whether it is marked as ignition protected"),
        fuel_vapour=("yes/no", "whether petrol or its vapour can be where it stands"),
        fuse=("yes/no", "whether it is a fuse, not a breaker"),
        at_once=("A", "least current that may trip a magnetic one at once"),
        resistance=("mohm", "its resistance, if it was read"),
        ambient=("degC", "warmest air around it"),
        engine_space=("yes/no", "whether it stands in an engine space"),
    ),
    PartKind.WIRE: _fields(
        size=("wire", "size as printed"),
        out=("m", "length of the copper, out"),
        back=("m", "length of the copper, back"),
        insulation=("degC", "temperature rating printed on the jacket"),
        engine_space=("yes/no", "whether it passes an engine space"),
        bundled=("", "loaded conductors in its bundle, itself counted"),
        ambient=("degC", "warmest air around it"),
        conductor=("choice", "its strands: plain, tinned or copper-clad"),
    ),
    PartKind.JOINT: _fields(resistance=("mohm", "resistance of the joint")),
    PartKind.RECEPTACLE: DEVICE,
    PartKind.PLUG: DEVICE,
    PartKind.SWITCH: DEVICE,
    PartKind.LOAD: _fields(
        current=("A", "steady current at full power"),
        nominal=("V", "volts that it is made for"),
        class_=("choice", "critical, ordinary or bow-motor: sets the allowed drop"),
        continuous=("yes/no", "whether it runs for hours"),
        self_limiting=("yes/no", "whether it limits its own current"),
        maker_size=("A", "fuse or breaker that its maker names"),
        least_volts=("V", "least volts that its maker names at full power"),
        inrush=("A", "current of its first moment"),
    ),
}
"""The fields of each kind of part."""

FILLED = {
    "found": "the entries or amounts that fill its fields, as found",
    "planned": "those that differ, as planned",
    "built": "readings of the work that take their place afterwards",
}
"""The keys that fill the fields of a part."""

CIRCUIT = table(
    CircuitPart,
    "circuit",
    {name: Key(mapped(texts()), says, required=name == "found") for name, says in FILLED.items()},
)


def build_part(name: str, given: Fields, scope: Scope) -> CircuitPart:
    """Return one part of the circuit, by its name."""
    kind = PartKind(given.text("kind") or PartKind.JOINT)
    filled = {name: _filled(given, name, kind, scope) if "kind" in given.values else {} for name in FILLED}
    part: CircuitPart = given.make(scope, id=name, name=given.text("name") or name.replace("-", " "), **filled)
    return part


def wanted(kind: PartKind, name: str) -> Wanted:
    """Return what may fill a field of a part."""
    of_field = FIELDS[kind][name].wanted
    return Wanted(of_field.unit, check("voltage-drop").known[name].choices) if name == "class" else of_field


def _filled(given: Fields, key: str, kind: PartKind, scope: Scope) -> dict[str, Operand]:
    found: dict[str, Operand] = {}
    for name, given_texts in given.values.get(key, {}).items():
        place = given.at(key).row(short(name))
        if name not in FIELDS[kind]:
            hint = nearest(name, FIELDS[kind], f"it has {', '.join(FIELDS[kind])}")
            scope.faults.add(place, f"a {kind} has no such field; {hint}")
        elif value := operand(given_texts, wanted(kind, name), scope, place):
            found[name] = value
    return found
