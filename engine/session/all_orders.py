"""Every order that zones and pieces allow, searched whole: hands on a zone that may be live, proofs gone stale.

The state of the work falls apart: a zone is decided by the few steps that isolate it, prove it dead, feed it or have
hands on it; a piece by each step that works on it or below it, paired with each that proves it. Each such part is a
small procedure of its own. It is driven by the very functions that a session obeys, in every order, with every redo,
hand-over and gap, and held against a plain account of what was opened, closed and measured, which asks none of them.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

from engine.procedure.model import Procedure, Step
from engine.session import commands as c
from engine.session.apply import apply
from engine.session.decide import decide
from engine.session.events import Stamped
from engine.session.outcome import Decided
from engine.session.state import State

NOW = datetime(2026, 1, 1, 9, tzinfo=UTC)
SHORT_S, LONG_S = 40 * 60.0, 5 * 3600.0
"""Gaps that are tried [s]: one that throws doubt on a proof, one that ends it."""

MOST_STATES = 50_000
"""States of one search at most; a project rule. Past it the search says that it did not end."""


@dataclass(frozen=True, slots=True)
class Offence:
    """What an order led to: the step, what is wrong, and the commands that lead there."""

    step: str
    sentence: str
    way: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _World:
    """The plain account of one zone: what stands open, what was measured dead since, and what before a gap."""

    opened: frozenset[str] = frozenset()
    measured: frozenset[str] = frozenset()
    aged: frozenset[str] = frozenset()


@dataclass(slots=True)
class _Node:
    state: State
    world: _World
    way: tuple[str, ...]


def zone_offences(procedure: Procedure, zone: str, steps: tuple[Step, ...]) -> Iterator[Offence]:
    """Search every order of the steps that touch a zone, in a job that has just these ``steps``."""
    small = _small(procedure, zone, steps)
    made_safe = {s.id: _made_safe(small.steps, number, zone) for number, s in enumerate(small.steps)}
    start = State()
    _send(small, start, c.Start("search", "A"))
    seen, to_do = set[object](), [_Node(start, _World(), ())]
    while to_do:
        node = to_do.pop()
        for command, after, events in _moves(small, node.state):
            world, offence = _carried(node.world, small, zone, made_safe, command, events)
            way = (*node.way, _said(command))
            if offence:
                yield Offence(getattr(command, "step", ""), offence, way)
                return
            key = (_key(after), world)
            if key not in seen:
                seen.add(key)
                to_do.append(_Node(after, world, way))
        if len(seen) > MOST_STATES:
            yield Offence("", f"has more than {MOST_STATES} states; it was not searched to its end", ())
            return


def _small(procedure: Procedure, zone: str, steps: tuple[Step, ...]) -> Procedure:
    """Return the steps that touch a zone, stripped of all else; of those with only hands there, one of each kind."""
    kept: list[Step] = []
    hands: set[tuple[tuple[str, ...], tuple[str, ...]]] = set()
    touching = tuple(s for s in steps if zone in (*s.isolates, *s.proves_dead, *s.feeds, *s.hands_on))
    for number, step in enumerate(touching):
        only_hands = zone not in (*step.isolates, *step.proves_dead, *step.feeds)
        safe = _made_safe(touching, number, zone)
        if only_hands and safe in hands:
            continue
        hands |= {safe} if only_hands else set()
        here = (zone,)
        kept.append(
            replace(
                _bare(step),
                isolates=here if zone in step.isolates else (),
                proves_dead=here if zone in step.proves_dead else (),
                feeds=here if zone in step.feeds else (),
                hands_on=here if zone in step.hands_on else (),
            )
        )
    zones = tuple(z for z in procedure.zones if z.id == zone)
    return replace(procedure, zones=zones, pieces=(), facts=(), circuit=(), steps=tuple(kept))


def _bare(step: Step) -> Step:
    return Step(id=step.id, section=step.section, title=step.title, action=step.action, why=step.why, needs=())


def _made_safe(steps: tuple[Step, ...], number: int, zone: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
    opened: list[str] = []
    measured: list[str] = []
    for step in steps[:number]:
        if zone in step.feeds:
            opened, measured = [], []
        if zone in step.isolates:
            opened.append(step.id)
        if zone in step.proves_dead:
            measured.append(step.id)
    return tuple(opened), tuple(measured)


def _moves(small: Procedure, state: State) -> Iterator[tuple[c.Command, State, tuple[object, ...]]]:
    commands: list[tuple[c.Command, float]] = [(c.Finish(s.id), 0.0) for s in small.steps if s.id not in state.done]
    commands += [(c.Redo(s.id), 0.0) for s in small.steps if s.id in state.done]
    commands += [(c.Note("", "gap"), SHORT_S), (c.Note("", "night"), LONG_S)]
    commands.append((c.HandOver("B" if state.person == "A" else "A"), 0.0))
    commands += [(c.StayedWith("0.00"), 0.0)] if state.doubted else []
    for command, later_s in commands:
        after = state.copy()
        events = _send(small, after, command, later_s)
        if events:
            yield command, after, events


def _send(small: Procedure, state: State, command: c.Command, later_s: float = 0.0) -> tuple[object, ...]:
    """Carry a command into ``state`` at the standing moment, or after a gap; return its events, none if refused."""
    decision = decide(small, state, command, NOW + timedelta(seconds=later_s))
    if not isinstance(decision, Decided):
        return ()
    for event in decision.events:
        apply(state, Stamped(state.count + 1, NOW.isoformat(), 0.0, event))
    return decision.events


def _carried(
    world: _World,
    small: Procedure,
    zone: str,
    made_safe: dict[str, tuple[tuple[str, ...], tuple[str, ...]]],
    command: c.Command,
    events: tuple[object, ...],
) -> tuple[_World, str]:
    unshown = replace(world, measured=frozenset(), aged=frozenset())
    if isinstance(command, c.Note):
        aged = world.aged | world.measured
        return (unshown if command.text == "night" else replace(unshown, aged=aged)), ""
    if isinstance(command, c.HandOver):
        return unshown, ""
    if isinstance(command, c.StayedWith):
        return replace(unshown, measured=world.measured | world.aged), ""
    if not isinstance(command, c.Finish):
        return world, ""
    step = small.step_by_id[command.step]
    opened, measured = made_safe[step.id]
    dead = bool(opened) and world.opened.issuperset(opened)
    if zone in step.hands_on:
        if not dead:
            return world, "hands go on it while it may be live"
        if not measured or not world.measured.issuperset(measured):
            return world, "hands go on it while nothing shows that it is dead"
    if zone in step.isolates:
        world = replace(unshown, opened=world.opened | {step.id})
    if zone in step.proves_dead:
        if not dead:
            return world, "it is proved dead while it may be live"
        world = replace(world, measured=world.measured | {step.id}, aged=world.aged - {step.id})
    if zone in step.feeds:
        world = _World()
    return world, ""


def _key(state: State) -> object:
    done = frozenset((step, bool(done.ended)) for step, done in state.done.items())
    return done, frozenset(state.ended), frozenset(state.doubted), frozenset(state.rejudged)


def _said(command: c.Command) -> str:
    return f"{type(command).__name__} {getattr(command, 'step', '') or getattr(command, 'text', '')}".rstrip()


def stale_proofs(procedure: Procedure, steps: tuple[Step, ...]) -> Iterator[Offence]:
    """Search each work on a piece with each proof that rests on it: no order may leave the proof the older one."""
    for at, work in enumerate(steps):
        for proof in steps[at + 1 :]:
            if work.works and proof.proves and _rests(procedure, proof, work):
                yield from _pair_offences(procedure, work, proof)


def _rests(procedure: Procedure, proof: Step, work: Step) -> bool:
    below, to_do = set[str](), list(proof.proves)
    while to_do:
        piece = to_do.pop()
        if piece not in below:
            below.add(piece)
            to_do.extend(procedure.piece_by_id[piece].rests_on)
    return not below.isdisjoint(work.works)


def _pair_offences(procedure: Procedure, work: Step, proof: Step) -> Iterator[Offence]:
    """Drive one work and one proof in every order: whenever both are done, the proof was measured after the work."""
    pair = tuple(replace(_bare(s), works=s.works, proves=s.proves) for s in (work, proof))
    small = replace(procedure, zones=(), facts=(), circuit=(), steps=pair)
    start = State()
    _send(small, start, c.Start("search", "A"))
    seen = set[object]()
    to_do: list[tuple[State, bool, tuple[str, ...]]] = [(start, False, ())]
    while to_do:
        state, shown, way = to_do.pop()
        for command, after, _ in _moves(small, state):
            finished = command.step if isinstance(command, c.Finish) else ""
            now = True if finished == proof.id else False if finished == work.id else shown
            way_now = (*way, _said(command))
            if {work.id, proof.id} <= after.done.keys() and not now:
                yield Offence(proof.id, f'stands although "{work.title}" was done after it', way_now)
                return
            key = (_key(after), now)
            if key not in seen:
                seen.add(key)
                to_do.append((after, now, way_now))
