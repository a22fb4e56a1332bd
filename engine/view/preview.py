"""What a text would become, while it is typed: an echo in both systems and the verdict, or the fault and its place."""

from collections.abc import Mapping
from datetime import datetime

from engine.finding import Value, Verdict
from engine.procedure.model import Procedure, Step
from engine.quantity import Question
from engine.session.answer import NotUnderstood, understand
from engine.session.commands import TakeSeveral
from engine.session.decide_entry import take_several
from engine.session.decide_work import LEFT, LIVE_HANDS
from engine.session.events import Taken
from engine.session.hurt import hurts
from engine.session.judge import judge, uses
from engine.session.outcome import Decided, Refusal
from engine.session.said import shown
from engine.session.state import Given, State
from engine.session.work import STILL_DEAD
from engine.trade.dead import DEAD_V
from engine.view.models import Preview, VerdictView
from engine.view.pin_map import map_picture
from engine.view.verdicts import label, step_verdicts


def preview(procedure: Procedure, state: State, entry_id: str, text: str) -> Preview:
    """Return what ``text`` would mean for an entry; nothing is recorded."""
    if entry_id == STILL_DEAD.id:
        return _still_dead(text)
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
        verdicts = step_verdicts(state, step, judge(procedure, state, step, {entry_id: _value(meant.taken)}))
    verdicts += _elsewhere(procedure, state, step, {entry_id: _value(meant.taken)})
    if (picture := map_picture(entry, meant.taken.label)) is not None:
        return Preview(echo=picture.says, verdicts=verdicts, map=picture)
    return Preview(echo=shown(entry, meant.taken), verdicts=verdicts)


def _still_dead(text: str) -> Preview:
    if LEFT.startswith(said := text.strip().lower()):
        return Preview(echo="it is proved dead again, whole" if said == LEFT else "")
    meant = understand(STILL_DEAD, "", text)
    if isinstance(meant, NotUnderstood):
        return Preview(problem=meant.sentence, column=meant.column)
    if isinstance(meant, Question):
        return Preview(question=meant.sentence)
    dead = meant.taken.number is not None and abs(meant.taken.number) <= DEAD_V
    verdict, says, hands = (Verdict.PASS, "still dead", "") if dead else (Verdict.FAIL, "live again", LIVE_HANDS)
    judged = VerdictView(STILL_DEAD.id, "dead", str(verdict), label(verdict), says, hands=hands)
    return Preview(echo=shown(STILL_DEAD, meant.taken), verdicts=(judged,))


def preview_line(procedure: Procedure, state: State, step_id: str, text: str, now: datetime) -> Preview:
    """Return what a line of several values parted by ``;`` would mean; a value that is not begun yet is not missed.

    Args:
        procedure: The procedure.
        state: The session.
        step_id: The step that is looked at.
        text: The line, as far as it is typed.
        now: The time (aware, UTC).
    """
    step = procedure.step_by_id[step_id]
    line = text.rstrip().removesuffix(";")
    decision = take_several(procedure, state, TakeSeveral(step_id, line), now)
    if isinstance(decision, Refusal):
        return Preview(problem=decision.sentence, column=decision.column)
    if not isinstance(decision, Decided):
        return Preview()
    taken = [event for event in decision.events if isinstance(event, Taken)]
    echo = "; ".join(shown(procedure.entry_by_id[each.entry], each) for each in taken)
    values = {each.entry: _value(each) for each in taken}
    verdicts: tuple[VerdictView, ...] = ()
    if not any(check.name == "plan" for check in step.checks):
        verdicts = step_verdicts(state, step, judge(procedure, state, step, values))
    return Preview(echo=echo, verdicts=verdicts + _elsewhere(procedure, state, step, values))


def _elsewhere(procedure: Procedure, state: State, step: Step, values: Mapping[str, Value]) -> tuple[VerdictView, ...]:
    """Return what would hurt by the values although another step judges them."""
    found = hurts(procedure, state, values, values)
    others = (step_verdicts(state, procedure.step_by_id[s], found[s]) for s in found if s != step.id)
    return tuple(verdict for verdicts in others for verdict in verdicts)


def _value(taken: Taken) -> float | str | bool | None:
    value = Given(taken, 0, "").value
    return value if not isinstance(value, tuple) else None
