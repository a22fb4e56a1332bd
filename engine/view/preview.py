"""What a text would become, while it is typed: an echo in both systems and the verdict, or the fault and its place."""

from engine.procedure.model import Procedure
from engine.quantity import Question
from engine.session.answer import NotUnderstood, understand
from engine.session.events import Taken
from engine.session.judge import judge, uses
from engine.session.state import Given, State
from engine.view.models import Preview, VerdictView
from engine.view.pin_map import map_picture
from engine.view.values import shown
from engine.view.verdicts import step_verdicts


def preview(procedure: Procedure, state: State, entry_id: str, text: str) -> Preview:
    """Return what ``text`` would mean for an entry; nothing is recorded."""
    entry = procedure.entry_by_id[entry_id]
    step = procedure.step_by_id[procedure.step_of_entry[entry_id]]
    if not text.strip():
        return Preview()
    meant = understand(entry, step.id, text)
    if isinstance(meant, NotUnderstood):
        return Preview(problem=meant.sentence, column=meant.column)
    if isinstance(meant, Question):
        return Preview(question=meant.sentence)
    verdicts: tuple[VerdictView, ...] = ()
    if uses(procedure, step, entry_id) and not any(check.name == "plan" for check in step.checks):
        value = {entry_id: _value(meant.taken)}
        verdicts = step_verdicts(state, step, judge(procedure, state, step, value))
    if (picture := map_picture(entry, meant.taken.label)) is not None:
        return Preview(echo=picture.says, verdicts=verdicts, map=picture)
    return Preview(echo=shown(entry, meant.taken), verdicts=verdicts)


def _value(taken: Taken) -> float | str | bool | None:
    value = Given(taken, 0, "").value
    return value if not isinstance(value, tuple) else None
