"""``fold(events) -> State``: one pure function for screen, resume, audit and tests. No procedure, no clock, no file."""

from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any

from engine.finding import Verdict
from engine.session import events as e
from engine.session.events import Stamped
from engine.session.state import DoneStep, DueState, FoundState, Given, Instrument, State

RECENT = 12
"""How many of the last entries a returning person can be shown; a project rule."""

MOST_BEFORE = 20
"""Earlier texts of one entry that are held at most [count]; the log keeps them all. A project rule."""

_HOURS_S = 2 * 3600.0
"""A gap is told in hours from here on [s]; a project rule."""

UNTOLD_S = 30 * 86_400.0
"""What no clock tells (set back while the machine was off) counts as this long [s]; a project rule."""

_NO_ENTRY = (e.Left, e.Returned, e.Lapsed, e.ClockNoted, e.TailSetAside, e.Moved)
"""Events that end no gap: nobody entered anything about the work. Away often is away long."""

_SHOWN = (e.Taken, e.NotMeasured, e.StepDone, e.Deviated, e.Noted)


def fold(stamped: Iterable[Stamped]) -> State:
    """Return the state after these events."""
    state = State()
    for item in stamped:
        apply(state, item)
    return state


def after(state: State, events: Iterable[e.Event]) -> State:
    """Return the state as it will be to decide by, with events that are not recorded yet; ``state`` stays as it was."""
    later = state.copy()
    for event in events:
        apply(later, Stamped(state.count, state.last_at, state.last_mono, event))
    return later


def apply(state: State, stamped: Stamped) -> None:
    """Carry one event into the state. Linear: the cost does not grow with the number of events before."""
    _HANDLERS[type(stamped.event)](state, stamped, stamped.event)
    state.count = stamped.n
    state.last_at = stamped.at
    state.last_mono = stamped.mono
    if not isinstance(stamped.event, _NO_ENTRY):
        state.entry_at, state.entry_set_back_s = stamped.at, state.set_back_s
    if isinstance(stamped.event, _SHOWN):
        state.recent.append(stamped)
        del state.recent[:-RECENT]


def _opened(state: State, at: Stamped, event: e.Opened) -> None:
    state.procedure, state.asset, state.person = event.procedure, event.asset, event.person
    state.profile, state.demo, state.place = event.profile, event.demo, event.place
    state.people = [event.person]


def _taken(state: State, at: Stamped, event: e.Taken) -> None:
    old = state.given.get(event.entry)
    before = (*old.before, old.taken.raw) if old else ()
    given = Given(
        event, at.n, at.at, before[-MOST_BEFORE:], state.set_back_s, state.set_ahead_s, _readings(old, event), at.n
    )
    if old and state.correcting == event.entry:
        given.at, given.set_back_s, given.set_ahead_s, given.measured_n = (
            old.at, old.set_back_s, old.set_ahead_s, old.measured_n,
        )  # fmt: skip
    state.given[event.entry] = given
    _fixed(state, event.entry, {event.step}, event.entry if state.correcting == event.entry else "")
    state.counted = None
    state.correcting = ""
    _forget_absent(state, event.entry)
    _unsettle(state, event.step)


def _readings(old: Given | None, event: e.Taken) -> tuple[float, ...]:
    if event.number is None:
        return ()
    if old is None or event.turn is None:
        return (event.number,)
    kept = old.readings[: event.turn - 1]
    return (*kept, event.number)


def _not_measured(state: State, at: Stamped, event: e.NotMeasured) -> None:
    state.given.pop(event.entry, None)
    state.counted = None
    state.absent[event.entry] = event.reason
    state.absent_in[event.entry] = event.step
    _unsettle(state, event.step)


def _found(state: State, at: Stamped, event: e.Found) -> None:
    state.findings[event.step, event.key] = FoundState(
        event.verdict,
        event.sentence,
        event.check,
        event.firm,
        at.n,
        tuple(event.values),
        tuple(event.limits),
        event.remedy,
    )
    if event.firm and event.verdict == Verdict.FAIL:
        state.unmended[event.step, event.key] = state.findings[event.step, event.key]
    elif event.verdict in (Verdict.PASS, Verdict.MARGINAL) and (fail := state.unmended.get((event.step, event.key))):
        state.unmended[event.step, event.key] = replace(fail, good_again=True)
        if fail.corrected:
            del state.unmended[event.step, event.key]


def _named(state: State, at: Stamped, event: e.Named) -> None:
    seen = state.named.get(event.step, ())
    if event.part not in seen:
        state.named[event.step] = (*seen, event.part)


def _fed(state: State, at: Stamped, event: e.Fed) -> None:
    _end(state, event.ended, event.step)


def _step_done(state: State, at: Stamped, event: e.StepDone) -> None:
    before = state.rejudged.pop(event.step, None)
    n, since, back_s = (before.n, before.at, before.set_back_s) if before else (at.n, at.at, state.set_back_s)
    state.done[event.step] = DoneStep(n, since, state.ended.get(event.step, ""), back_s, state.instruments)
    for line in event.leaves:
        topic, _, words = line.partition(": ")
        state.physical[topic] = words


def _accepted(state: State, at: Stamped, event: e.Accepted) -> None:
    if found := state.findings.get((event.step, event.key)):
        found.accepted = event.reason


def _deviated(state: State, at: Stamped, event: e.Deviated) -> None:
    state.deviations += 1
    if found := state.findings.get((event.step, event.key)):
        found.deviation = f"{event.reason} ({event.initials})"


def _noted(state: State, at: Stamped, event: e.Noted) -> None:
    state.notes.append((event.step, event.text, at.at))


def _attached(state: State, at: Stamped, event: e.Attached) -> None:
    state.files.append((event.name, event.sha256, event.size))


def _left(state: State, at: Stamped, event: e.Left) -> None:
    if not state.away:
        state.left_at, state.left_mono = at.at, at.mono
    state.away, state.left_line = True, event.line


def _returned(state: State, at: Stamped, event: e.Returned) -> None:
    state.away, state.away_s = False, event.away_s


def _lapsed(state: State, at: Stamped, event: e.Lapsed) -> None:
    state.doubt = f"{event.gap_s / 60:.0f} min" if event.gap_s < _HOURS_S else f"{event.gap_s / 3600:.0f} h"
    state.doubted |= set(event.doubted)
    _end(state, event.ended, f"a gap of {state.doubt}")
    _rejudge(state, event.rejudged)


def _stayed(state: State, at: Stamped, event: e.Stayed) -> None:
    state.doubted.clear()
    _end(state, event.ended, f"{event.raw} V after a gap of {state.doubt}")


def _halted(state: State, at: Stamped, event: e.Halted) -> None:
    state.halted = event


def _hands_off(state: State, at: Stamped, event: e.HandsOff) -> None:
    state.halted = None


def _corrected(state: State, at: Stamped, event: e.Corrected) -> None:
    state.correcting = event.entry
    _rejudge(state, event.rejudged)
    _fixed(state, event.entry, event.rejudged, event.entry)


def _redone(state: State, at: Stamped, event: e.Redone) -> None:
    _void(state, event.voided)
    _rejudge(state, event.rejudged)
    state.unmended = {
        key: replace(fail, redone=fail.redone | set(event.voided)) if key[0] in event.voided else fail
        for key, fail in state.unmended.items()
    }


def _fixed(state: State, entry: str, steps: Collection[str], corrected: str) -> None:
    """Note of the fails of ``steps`` that ``entry`` was mistyped (``corrected`` names it), or was measured anew."""
    state.unmended = {
        key: replace(fail, corrected=corrected) if key[0] in steps and fail.corrected in ("", entry) else fail
        for key, fail in state.unmended.items()
    }


def _person(state: State, at: Stamped, event: e.PersonChanged) -> None:
    state.person = event.person
    state.people.append(event.person)
    _end(state, event.ended, "the hand-over")
    _rejudge(state, event.rejudged)


def _instrument(state: State, at: Stamped, event: e.InstrumentDeclared) -> None:
    state.instruments = {**state.instruments, event.instrument: instrument_of(event)}


def instrument_of(event: e.InstrumentDeclared) -> Instrument:
    """Return the instrument that an event declares."""
    return Instrument(event.name, event.percent, event.counts, event.resolution, event.calibrated)


def _profile(state: State, at: Stamped, event: e.ProfileChosen) -> None:
    state.profile = event.profile
    _rejudge(state, event.rejudged)


def _item_left(state: State, at: Stamped, event: e.ItemLeft) -> None:
    state.items[event.item] = event.says
    state.finished.pop(event.item, None)


def _item_finished(state: State, at: Stamped, event: e.ItemFinished) -> None:
    says = state.items.pop(event.item, None)
    if says is not None:
        state.finished[event.item] = says


def _due(state: State, at: Stamped, event: e.DueSet) -> None:
    state.due[event.item] = DueState(event.says, event.on)


def _followed(state: State, at: Stamped, event: e.FollowedUp) -> None:
    if event.item in state.due:
        state.due[event.item].outcome = event.outcome


def _clock(state: State, at: Stamped, event: e.ClockNoted) -> None:
    """Add what the clock was set back by, at least: the step back, and the time that passed meanwhile."""
    state.clock_notes += 1
    if event.ahead_s:
        state.set_ahead_s += event.ahead_s
        return
    back_s = (datetime.fromisoformat(event.was) - datetime.fromisoformat(event.now)).total_seconds()
    steady_s = at.mono - state.last_mono
    state.set_back_s += max(0.0, back_s + steady_s) if steady_s >= 0 else UNTOLD_S


def _stopped(state: State, at: Stamped, event: e.Stopped) -> None:
    state.stopped = f"{event.reason} ({event.state})"


def _closed(state: State, at: Stamped, event: e.Closed) -> None:
    state.closed, state.clean = True, event.clean


def _nothing(state: State, at: Stamped, event: object) -> None:
    """Kept in the log; changes nothing that work depends on."""


def _end(state: State, steps: Sequence[str], why: str) -> None:
    """Evidence ends. Of a step that was never done, nothing stays that could be ended later with old readings."""
    for step in steps:
        state.ended[step] = why
        state.doubted.discard(step)
        if step in state.done:
            state.done[step] = replace(state.done[step], ended=why)
    if begun := [step for step in steps if step not in state.done and step not in state.rejudged]:
        _void(state, begun)


def _unsettle(state: State, step: str) -> None:
    """A new value takes back what was accepted on the old one; of a done step, no finding rests on the value."""
    if step in state.done:
        return
    for key, found in state.findings.items():
        if key[0] == step:
            found.accepted = found.deviation = ""


def _rejudge(state: State, steps: Iterable[str]) -> None:
    for step in steps:
        if (done := state.done.pop(step, None)) is not None:
            state.rejudged[step] = done
        for key in [k for k in state.findings if k[0] == step]:
            del state.findings[key]


def _void(state: State, steps: Iterable[str]) -> None:
    gone = set(steps)
    _rejudge(state, gone)
    state.doubted -= gone
    for step in gone:
        state.ended.pop(step, None)
        state.named.pop(step, None)
        state.rejudged.pop(step, None)
    for entry in [k for k, given in state.given.items() if given.taken.step in gone]:
        del state.given[entry]
    state.counted = None
    for entry in [k for k, step in state.absent_in.items() if step in gone]:
        _forget_absent(state, entry)


def _forget_absent(state: State, entry: str) -> None:
    state.absent.pop(entry, None)
    state.absent_in.pop(entry, None)


_HANDLERS: dict[type, Callable[[State, Stamped, Any], None]] = {
    e.Opened: _opened,
    e.Taken: _taken,
    e.NotMeasured: _not_measured,
    e.Found: _found,
    e.Named: _named,
    e.Fed: _fed,
    e.StepDone: _step_done,
    e.Accepted: _accepted,
    e.Deviated: _deviated,
    e.Noted: _noted,
    e.Attached: _attached,
    e.Left: _left,
    e.Returned: _returned,
    e.Lapsed: _lapsed,
    e.Stayed: _stayed,
    e.Halted: _halted,
    e.HandsOff: _hands_off,
    e.Corrected: _corrected,
    e.Redone: _redone,
    e.PersonChanged: _person,
    e.InstrumentDeclared: _instrument,
    e.ProfileChosen: _profile,
    e.ItemLeft: _item_left,
    e.ItemFinished: _item_finished,
    e.DueSet: _due,
    e.FollowedUp: _followed,
    e.ClockNoted: _clock,
    e.Stopped: _stopped,
    e.Closed: _closed,
    e.HoldCleared: _nothing,
    e.SlipAnswered: _nothing,
    e.TailSetAside: _nothing,
    e.Moved: _nothing,
    e.OthersTold: _nothing,
}
