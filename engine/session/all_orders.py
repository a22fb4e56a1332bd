"""Every order that zones and pieces allow, searched whole: hands on a zone that may be live, proofs gone stale.

The state of the work falls apart. Where hands go on a zone wrongly, some one isolation or some one reading is missing,
and some one thing took it away: so each step with hands is searched with each one step that isolates its zone, each one
that proves it dead, and each one that feeds it. A piece is searched by each step that works on it or below it with each
that proves it. Each such part is a small procedure of its own. It is driven by the very functions that a session obeys,
in every order, with every redo, correction of what decides the job, hand-over and gap, and held against a plain account
of what was opened, closed and measured, which asks none of them. A gate that asks for more, as those of the whole job
do, only ever lets less through. Parts that touch their zone alike are searched once.
"""

from collections import deque
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from functools import lru_cache
from itertools import product

from engine.procedure.limit import parse
from engine.procedure.model import Entry, Piece, Procedure, Step, Zone
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

ZONE, JOB, FIRST = "zone", "job", "first"
"""Of a small procedure: its zone, the fact that says which of several jobs it is, and the step that asks it."""

ISOLATES, PROVES, FEEDS, HANDS = "isolates", "proves_dead", "feeds", "hands_on"
KINDS = (ISOLATES, PROVES, FEEDS, HANDS)


@dataclass(frozen=True, slots=True)
class Touch:
    """What a step does to a zone, and in which of the jobs it stands."""

    kinds: tuple[str, ...]
    jobs: frozenset[int]


_Named = tuple[str, Touch]


@dataclass(frozen=True, slots=True)
class Offence:
    """What an order led to: the step, what is wrong, and the commands that lead there."""

    step: str
    sentence: str
    way: tuple[str, ...]


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
    start = _begun(account.small, c.Take(JOB, _job(0)), c.Finish(FIRST))
    seen, to_do = {account.key(start, _World())}, deque([_Node(start, _World(), ())])
    while to_do:
        node = to_do.popleft()
        for command, after in _moves(account, node):
            world, offence = account.carried(node.world, command, after)
            way = (*node.way, _said(command))
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
    steps = [replace(_bare(FIRST), asks=(JOB,))]
    for number, touch in enumerate(touches):
        said = " or ".join(f'{JOB} == "{_job(job)}"' for job in sorted(touch.jobs))
        when = parse(said, {JOB: "choice"}, {JOB: choices}) if len(touch.jobs) < jobs else None
        isolates, proves_dead, feeds, hands_on = ((ZONE,) if kind in touch.kinds else () for kind in KINDS)
        steps.append(
            replace(
                _bare(_id(number)),
                when=when,
                isolates=isolates,
                proves_dead=proves_dead,
                feeds=feeds,
                hands_on=hands_on,
            )
        )
    return _procedure(steps, zones=(Zone(ZONE, ZONE, "live"),), facts=(fact,))


def _job(number: int) -> str:
    return f"j{number}"


def _bare(name: str) -> Step:
    return Step(id=name, section="", title=name, action="", why="", needs=())


def _procedure(
    steps: Iterable[Step], zones: tuple[Zone, ...] = (), pieces: tuple[Piece, ...] = (), facts: tuple[Entry, ...] = ()
) -> Procedure:
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
        if (after := _sent(account.small, state, command, later_s)) is not None:
            yield command, after


def _sent(small: Procedure, state: State, command: c.Command, later_s: float = 0.0) -> State | None:
    """Return the state after a command at the standing moment, or after a gap; None if it is refused."""
    decision = decide(small, state, command, NOW + timedelta(seconds=later_s))
    if not isinstance(decision, Decided):
        return None
    after = state.copy()
    for event in decision.events:
        apply(after, Stamped(after.count + 1, NOW.isoformat(), 0.0, event))
    return after


def _begun(small: Procedure, *commands: c.Command) -> State:
    """Return the state after the job was begun and some commands carried out."""
    state = State()
    for command in (c.Start("search", "A"), *commands):
        after = _sent(small, state, command)
        if after is None:
            raise AssertionError(f"refused: {command}")
        state = after
    return state


def _said(command: c.Command) -> str:
    return f"{type(command).__name__} {getattr(command, 'step', '') or getattr(command, 'text', '')}".rstrip()


@dataclass(frozen=True, slots=True)
class Pair:
    """A step that works on pieces and a later one that proves some: how each touches the pieces, by their numbers."""

    work: tuple[tuple[int, ...], tuple[int, ...]]
    proof: tuple[tuple[int, ...], tuple[int, ...]]
    rests_on: tuple[tuple[int, ...], ...]


def stale_proofs(procedure: Procedure, steps: Sequence[Step]) -> Iterator[Offence]:
    """Search each work on a piece with each proof that rests on it: no order may leave the proof the older one.

    Args:
        procedure: The procedure.
        steps: Those of its steps that are paired.
    """
    below = {piece.id: _below(procedure, piece.id) for piece in procedure.pieces}
    for at, work in enumerate(steps):
        for proof in steps[at + 1 :]:
            resting = frozenset().union(*(below[piece] for piece in proof.proves))
            if resting.isdisjoint(work.works):
                continue
            if way := _way_to_stale(_pair(work, proof, below)):
                yield Offence(proof.id, f'stands although "{work.title}" was done after it', way)


def _below(procedure: Procedure, piece: str) -> frozenset[str]:
    """Return a piece and all that it rests on."""
    found, to_do = set[str](), [piece]
    while to_do:
        one = to_do.pop()
        if one not in found:
            found.add(one)
            to_do.extend(procedure.piece_by_id[one].rests_on)
    return frozenset(found)


def _pair(work: Step, proof: Step, below: dict[str, frozenset[str]]) -> Pair:
    """Return a work and a proof by nothing but how their pieces rest on each other."""
    order = list(dict.fromkeys((*work.works, *work.proves, *proof.works, *proof.proves)))
    at = {piece: number for number, piece in enumerate(order)}
    rests_on = tuple(tuple(at[other] for other in order if other in below[p] and other != p) for p in order)
    one, two = ((tuple(at[p] for p in s.works), tuple(at[p] for p in s.proves)) for s in (work, proof))
    return Pair(one, two, rests_on)


@lru_cache(maxsize=1024)
def _way_to_stale(pair: Pair) -> tuple[str, ...]:
    """Drive one work and one proof in every order: whenever both are done, the proof was measured after the work."""
    pieces = tuple(Piece(f"p{n}", "", tuple(f"p{o}" for o in below)) for n, below in enumerate(pair.rests_on))
    steps = [
        replace(_bare(name), works=tuple(pieces[n].id for n in works), proves=tuple(pieces[n].id for n in proves))
        for name, (works, proves) in (("work", pair.work), ("proof", pair.proof))
    ]
    small = _procedure(steps, pieces=pieces)
    to_do: list[tuple[State, bool, tuple[str, ...]]] = [(_begun(small), False, ())]
    seen = set[object]()
    while to_do:
        state, shown, way = to_do.pop()
        for name in ("work", "proof"):
            command = c.Redo(name) if name in state.done else c.Finish(name)
            after = _sent(small, state, command)
            if after is None:
                continue
            now = name == "proof" if isinstance(command, c.Finish) else shown
            way_now = (*way, _said(command))
            if len(after.done) == len(steps) and not now:
                return way_now
            key = (frozenset(after.done), frozenset(after.rejudged), now)
            if key not in seen:
                seen.add(key)
                to_do.append((after, now, way_now))
    return ()
