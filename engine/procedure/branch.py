"""How many jobs of a procedure walk a branch, if nothing is known of the boat: an estimate for the author."""

from engine.procedure.limit import Expression
from engine.procedure.limit_tree import Both, Either, Label, Node, Not, Same
from engine.procedure.model import Procedure, Step

EVEN = 0.5
"""The share of a branch that a number, a wire size, or yes or no decides (project estimate)."""


def share(procedure: Procedure, when: Expression | None, within: Step | None = None) -> float:
    """Return the share of jobs in which a condition holds (no unit), from 0 to 1.

    Each answer of a choice counts as likely as the others: of three answers, a third. What is asked only in a branch
    divides that branch, not the whole.

    Args:
        procedure: The procedure whose entries the condition names.
        when: The condition, or None for what is always there.
        within: The step of an entry's condition: what is asked in that same step divides the step.

    Source:
        Worked by hand, the principle of indifference: one answer of three, asked in one branch of two, is one sixth.

    Example:
        >>> from engine.procedure.model import Procedure
        >>> share(Procedure(id="p", title="t", revision="1", summary="s", scope="s"), None)
        1.0
    """
    return 1.0 if when is None else _share(procedure, when.tree, within)


def _share(procedure: Procedure, tree: Node, within: Step | None) -> float:
    match tree:
        case Both(left, right):
            return _share(procedure, left, within) * _share(procedure, right, within)
        case Either(left, right):
            return 1 - (1 - _share(procedure, left, within)) * (1 - _share(procedure, right, within))
        case Not(inner):
            return 1 - _share(procedure, inner, within)
        case Same(sign, left, Label()):
            entry = procedure.entry_by_id[left.id]
            one = 1 / len(entry.choices) if entry.choices else EVEN
            return _asked(procedure, left.id, within) * (one if sign == "==" else 1 - one)
        case _:
            return EVEN


def _asked(procedure: Procedure, name: str, within: Step | None) -> float:
    """Return the share of jobs in which an entry is asked at all."""
    step = procedure.step_by_id.get(procedure.step_of_entry.get(name, ""))
    if step is None or (within is not None and step.id == within.id):
        return 1.0
    return share(procedure, step.when) * share(procedure, procedure.entry_by_id[name].when, step)
