"""One running session: decide -> append -> apply. All faces share it; it owns the journal and the clock."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Self

from engine import __version__
from engine.procedure.load import read_logged
from engine.procedure.model import Procedure
from engine.published import TABLES
from engine.published.profiles import UnknownProfile, profile
from engine.session import commands as c
from engine.session.apply import apply, fold
from engine.session.attach import bring_along
from engine.session.boat import OtherJob, others
from engine.session.clock import CLOCKS_DIFFER_S, Clock
from engine.session.codec import from_flat, to_flat
from engine.session.decide import decide
from engine.session.events import ClockNoted, Event, Fed, Moved, OthersTold, Stamped, TailSetAside
from engine.session.journal import Journal
from engine.session.names import stem
from engine.session.outcome import Asked, Decided, Decision, Outcome, Query, Recorded, Refusal, Unrecorded
from engine.session.scan import NOTHING_YET
from engine.session.state import State
from engine.session.trouble import LogRefused, NotRecorded

FEED_ANSWERS = (("nobody is at it: feed it", "feed"), ("leave it as it is", "leave"))
"""What can be said when another open job on this boat holds something dead."""


class Runner:
    """A session that is being worked on. Made by ``start`` or ``resume``; ``close`` lets go of the log."""

    def __init__(self, procedure: Procedure, journal: Journal, state: State, clock: Clock) -> None:
        self.procedure = procedure
        self.state = state
        self.clock = clock
        self.resumed = False
        self._restarted = False
        self._journal = journal

    @classmethod
    def start(cls, procedure: Procedure, start: c.Start, folder: Path, clock: Clock) -> Self:
        """Begin a job: decide it, make its log in ``folder``, record the opening.

        Raises:
            LogRefused: if the folder cannot be written, or the job cannot begin as asked (the sentence says why).
        """
        now = clock.now()
        decision = decide(procedure, State(), start, now)
        if not isinstance(decision, Decided):
            raise LogRefused(decision.sentence if isinstance(decision, Refusal) else "the job cannot begin so")
        rules = profile(start.profile or procedure.profile)
        header = header_of(procedure, start, f"{rules.name} {rules.version}", clock, now)
        journal = Journal.create(folder, stem(now.date(), start.asset, procedure.id), header)
        runner = cls(procedure, journal, State(), clock)
        try:
            runner._record(decision.events, now)
        except NotRecorded as problem:
            journal.abandon()
            raise LogRefused(str(problem)) from problem
        return runner

    @classmethod
    def resume(cls, path: Path, clock: Clock) -> Self:
        """Go on with a log: its own procedure text is used. Records the return, and a tail that was set aside.

        Raises:
            LogBusy: if another program is writing it.
            LogRefused: if it cannot be written on (altered, newer, edited, not a log, disk).
        """
        journal = Journal.open(path)
        try:
            return cls._resumed(journal, clock)
        except BaseException:
            journal.close()
            raise

    @classmethod
    def _resumed(cls, journal: Journal, clock: Clock) -> Self:
        found = journal.found
        if found is None or found.header is None:
            raise LogRefused(f"{journal.path.name} has no header")
        try:
            procedure = read_logged(str(found.header.get("procedure_text", "")))
            state = fold(from_flat(event) for event in found.events)
        except ValueError as problem:
            raise LogRefused(f"{journal.path.name}: {problem}") from problem
        if not state.procedure:
            raise LogRefused(f"{journal.path.name}: {NOTHING_YET}; begin the job again")
        try:
            profile(state.profile or procedure.profile)
        except UnknownProfile as unknown:
            raise LogRefused(f"{journal.path.name}: {unknown}") from unknown
        runner = cls(procedure, journal, state, clock)
        runner.resumed = runner._restarted = True
        if not state.over:
            runner._come_back()
        return runner

    def _come_back(self) -> None:
        now = self.clock.now()
        decision = decide(self.procedure, self.state, self._with_time(c.Return()), now)
        aside = self._journal.set_aside
        tail = (TailSetAside(name=aside.name, size=aside.size),) if aside else ()
        events = decision.events if isinstance(decision, Decided) else ()
        try:
            self._record((*tail, *events), now)
        except NotRecorded as problem:
            raise LogRefused(str(problem)) from problem

    @property
    def path(self) -> Path:
        """The log's file."""
        return self._journal.path

    @property
    def head(self) -> str:
        """The digest of the last recorded event."""
        return self._journal.head

    @property
    def count(self) -> int:
        """How many events are recorded."""
        return self._journal.count

    def would(self, command: c.Command) -> Decision:
        """Return what would come of a command, recording nothing."""
        now, state = self.clock.glance(), self.state
        if (noted := self._clock_note(now)) is not None:
            state = state.copy()
            apply(state, self._stamped((noted,), now)[0])
        return decide(self.procedure, state, self._with_time(command), now)

    def send(self, command: c.Command) -> Outcome:
        """Carry out a command: what it decides is on the disk before this returns ``Recorded``.

        A clock that was set back is noted first: what it does to the age of a proof is known when it is decided.
        """
        now, command = self.clock.now(), self._with_time(command)
        try:
            if not self.state.over:
                self._record((), now)
            decision = self._told_of_others(command, decide(self.procedure, self.state, command, now))
            if isinstance(decision, Refusal | Asked):
                return decision
            self._record(decision.events, now)
        except NotRecorded as problem:
            return Unrecorded(str(problem))
        return Recorded(decision.events)

    def others(self) -> tuple[OtherJob, ...]:
        """Return the other jobs that stand open on this boat, in the folder of this log."""
        return () if self.state.demo else others(self.path, self.state.asset)

    def _told_of_others(self, command: c.Command, decision: Decision) -> Decision:
        """Ask before a zone is fed while another open job on this boat holds something dead."""
        told = command.yes if isinstance(command, c.Feeding) else None
        if isinstance(decision, Asked):
            return replace(decision, command=command)
        fed = next((e for e in decision.events if isinstance(e, Fed)), None) if isinstance(decision, Decided) else None
        held = [job.sentence for job in self.others() if job.isolated] if fed is not None else []
        if not isinstance(decision, Decided) or fed is None or not held:
            return decision
        if told is None:
            return Asked(Query(f"{'; '.join(held)}. Is anybody at it?", FEED_ANSWERS), command)
        if not told:
            return Refusal("left as it is: nothing is fed while somebody has hands on it", fed.step)
        return Decided((OthersTold(step=fed.step, jobs=held), *decision.events))

    def move(self, folder: Path, reason: str) -> Outcome:
        """Carry the same chain on in another folder, with the attached files, after this one could not be written."""
        was = self.path
        try:
            self._journal = self._journal.move(folder)
            bring_along(was, self.path, self.state)
            now = self.clock.now()
            self._record((Moved(was=was.name, reason=reason[:200]),), now)
        except (LogRefused, NotRecorded) as problem:
            return Unrecorded(str(problem))
        return Recorded(())

    def close(self) -> None:
        """Let go of the log. Nothing is lost by it: every entry is on the disk already."""
        self._journal.close()

    def _record(self, events: tuple[Event, ...], now: datetime) -> None:
        noted = self._clock_note(now)
        stamped = self._stamped(events if noted is None else (noted, *events), now)
        if stamped:
            self._journal.append([to_flat(item) for item in stamped])
            self._restarted = False
        for item in stamped:
            apply(self.state, item)

    def _stamped(self, events: tuple[Event, ...], now: datetime) -> list[Stamped]:
        at, mono, first = now.isoformat(timespec="seconds"), round(self.clock.mono(), 3), self._journal.count + 1
        return [Stamped(first + i, at, mono, event) for i, event in enumerate(events)]

    def _clock_note(self, now: datetime) -> ClockNoted | None:
        """Return the note on a wall clock that did not go on as the steady clock did: set back, or set ahead.

        Of the time until the program was started again only the wall clock tells: the machine may have been off.
        """
        if not self.state.last_at:
            return None
        wall_s = (now - datetime.fromisoformat(self.state.last_at)).total_seconds()
        steady_s = round(self.clock.mono(), 3) - self.state.last_mono
        ahead = 0 <= steady_s < wall_s - CLOCKS_DIFFER_S and not self._restarted
        ahead_s = wall_s - steady_s if ahead else 0.0
        if wall_s >= 0 and steady_s <= wall_s + CLOCKS_DIFFER_S and not ahead_s:
            return None
        return ClockNoted(was=self.state.last_at, now=now.isoformat(timespec="seconds"), ahead_s=round(ahead_s, 3))

    def _with_time(self, command: c.Command) -> c.Command:
        """Return the command, a return with the seconds that passed by the steady clock since the person went away."""
        if not isinstance(command, c.Return):
            return command
        since = self.state.left_mono if self.state.away else self.state.last_mono
        return c.Return(max(0.0, round(self.clock.mono() - since, 3)))


def header_of(
    procedure: Procedure, start: c.Start, rules: str, clock: Clock, now: datetime
) -> Mapping[str, str | int | float | bool]:
    """Return the log's header: all that is needed to recompute it years later."""
    return {
        "program": f"tugtest {__version__}",
        "began": now.isoformat(timespec="seconds"),
        "asset": start.asset,
        "procedure": procedure.id,
        "procedure_revision": procedure.revision,
        "procedure_sha256": procedure.sha256,
        "profile": rules,
        "tables": TABLES,
        "demo": start.demo,
        "clock": "given by an answers file" if hasattr(clock, "pass_time") else "system",
        "procedure_text": procedure.text,
    }
