"""What must follow from an event: holds opened, items left, evidence ended, the closing; held against the log."""

from dataclasses import replace
from datetime import datetime

from engine.finding import Finding
from engine.procedure.model import Procedure
from engine.session import commands as c
from engine.session import events as e
from engine.session.decide_end import close
from engine.session.decide_entry import copy_of
from engine.session.decide_people import choose_profile, come_back, hand_over
from engine.session.decide_step import finish, redo
from engine.session.depend import rejudged_by_value
from engine.session.events import Event, Stamped
from engine.session.outcome import Decided, Decision, Refusal
from engine.session.state import Given, State

_NO_BREAK = (e.TailSetAside, e.ClockNoted)
"""Events that may stand between the end of a break and the return from it."""

_AFTER_THE_END = (e.FollowedUp, e.Moved, *_NO_BREAK)
"""Events that may follow the end of the job."""

_DECIDED = (e.Redone, e.PersonChanged, e.ProfileChosen, e.Returned)
"""Events that are decided anew: what they say, such as what becomes void, must come out again."""

_ITEMS = (e.ItemLeft, e.ItemFinished)


class Consequences:
    """Decides each command anew and notes in ``order`` where the log says otherwise."""

    def __init__(self, procedure: Procedure, order: list[str]) -> None:
        self._procedure = procedure
        self._order = order
        self._expected: list[Event] = []
        self._last_at = ""
        self._fixing: tuple[int, e.Corrected, State] | None = None

    def before(self, state: State, item: Stamped) -> None:
        """Look at an event before it is carried into ``state``."""
        event = item.event
        if isinstance(event, _ITEMS):
            self._item(item, event)
        else:
            self._all_said(item.n)
            self._follow(state, item)
        if not isinstance(event, _NO_BREAK):
            self._last_at = item.at

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
        elif isinstance(event, e.Corrected):
            self._fixing = (item.n, event, copy_of(state))
        elif isinstance(event, e.Taken) and self._fixing is not None:
            self._corrected(event, *self._fixing)
            self._fixing = None
        elif state.over and not isinstance(event, _AFTER_THE_END):
            self._order.append(f"event {item.n}: follows the end of the job")

    def _decide(self, state: State, item: Stamped, event: Event, at: datetime) -> None:
        if isinstance(event, e.Redone):
            self._decided(item, redo(self._procedure, state, c.Redo(event.step), at))
        elif isinstance(event, e.PersonChanged):
            self._decided(item, hand_over(self._procedure, state, c.HandOver(event.person), at))
        elif isinstance(event, e.ProfileChosen):
            self._decided(item, choose_profile(self._procedure, state, c.ChooseProfile(event.profile), at))
        elif isinstance(event, e.Returned):
            self._returned(state, item, event)

    def _decided(self, item: Stamped, decision: Decision) -> None:
        if not isinstance(decision, Decided):
            self._order.append(f"event {item.n}: could not be: {_sentence(decision)}")
            return
        self._same(item.n, decision.events[0], item.event)
        self._expected += [due for due in decision.events[1:] if isinstance(due, _ITEMS)]

    def _returned(self, state: State, item: Stamped, event: e.Returned) -> None:
        before = replace(state, last_at=self._last_at)
        decided = come_back(self._procedure, before, c.Return(event.away_s), _time(item))
        for due in decided.events if isinstance(decided, Decided) else ():
            if isinstance(due, e.Returned) and (due.ended, due.rejudged) != (event.ended, event.rejudged):
                self._same(item.n, replace(due, away_s=event.away_s), event)

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
