"""What fills an input, the checks that it goes into, and the parts of the circuit, as frozen dataclasses."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from engine.finding import Value
from engine.procedure.forms import CONDITION, TEXT, one_of, text
from engine.procedure.limit import Expression
from engine.procedure.tables import key, record

STEP_ID = text(r"[a-z][a-z0-9]*(-[a-z0-9]+)*", 'small letters, digits and hyphens, such as "prove-dead"')
"""The name of a procedure, a step, a zone, a piece or a part."""

WHEN = "only if this condition holds"


@dataclass(frozen=True, slots=True)
class Reference:
    """An operand that names entries (facts or readings). Several ids make a list."""

    ids: tuple[str, ...]
    many: bool = False


@dataclass(frozen=True, slots=True)
class Literal:
    """An operand written in the file, already in base units."""

    text: str
    value: Value


PLAN_FIGURES: Mapping[str, str] = {
    "plan.loop": "ohm", "plan.parts": "ohm", "plan.hot": "degC", "plan.allowable": "A", "plan.device": "A",
}  # fmt: skip
"""Figures of the circuit, as built so far, that may fill an input, with their units: the wires' loop resistance at
29.3 degC, that of breaker, plug and lugs together, the hottest copper with the load on, the least allowable current of
any wire, the lowest rating of receptacle, plug and switch."""


@dataclass(frozen=True, slots=True)
class FromPlan:
    """An operand that is computed from the planned circuit; ``figure`` is a name of ``PLAN_FIGURES``."""

    figure: str


@dataclass(frozen=True, slots=True)
class Since:
    """An operand that the log's clock gives: the seconds from the taking of one entry to that of another [s]."""

    end: str
    start: str


Operand = Reference | Literal | FromPlan | Since

PLAN = "plan"
"""The name under which a step asks for the verdict on the whole circuit."""


def operand_ids(operands: Iterable[Operand]) -> frozenset[str]:
    """Return the ids of the entries that some operands name.

    Args:
        operands: What fills the inputs.
    """
    return frozenset(i for operand in operands for i in _ids(operand))


def _ids(operand: Operand) -> tuple[str, ...]:
    if isinstance(operand, Since):
        return operand.end, operand.start
    return operand.ids if isinstance(operand, Reference) else ()


@dataclass(frozen=True, slots=True)
class StepCheck:
    """A named check on a step's readings. ``name`` is a check of engine.rules, or ``plan`` for the whole circuit."""

    name: str
    inputs: Mapping[str, Operand] = field(default_factory=dict)
    when: Expression | None = None

    @property
    def entries(self) -> frozenset[str]:
        """The ids of the entries that fill its inputs."""
        return operand_ids(self.inputs.values())

    def rests_on(self, plan_entries: frozenset[str], built_entries: frozenset[str]) -> frozenset[str]:
        """Return the ids of the entries that its finding rests on.

        Args:
            plan_entries: Those of the whole plan.
            built_entries: Those of the circuit as built: a figure of the plan rests on them too, the plan does not.
        """
        if any(isinstance(o, FromPlan) for o in self.inputs.values()):
            return self.entries | plan_entries | built_entries
        return self.entries | plan_entries if self.name == PLAN else self.entries


class PartKind(StrEnum):
    """What a part of the circuit is, from the source to the load."""

    BANK = "bank"
    PROTECTION = "protection"
    WIRE = "wire"
    JOINT = "joint"
    RECEPTACLE = "receptacle"
    PLUG = "plug"
    SWITCH = "switch"
    LOAD = "load"


@record
class CircuitPart:
    """One part of the circuit, in order from the bank. ``found``, ``planned`` and ``built`` fill the fields by name.

    ``built`` names readings of the work (the length of a new wire as cut): no plan waits for them, but a figure that a
    later check takes from the plan (``PLAN_FIGURES``) is worked out with them as soon as they are given.
    """

    id: str
    kind: PartKind = key(one_of(tuple(PartKind), PartKind), "what it is")
    name: str = key(TEXT, "what people call it; its name in words if left out", absent="")
    found: Mapping[str, Operand]
    planned: Mapping[str, Operand] = field(default_factory=dict)
    built: Mapping[str, Operand] = field(default_factory=dict)
    when: Expression | None = key(CONDITION, WHEN, default=None)
