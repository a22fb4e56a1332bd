"""Somebody who wants the job done: does what the screen asks next, and what a refusal asks for, as in the clean job."""

import random
from collections.abc import Mapping
from functools import cache
from itertools import pairwise

from engine.procedure.model import Entry
from engine.quantity import from_base
from engine.session import commands as c
from engine.session.answers import PassTime
from engine.session.outcome import Asked, Outcome, Recorded, Refusal, answered
from tests.ledger.desk import Desk, Wait, clean_jobs, shipped_procedure

WHY = "known, watched and written down"


@cache
def good_texts(name: str, job: int) -> Mapping[str, str]:
    """Return what the clean job gives for each entry; for the rest, what it may well be."""
    work = shipped_procedure(name)
    given = [a for a in clean_jobs(name)[job].actions if isinstance(a, c.Take | c.Correct)]
    return {entry.id: likely(entry) for entry in work.entry_by_id.values()} | {a.entry: a.text for a in given}


@cache
def waits_s(name: str, job: int) -> Mapping[str, float]:
    """Return how long the clean job waits before it gives an entry [s]."""
    actions = clean_jobs(name)[job].actions
    return {
        after.entry: action.seconds
        for action, after in pairwise(actions)
        if isinstance(action, PassTime) and isinstance(after, c.Take)
    }


def likely(entry: Entry) -> str:
    """Return a text that an entry takes."""
    words = {
        "yes/no": "yes",
        "choice": next(iter(entry.choices), ""),
        "words": "a few words",
        "wire": "6 AWG",
        "pin map": "",
    }
    if entry.unit in words:
        return words[entry.unit]
    low, high = entry.likely or entry.hard or (0.0, 1.0)
    return number(entry, (low + high) / 2)


def number(entry: Entry, value: float) -> str:
    """Return a number in base units as somebody types it in the entry's own unit."""
    shown = from_base(value, entry.unit)
    text = str(round(shown)) if entry.unit == "" else f"{shown:.3f}"
    return f"+{text}" if entry.signed and shown >= 0 else text


class Helper:
    """Does one sensible thing at a time. ``done_again`` are the steps that were begun anew because something asked."""

    def __init__(self, desk: Desk, job: int, dice: random.Random) -> None:
        self.desk, self.dice = desk, dice
        self.texts, self.waits_s = good_texts(desk.work.id, job), waits_s(desk.work.id, job)
        self.settles = [a for a in clean_jobs(desk.work.id)[job].actions if isinstance(a, c.Accept | c.Deviate)]

    def on(self) -> Outcome:
        """Do one thing."""
        desk, state = self.desk, self.desk.state
        if state.away:
            return self._send(c.Return())
        if state.halted:
            return self._send(c.HandsOff())
        if state.doubted:
            return self._send(c.StayedWith("0.00"))
        at = desk.at()
        return self._at(at) if at else self._mended(self._send(c.Close()))

    def until(self, step: str, most: int = 600) -> Outcome | None:
        """Go on until a step is ended, or, without a step, until the job is over; return the last outcome."""
        outcome = None
        for _ in range(most):
            if self.desk.state.over or step in self.desk.state.done:
                break
            outcome = self.on()
        return outcome

    def _send(self, command: c.Command) -> Outcome:
        outcome = self.desk.do(command)
        if isinstance(outcome, Asked):
            choice = len(outcome.question.choices) - 1 if isinstance(command, c.Finish) else 0
            outcome = self.desk.do(answered(outcome, choice))
        assert outcome is not None
        return outcome

    def _at(self, at: str) -> Outcome:
        step, state = self.desk.work.step_by_id[at], self.desk.state
        if asked := self.desk.asked(step):
            if wait_s := self.waits_s.get(asked[0].id):
                self.desk.do(Wait(wait_s))
            return self._mended(self._send(c.Take(asked[0].id, self.texts[asked[0].id])))
        if unseen := [part.id for part in step.parts if part.id not in state.named.get(at, ())]:
            return self._mended(self._send(c.NamePart(at, unseen[0])))
        return self._mended(self._send(c.Finish(at)))

    def _mended(self, outcome: Outcome) -> Outcome:
        """Do what a refusal asks for: another step first or again, a finding settled, a value as it should be."""
        if not isinstance(outcome, Refusal) or not outcome.step:
            return outcome
        desk, step, at = self.desk, outcome.step, self.desk.at()
        if at != step and step in desk.state.done:
            return self._redo(step)
        if at != step and step not in desk.state.done and not outcome.missing:
            return self._at(step)
        key = next(iter(outcome.missing), "")
        if settled := next((a for a in self.settles if (a.step, a.key) == (step, key)), None):
            return self._send(settled)
        if (step, key) in desk.state.findings:
            finding = self._send(c.Accept(step, key, WHY))
            if isinstance(finding, Recorded):
                return finding
        for entry in (*desk.state.absent, *desk.state.given):
            given = desk.state.given.get(entry)
            if given is None or given.taken.raw != self.texts[entry]:
                fixed = self._send(c.Correct(entry, self.texts[entry], "as it should be"))
                if isinstance(fixed, Recorded):
                    return fixed
        return self._redo(step)

    def _redo(self, step: str, deep: int = 9) -> Outcome:
        outcome = self._send(c.Redo(step))
        if isinstance(outcome, Refusal) and outcome.step not in ("", step) and deep:
            if outcome.step in self.desk.state.done:
                return self._redo(outcome.step, deep - 1)
            return self._at(outcome.step)
        return outcome
