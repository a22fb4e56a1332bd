"""Every order that zones allow, searched whole: hands on a zone that may be live or that nothing shows to be dead.

The state of the work falls apart. Where hands go on a zone wrongly, some one isolation or some one reading is missing,
and some one thing took it away: so each step with hands is searched with each one step that isolates its zone, each one
that proves it dead, and each one that feeds it. Each such part is a small procedure of its own. It is driven by what a
session obeys, in every order, with every redo, correction of what decides the job, hand-over and gap,
and held against a plain account of what was opened, closed and measured, which asks none of them. A gate that asks for
more, as those of the whole job do, only ever lets less through. Parts that touch their zone alike are searched once.
"""

from collections import deque
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import product

from engine.procedure.limit import parse
from engine.procedure.model import Entry, Procedure, Step, Zone
from engine.session import commands as c
from engine.session.small_job import Offence, bare, begun, said, sent, small_procedure
from engine.session.state import State

SHORT_S, LONG_S = 40 * 60.0, 5 * 3600.0
"""Gaps that are tried [s]: one that throws doubt on a proof, one that ends it."""

MOST_STATES = 50_000
"""States of one search at most; a project rule. Past it the search says that it did not end."""

ZONE, JOB, FIRST = "zone", "job", "first"
"""Of a small procedure: its zone, the fact that says which of several jobs it is, and the step that asks it."""

ISOLATES, PROVES, FEEDS, HANDS = "isolates", "proves_dead", "feeds", "hands_on"
KINDS = (ISOLATES, PROVES, FEEDS, HANDS)


@dataclass(frozen=True, slots=True)
class Touch:
    """What a step does to a zone, and in which of the jobs it stands."""

    kinds: tuple[str, ...]
    jobs: frozenset[int]


@dataclass(frozen=True, slots=True)
class Searched:
    """What a search came to: the states that it saw, and the offence that ended it."""

    states: int
    offence: Offence | None = None


@dataclass(frozen=True, slots=True)
class _World:
    """The plain account of one zone: what stands open, what was measured dead since, and what before a gap."""

    opened: frozenset[str] = frozenset()
    measured: frozenset[str] = frozenset()
    aged: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class _Node:
    state: State
    world: _World
    way: tuple[str, ...]


def search_zone(procedure: Procedure, zone: str, jobs: Sequence[Iterable[Step]]) -> Searched:
    """Search every order of the steps that touch a zone, in every job and from each job to any other.

    Hands before which nothing isolates the zone, or nothing proves it dead, are not searched: they are wrong in any
    order, and a rule of their own names them.

    Args:
        procedure: The procedure.
        zone: The id of the zone.
        jobs: The steps of each job that the procedure can become.
    """
    parts = list(dict.fromkeys(frozenset(s.id for s in steps if _kinds(s, zone)) for steps in jobs))
    touching = [s for s in procedure.steps if any(s.id in part for part in parts)]
    states: dict[tuple[Touch, ...], int] = {}
    for steps in _fewest(touching, zone, parts):
        few = sorted({tuple(s.id in part for s in steps) for part in parts}, reverse=True)
        jobs_here = [frozenset(s.id for s, stands in zip(steps, one, strict=True) if stands) for one in few]
        touches = tuple(_touch(s, zone, jobs_here) for s in steps)
        found = _search(touches, len(few))
        states[touches] = found.states
        if found.offence is not None:
            named = {_id(number): step.id for number, step in enumerate(steps)}
            way = tuple(" ".join(named.get(word, word) for word in said.split()) for said in found.offence.way)
            return Searched(
                sum(states.values()), Offence(named.get(found.offence.step, ""), found.offence.sentence, way)
            )
    return Searched(sum(states.values()))


def _fewest(touching: Sequence[Step], zone: str, parts: Sequence[frozenset[str]]) -> Iterator[list[Step]]:
    """Give the steps of each part that is searched by itself, in working order, each set once.

    What feeds the zone in between, in other jobs than the one looked at, belongs to the part.
    """
    touches = [_touch(step, zone, parts) for step in touching]
    feeds = [n for n, touch in enumerate(touches) if FEEDS in touch.kinds]
    found: dict[frozenset[int], None] = {}
    for number, touch in enumerate(touches):
        for job in touch.jobs if HANDS in touch.kinds else ():
            isolators, provers = _made_safe(touches, number, job)
            for isolator, prover, feed in product(isolators, provers, feeds or [number]):
                between = (n for n in feeds if isolator < n < number)
                found[frozenset({isolator, prover, number, feed, *between})] = None
    for numbers in found:
        yield [touching[n] for n in sorted(numbers)]


def _kinds(step: Step, zone: str) -> tuple[str, ...]:
    return tuple(kind for kind in KINDS if zone in getattr(step, kind))


def _touch(step: Step, zone: str, parts: Sequence[frozenset[str]]) -> Touch:
    return Touch(_kinds(step, zone), frozenset(n for n, part in enumerate(parts) if step.id in part))


def _made_safe(touches: Sequence[Touch], number: int, job: int) -> tuple[frozenset[int], frozenset[int]]:
    """Return by the plain account which steps isolate the zone, and which prove it dead, for a step of a job."""
    before = [n for n in range(number) if job in touches[n].jobs]
    since = max((n for n in before if FEEDS in touches[n].kinds), default=-1)
    isolators, provers = (
        frozenset(n for n in before if n > since and kind in touches[n].kinds) for kind in (ISOLATES, PROVES)
    )
    return isolators, provers


def _id(number: int) -> str:
    return f"s{number}"


@lru_cache(maxsize=1024)
def _search(touches: tuple[Touch, ...], jobs: int) -> Searched:
    """Search every order of a small procedure, from its first job; the same for the same touches."""
    account = _Account(touches, jobs)
    start = begun(account.small, c.Take(JOB, _job(0)), c.Finish(FIRST))
    seen, to_do = {account.key(start, _World())}, deque([_Node(start, _World(), ())])
    while to_do:
        node = to_do.popleft()
        for command, after in _moves(account, node):
            world, offence = account.carried(node.world, command, after)
            way = (*node.way, said(command))
            if offence:
                return Searched(len(seen), Offence(getattr(command, "step", ""), offence, way))
            key = account.key(after, world)
            if key not in seen:
                seen.add(key)
                to_do.append(_Node(after, world, way))
        if len(seen) > MOST_STATES:
            return Searched(len(seen), Offence("", f"has more than {MOST_STATES} states; not searched to its end", ()))
    return Searched(len(seen))


class _Account:
    """A zone and the steps that touch it: the small procedure, and what is true of the zone, told without its gates."""

    def __init__(self, touches: tuple[Touch, ...], jobs: int) -> None:
        self._touches = touches
        self.jobs = range(jobs)
        self.small = _small(touches, jobs)
        self.steps = [_id(number) for number in range(len(touches))]
        self._safe = {
            (_id(number), job): tuple(frozenset(map(_id, steps)) for steps in _made_safe(touches, number, job))
            for number, touch in enumerate(touches)
            for job in touch.jobs
        }

    def job(self, state: State) -> int:
        """Return which job it is."""
        return int(str(state.given[JOB].value)[1:])

    def status(self, state: State, world: _World, step: str) -> tuple[object, ...]:
        """Return all that is known of a step."""
        done = state.done.get(step)
        kept = (state.ended, state.doubted, state.rejudged, world.opened, world.measured, world.aged)
        return (done and bool(done.ended), *(step in each for each in kept))

    def key(self, state: State, world: _World) -> object:
        """Return what tells one state from another."""
        return self.job(state), tuple(self.status(state, world, step) for step in self.steps)

    def carried(self, world: _World, command: c.Command, after: State) -> tuple[_World, str]:
        """Return what is true after a command that was carried out, and what is wrong with it."""
        match command:
            case c.Note(text="night") | c.HandOver():
                return replace(world, measured=frozenset(), aged=frozenset()), ""
            case c.Note():
                return replace(world, measured=frozenset(), aged=world.aged | world.measured), ""
            case c.StayedWith():
                return replace(world, measured=world.measured | world.aged, aged=frozenset()), ""
            case c.Redo(step=step):
                return self._undone(world, step), ""
            case c.Finish(step=step):
                return self._finished(world, step, self.job(after))
        return world, ""

    def _undone(self, world: _World, step: str) -> _World:
        """What is taken off once more was on; what was measured under it, and what is measured anew, is gone."""
        gone = {prover for (prover, _), (opened, _) in self._safe.items() if step in opened} | {step}
        return _World(world.opened - {step}, world.measured - gone, world.aged - gone)

    def _finished(self, world: _World, step: str, job: int) -> tuple[_World, str]:
        kinds = self._touches[int(step[1:])].kinds
        opened, measured = self._safe[step, job]
        dead = world.opened >= opened
        if HANDS in kinds:
            if not dead:
                return world, "hands go on it while it may be live"
            if not world.measured >= measured:
                return world, "hands go on it while nothing shows that it is dead"
        if PROVES in kinds and not dead:
            return world, "it is proved dead while it may be live"
        if FEEDS in kinds:
            return _World(), ""
        return _World(
            world.opened | ({step} if ISOLATES in kinds else set()),
            world.measured | ({step} if PROVES in kinds else set()),
            world.aged - {step},
        ), ""


def _small(touches: Sequence[Touch], jobs: int) -> Procedure:
    """Return the steps that touch a zone, stripped of all else, after one that asks which job it is."""
    choices = tuple(_job(job) for job in range(jobs))
    fact = Entry(id=JOB, ask=JOB, unit="choice", choices=choices)
    steps = [replace(bare(FIRST), asks=(JOB,))]
    for number, touch in enumerate(touches):
        said = " or ".join(f'{JOB} == "{_job(job)}"' for job in sorted(touch.jobs))
        when = parse(said, {JOB: "choice"}, {JOB: choices}) if len(touch.jobs) < jobs else None
        isolates, proves_dead, feeds, hands_on = ((ZONE,) if kind in touch.kinds else () for kind in KINDS)
        steps.append(
            replace(
                bare(_id(number)),
                when=when,
                isolates=isolates,
                proves_dead=proves_dead,
                feeds=feeds,
                hands_on=hands_on,
            )
        )
    return small_procedure(steps, zones=(Zone(ZONE, ZONE, "live"),), facts=(fact,))


def _job(number: int) -> str:
    return f"j{number}"


def _moves(account: _Account, node: _Node) -> Iterator[tuple[c.Command, State]]:
    """Give every command that stands, and the state after it."""
    state = node.state
    commands: list[tuple[c.Command, float]] = [
        (c.Redo(step) if step in state.done else c.Finish(step), 0.0) for step in account.steps
    ]
    commands += [(c.Note("", "gap"), SHORT_S), (c.Note("", "night"), LONG_S)]
    commands.append((c.HandOver("B" if state.person == "A" else "A"), 0.0))
    commands += [(c.StayedWith("0.00"), 0.0)] if state.doubted else []
    if len(account.jobs) > 1:  # any other job is reached by several corrections: none does more than name the job
        commands.append((c.Correct(JOB, _job((account.job(state) + 1) % len(account.jobs)), "otherwise"), 0.0))
    for command, later_s in commands:
        if (after := sent(account.small, state, command, later_s)) is not None:
            yield command, after
