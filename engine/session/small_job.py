"""A job of a few steps, stripped of all else, that the session's own functions drive: what searches are made of."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from engine.procedure.model import Entry, Piece, Procedure, Step, Zone
from engine.session import commands as c
from engine.session.apply import apply
from engine.session.decide import decide
from engine.session.events import Stamped
from engine.session.outcome import Decided
from engine.session.state import State

NOW = datetime(2026, 1, 1, 9, tzinfo=UTC)
"""The moment at which a search stands."""


@dataclass(frozen=True, slots=True)
class Offence:
    """What an order led to: the step, what is wrong, and the commands that lead there."""

    step: str
    sentence: str
    way: tuple[str, ...]


def bare(name: str) -> Step:
    """Return a step of that name that does nothing and needs nothing."""
    return Step(id=name, section="", title=name, action="", why="", needs=())


def small_procedure(
    steps: Iterable[Step], zones: tuple[Zone, ...] = (), pieces: tuple[Piece, ...] = (), facts: tuple[Entry, ...] = ()
) -> Procedure:
    """Return a procedure of some steps and nothing else."""
    return Procedure(
        id="search",
        title="",
        revision="",
        summary="",
        scope="",
        zones=zones,
        pieces=pieces,
        facts=facts,
        steps=tuple(steps),
    )


def sent(small: Procedure, state: State, command: c.Command, later_s: float = 0.0) -> State | None:
    """Return the state after a command at the standing moment, or after a gap; None if it is refused."""
    decision = decide(small, state, command, NOW + timedelta(seconds=later_s))
    if not isinstance(decision, Decided):
        return None
    after = state.copy()
    for event in decision.events:
        apply(after, Stamped(after.count + 1, NOW.isoformat(), 0.0, event))
    return after


def begun(small: Procedure, *commands: c.Command) -> State:
    """Return the state after the job was begun and some commands carried out."""
    state = State()
    for command in (c.Start("search", "A"), *commands):
        after = sent(small, state, command)
        if after is None:
            raise AssertionError(f"refused: {command}")
        state = after
    return state


def said(command: c.Command) -> str:
    """Return a command in words."""
    return f"{type(command).__name__} {getattr(command, 'step', '') or getattr(command, 'text', '')}".rstrip()
