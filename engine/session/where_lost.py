"""After a load test: where along the loop the extra resistance is, from what the step measured against its plan."""

from engine.finding import Finding, Value
from engine.plan.circuit import Circuit, as_built
from engine.plan.judged import parts_ohm, wire_ohm
from engine.procedure.model import Procedure, Step
from engine.procedure.model_circuit import Literal, PartKind, Reference, StepCheck
from engine.published.instruments import instrument
from engine.rules.where import where
from engine.session.standing import standing
from engine.session.state import State
from engine.trade.locate import Across, LoopPart
from engine.trade.ranges import OutOfRange
from engine.trade.reading import half_width, standard

JOINT_OHM = 0.0005
"""What a sound clamped joint has [ohm]. Source: common practice, no source (28 mV at 48 A is 0.58 mohm)."""


def where_lost(procedure: Procedure, state: State, step: Step) -> Finding | None:
    """Return where the extra resistance is, or None if the step measured no drop under load.

    The finding is for people: it opens and shuts nothing; the step's own checks do that.
    """
    test = next((check for check in step.checks if check.name == "measured-drop"), None)
    if test is None:
        return None
    source, at_load, current, rated = (_number(test, state, n) for n in ("source", "at_load", "current", "rated"))
    if source is None or at_load is None or not current or not rated:
        return None
    joints = _joints(procedure, state, step)
    circuit = as_built(procedure, standing(procedure, state))
    rest = LoopPart("breaker, plug and lugs", "joint", "out", parts_ohm(circuit))
    loop = [*_wires(circuit, "out"), *joints, rest, *_wires(circuit, "back")]
    whole = Across(frozenset(p.name for p in loop), source - at_load, _u("dmm_v", source - at_load))
    readings = [whole, *(Across(frozenset({p.name}), drop, _u("dmm_mv", drop)) for p, drop in joints.items())]
    try:
        return where(loop, readings, current, _u("clamp", current), rated)
    except OutOfRange:
        return None


def _joints(procedure: Procedure, state: State, step: Step) -> dict[LoopPart, float]:
    found: dict[LoopPart, float] = {}
    for check in step.checks:
        operand, drop = check.inputs.get("drop"), _number(check, state, "drop")
        if check.name == "joint" and isinstance(operand, Reference) and drop is not None:
            name = procedure.entry_by_id[operand.ids[0]].ask.removeprefix("Across the ")
            found[LoopPart(name, "joint", "out", JOINT_OHM)] = abs(drop)
    return found


def _wires(circuit: Circuit, leg: str) -> list[LoopPart]:
    found = []
    for part in circuit.of_kind(PartKind.WIRE):
        out_m, back_m = part.number("out"), part.number("back")
        ohm = wire_ohm(part)
        if ohm and out_m is not None and back_m is not None:
            share = (out_m if leg == "out" else back_m) / (out_m + back_m)
            found.append(LoopPart(f"{part.name}, {leg}", "wire", leg, ohm * share))
    return found


def _number(check: StepCheck, state: State, name: str) -> float | None:
    operand = check.inputs.get(name)
    if isinstance(operand, Reference):
        given = state.given.get(operand.ids[0])
        value: Value = given.value if given is not None else None
    else:
        value = operand.value if isinstance(operand, Literal) else None
    return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None


def _u(name: str, reading: float) -> float:
    known = instrument(name)
    return standard(half_width(reading, known.percent, known.counts, known.resolution) + known.fixed)
