"""What must follow from an event: holds opened, items left, evidence ended, the closing; held against the log."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime

from engine.finding import Finding
from engine.procedure.model import Procedure
from engine.session import commands as c
from engine.session import events as e
from engine.session.decide_end import close
from engine.session.decide_people import choose_profile
from engine.session.decide_step import finish
from engine.session.decide_work import feeding, hand_over, lapse, redo, stayed_with
from engine.session.depend import rejudged_by_value
from engine.session.events import Event, Stamped
from engine.session.hurt import hurts, stop
from engine.session.outcome import Decided, Decision, Refusal
from engine.session.state import Given, State

_NO_BREAK = (e.TailSetAside, e.ClockNoted)
"""Events that may stand between the end of a break and the return from it."""

_AFTER_THE_END = (e.FollowedUp, e.Moved, *_NO_BREAK)
"""Events that may follow the end of the job."""

_DECIDED = (e.Redone, e.PersonChanged, e.ProfileChosen)
"""Events that are decided anew: what they say, such as what becomes void, must come out again."""

_ITEMS = (e.ItemLeft, e.ItemFinished)

_OF_A_LINE = (e.Taken, e.NotMeasured, e.SlipAnswered)
"""Events that several values typed in one line give."""

_WHILE_HALTED = (e.Noted, e.Attached, e.Left, e.Returned, e.Lapsed, e.Stopped, e.Moved, *_NO_BREAK)
"""Events that may stand between a STOP and the answer to it."""

_ENDS_NO_GAP = (*_AFTER_THE_END, e.Opened, e.Lapsed, *_ITEMS)
"""Events before which a gap in the entries is not looked for."""


class Consequences:
    """Decides each command anew and notes in ``order`` where the log says otherwise."""

    def __init__(self, procedure: Procedure, order: list[str]) -> None:
        self._procedure = procedure
        self._order = order
        self._expected: list[Event] = []
        self._halts: e.Halted | None = None
        self._line: tuple[str, float] = ("", 0.0)
        self._hurts: dict[str, Mapping[str, Finding]] = {}
        self._fed = ""
        self._fixing: tuple[int, e.Corrected, State] | None = None

    def before(self, state: State, item: Stamped) -> None:
        """Look at an event before it is carried into ``state``."""
        event = item.event
        self._values(state, item)
        if isinstance(event, _ITEMS):
            self._item(item, event)
            return
        self._all_said(item.n)
        if not isinstance(event, e.Found):
            self._stop_said(item.n, event)
        if isinstance(event, e.Lapsed) or not (isinstance(event, _ENDS_NO_GAP) or state.over):
            self._gap(state, item)
        self._feeds(state, item)
        self._follow(state, item)

    def end(self, state: State) -> None:
        """Look at what the last events of the log should have been followed by."""
        if self._hurts and (due := stop(self._procedure, self._hurts, state)):
            self._halts = due[1]
        if self._halts is not None:
            self._order.append(f"event {state.count}: the log should say STOP after it: {self._halts.sentence}")
        self._all_said(state.count)

    def _feeds(self, state: State, item: Stamped) -> None:
        """A step that feeds a zone says so before its first entry."""
        event = item.event
        if isinstance(event, e.Fed):
            due = feeding(self._procedure, state, (e.StepDone(step=event.step),))
            self._same(item.n, due or e.Fed(step=""), event)
            self._fed = event.step
        elif (due := feeding(self._procedure, state, (event,))) is not None:
            if due.step != self._fed:
                self._order.append(f"event {item.n}: the log should say before it: {due.step} feeds a zone")
            self._fed = ""

    def _values(self, state: State, item: Stamped) -> None:
        """Take note of the values of one line; once all of them stand, of the STOP that they bring."""
        event, line = item.event, (item.at, item.mono)
        if self._hurts and (line != self._line or not isinstance(event, _OF_A_LINE)):
            due = stop(self._procedure, self._hurts, state)
            self._halts = due[1] if due else None
            self._hurts = {}
        if isinstance(event, e.Taken | e.NotMeasured):
            self._line = line
            self._hurts = {**hurts(self._procedure, state, {event.entry}), **self._hurts}

    def _stop_said(self, n: int, event: Event) -> None:
        due, self._halts = self._halts, None
        if isinstance(event, e.Halted) and due is not None:
            self._same(n, due, event)
        elif due is not None:
            self._order.append(f"event {n}: the log should say STOP before it: {due.sentence}")
        elif isinstance(event, e.Halted):
            self._order.append(f"event {n}: nothing before it hurts")

    def step_done(
        self, state: State, item: Stamped, event: e.StepDone, opened_by: str, judged: dict[str, Finding] | None
    ) -> bool:
        """Hold the end of a step against what ending it now would give; False if it could not be ended, as noted.

        ``judged`` are its findings in this state, if they are known already.
        """
        decided = finish(self._procedure, state, c.Finish(event.step), _time(item), judged)
        if not isinstance(decided, Decided):
            self._order.append(f"event {item.n}, {event.step}: ended although: {_sentence(decided)}")
            return False
        for due in decided.events:
            if isinstance(due, e.HoldCleared) and due.by != opened_by:
                said = f"recorded as opened by {opened_by}" if opened_by else "not recorded as opened"
                self._order.append(f"event {item.n}, {event.step}: the hold is {said}; it was opened by {due.by}")
            elif isinstance(due, e.StepDone):
                self._same(item.n, due, event)
            elif isinstance(due, _ITEMS):
                self._expected.append(due)
            elif isinstance(due, e.Found):
                self._order.append(f"event {item.n}, {event.step}: a finding was not recorded: {due.sentence}")
        return True

    def closed(self, state: State, item: Stamped, event: e.Closed) -> None:
        """Hold the closing against what closing now would give: its figures and its dated looks."""
        decided = close(self._procedure, state, c.Close(), _time(item))
        for due in decided.events if isinstance(decided, Decided) else ():
            if isinstance(due, e.Closed):
                self._same(item.n, due, event)
            elif isinstance(due, e.DueSet) and (due.item not in state.due or state.due[due.item].on != due.on):
                self._order.append(f"event {item.n}: a dated look is missing or has another date: {due.says}")

    def _follow(self, state: State, item: Stamped) -> None:
        event = item.event
        if isinstance(event, e.Opened) != (state.count == 0):
            self._order.append(f"event {item.n}: a log is opened once, by its first event")
        elif isinstance(event, _DECIDED):
            self._decide(state, item, event, _time(item))
        elif isinstance(event, e.Stayed):
            self._decided(item, stayed_with(self._procedure, state, c.StayedWith(event.raw), _time(item)))
        elif isinstance(event, e.HandsOff) != (state.halted is not None) and not isinstance(event, _WHILE_HALTED):
            self._order.append(f"event {item.n}: a STOP stood, and was not answered before it")
        elif isinstance(event, e.Corrected):
            self._fixing = (item.n, event, state.copy())
        elif isinstance(event, e.Taken) and self._fixing is not None:
            self._corrected(event, *self._fixing)
            self._fixing = None
        elif state.over and not isinstance(event, _AFTER_THE_END):
            self._order.append(f"event {item.n}: follows the end of the job")

    def _decide(self, state: State, item: Stamped, event: Event, at: datetime) -> None:
        if isinstance(event, e.Redone):
            self._decided(item, redo(self._procedure, state, c.Redo(event.step, self._mend(event)), at))
        elif isinstance(event, e.PersonChanged):
            self._decided(item, hand_over(self._procedure, state, c.HandOver(event.person), at))
        elif isinstance(event, e.ProfileChosen):
            self._decided(item, choose_profile(self._procedure, state, c.ChooseProfile(event.profile), at))

    def _mend(self, event: e.Redone) -> int:
        step = self._procedure.step_by_id.get(event.step)
        says = [mend.says for mend in step.mends] if step is not None else []
        return says.index(event.mend) + 1 if event.mend in says else 0

    def _gap(self, state: State, item: Stamped) -> None:
        due = lapse(self._procedure, state, _time(item))
        if isinstance(item.event, e.Lapsed):
            self._same(item.n, due or e.Lapsed(gap_s=0.0), item.event)
        elif due is not None:
            gone = f"{due.gap_s / 60:.0f} min"
            self._order.append(f"event {item.n}: nothing was entered for {gone} before it, and the log does not say so")

    def _decided(self, item: Stamped, decision: Decision) -> None:
        if not isinstance(decision, Decided):
            self._order.append(f"event {item.n}: could not be: {_sentence(decision)}")
            return
        self._same(item.n, decision.events[0], item.event)
        self._expected += [due for due in decision.events[1:] if isinstance(due, _ITEMS)]
        self._halts = next((due for due in decision.events[1:] if isinstance(due, e.Halted)), None)

    def _corrected(self, taken: e.Taken, n: int, event: e.Corrected, state: State) -> None:
        value = Given(taken, 0, "").value
        rejudged = rejudged_by_value(self._procedure, state, event.entry, value)
        given = state.given.get(event.entry)
        self._same(n, replace(event, rejudged=rejudged, was=given.taken.raw if given else "not measured"), event)

    def _item(self, item: Stamped, event: e.ItemLeft | e.ItemFinished) -> None:
        if event in self._expected:
            self._expected.remove(event)
        else:
            self._order.append(f"event {item.n}: nothing before it leaves or finishes {event.item}")

    def _all_said(self, n: int) -> None:
        for due in self._expected:
            what = "left to do" if isinstance(due, e.ItemLeft) else "finished"
            self._order.append(f"event {n}: the log should say before it: {what}: {getattr(due, 'item', '')}")
        self._expected.clear()

    def _same(self, n: int, due: Event, said: Event) -> None:
        if due != said:
            keys = [k for k in type(due).__dataclass_fields__ if getattr(due, k) != getattr(said, k, None)]
            told = "; ".join(
                f"{k} is {_short(getattr(said, k, None))}, should be {_short(getattr(due, k))}" for k in keys
            )
            self._order.append(f"event {n}: {told}")


def _time(item: Stamped) -> datetime:
    return datetime.fromisoformat(item.at)


def _sentence(decision: Decision) -> str:
    return decision.sentence if isinstance(decision, Refusal) else "it asks a question"


def _short(value: object) -> str:
    return (", ".join(value) or "none" if isinstance(value, list) else str(value))[:120]
