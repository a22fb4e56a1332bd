"""The state of the work: which zones may be touched, which pieces stand, and what doing a step again undoes.

The only module that knows it. A procedure says of each step which zones it isolates, proves dead, feeds or has hands
on, and which pieces it works on or proves; all gates, and all that becomes void, follow from that here.
It never knows that a wire is dead: it knows what was typed, and how old that is.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime

from engine.procedure.model import TAKES_S, Entry, Procedure, Step
from engine.session.standing import numbers
from engine.session.state import State

NOBODY_ASKED_S = 4 * 3600.0
"""After a gap this long [s] nobody is asked whether they stayed: dead is proved again whole. A project rule."""

LIVE, DEAD, OFF, DOUBT = "live", "dead", "off", "doubt"
"""How a zone stands: fed; isolated and proved dead; isolated, not proved; proved, but nothing was entered since."""

STILL_DEAD = Entry(
    id="still_dead",
    ask="Volts where hands go, once more",
    why="Who stayed with it measures once more; who left it proves it dead again, whole.",
    unit="V",
    hard=(-100.0, 100.0),
    likely=(-0.1, 0.1),
    instrument="dmm_v",
)
"""What is asked after a gap, before hands go on; no procedure asks for it. Ranges: common practice, slips of a pen."""


@dataclass(frozen=True, slots=True)
class Need:
    """One thing that keeps a step shut, said in a sentence, with the step to go to."""

    step: str
    sentence: str


@dataclass(frozen=True, slots=True)
class Gap:
    """A gap in the entries: how long [s], the proofs that it throws doubt on, and those that it ends."""

    gap_s: float
    doubted: tuple[str, ...]
    ended: tuple[str, ...]


class Relations:
    """How the steps of one job hang together by zones and pieces. ``steps`` are those of the job, in working order."""

    def __init__(self, procedure: Procedure, steps: tuple[Step, ...]) -> None:
        self.steps = steps
        self.step = {step.id: step for step in steps}
        self._at = {step.id: number for number, step in enumerate(steps)}
        self._below = {piece.id: frozenset(_below(procedure, piece.id)) for piece in procedure.pieces}
        self._safe: dict[tuple[str, str], tuple[tuple[str, ...], tuple[str, ...]]] = {}
        self._under: dict[str, tuple[str, ...]] = {}
        self._undone: dict[str, frozenset[str]] = {}
        self._whole = self if steps == procedure.steps else _whole(procedure)

    def place(self, step: str | None) -> int:
        """Return the place of a step in working order, from 0; behind the last if it is none of the job's."""
        return self._at.get(step or "", len(self.steps))

    def isolators(self, step: str, zone: str) -> tuple[str, ...]:
        """Return the steps that make a zone safe for ``step``: those that isolate it since it was fed last before."""
        return self._made_safe(step, zone)[0]

    def provers(self, step: str, zone: str) -> tuple[str, ...]:
        """Return the steps whose readings prove a zone dead for ``step``, since it was fed last before."""
        return self._made_safe(step, zone)[1]

    def comes_before(self, step: str, zone: str, prover: str) -> tuple[str, ...]:
        """Return what has to be done before a proof of a zone: its isolation, and earlier steps of the same proof."""
        isolators, provers = self._made_safe(step, zone)
        one = self.step[prover]
        firsts = provers[: provers.index(prover)]
        return (*isolators, *(p for p in firsts if self.of_one_proof(self.step[p], one)))

    def _made_safe(self, step: str, zone: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
        known = self._safe.get((step, zone))
        if known is None:
            before = self.steps[: self._at[step]]
            fed = max((n for n, s in enumerate(before) if zone in s.feeds), default=-1)
            since = before[fed + 1 :]
            known = self._safe[step, zone] = (
                tuple(s.id for s in since if zone in s.isolates),
                tuple(s.id for s in since if zone in s.proves_dead),
            )
        return known

    def under(self, step: str) -> tuple[str, ...]:
        """Return the steps before ``step`` that work on or prove a piece of its own, or one that this rests on."""
        known = self._under.get(step)
        if known is None:
            pieces = _pieces(self.step[step])
            below = pieces.union(*(self._below[p] for p in pieces)) if pieces else pieces
            before = self.steps[: self._at[step]]
            known = self._under[step] = tuple(s.id for s in before if not below.isdisjoint(_pieces(s)))
        return known

    def undone_by(self, step: str) -> frozenset[str]:
        """Return the steps that doing ``step`` again makes void, and all that follow from these; itself left out.

        Steps that a correction took out of the job are among them: they may come back by another.
        """
        known = self._undone.get(step)
        if known is None:
            gone, to_do = {step}, [step]
            while to_do:
                one = to_do.pop()
                fresh = {s for work in (self, self._whole) if one in work.step for s in work.undone_at_once(one)} - gone
                gone |= fresh
                to_do.extend(fresh)
            known = self._undone[step] = frozenset(gone - {step})
        return known

    def undone_at_once(self, step: str) -> Iterator[str]:
        """Give the steps that doing ``step`` again makes void by itself."""
        one = self.step[step]
        for other in self.steps:
            later = self._at[other.id] > self._at[one.id]
            if other.id != one.id and (
                (later and (one.id in self.under(other.id) or one.id in (other.needs or ())))
                or any(self._rests(other, piece) for piece in one.works)
                or self.of_one_proof(one, other)
                or (later and self._shut_after(one, other))
                or (later and not set(one.isolates).isdisjoint((*other.feeds, *other.proves_dead)))
                or (later and not set(one.feeds).isdisjoint((*other.isolates, *other.proves_dead)))
            ):
                yield other.id

    def _shut_after(self, one: Step, other: Step) -> bool:
        """True if ``other`` shuts, or sets back, what stands open or otherwise once ``one`` is done."""
        if one.hands_on and any(self._opened_before(one, item) for item in other.closes):
            return True
        if any(item.id in other.closes for item in one.opens):
            return True
        set_back = not (other.works or other.hands_on)
        return set_back and any(other.leaves.get(topic, words) != words for topic, words in one.leaves.items())

    def _opened_before(self, step: Step, item: str) -> bool:
        return any(item == opened.id for s in self.steps[: self._at[step.id]] for opened in s.opens)

    def _rests(self, step: Step, piece: str) -> bool:
        return any(piece in self._below[own] for own in _pieces(step))

    def of_one_proof(self, one: Step, other: Step) -> bool:
        """True if both belong to one dead proof: it is made whole, or not at all."""
        shared = set(one.proves_dead) & set(other.proves_dead)
        return any(self.isolators(one.id, z) == self.isolators(other.id, z) for z in shared)


def _pieces(step: Step) -> frozenset[str]:
    return frozenset((*step.works, *step.proves))


def _below(procedure: Procedure, piece: str) -> set[str]:
    found: set[str] = set()
    to_do = list(procedure.piece_by_id[piece].rests_on)
    while to_do:
        one = to_do.pop()
        if one not in found:
            found.add(one)
            to_do.extend(procedure.piece_by_id[one].rests_on)
    return found


def relations(procedure: Procedure, state: State) -> Relations:
    """Return how the steps of this job hang together, worked out once for a set of steps."""
    here = tuple(numbers(procedure, state))
    known = procedure.derived.get(here)
    if not isinstance(known, Relations):
        known = procedure.derived[here] = Relations(procedure, tuple(procedure.step_by_id[s] for s in here))
    return known


def _whole(procedure: Procedure) -> Relations:
    """Return how all steps hang together, whether they belong to a job or not."""
    here = tuple(procedure.step_by_id)
    known = procedure.derived.get(here)
    if not isinstance(known, Relations):
        known = procedure.derived[here] = Relations(procedure, procedure.steps)
    return known


def needs(procedure: Procedure, state: State, step: Step) -> tuple[Need, ...]:
    """Return what zones and pieces ask for before ``step`` is done, at most one thing for each, in working order."""
    work = relations(procedure, state)
    if step.id not in work.step:
        return ()
    zones = dict.fromkeys((*step.proves_dead, *step.hands_on))
    found = [_zone_need(procedure, state, work, step, zone) for zone in zones]
    found += [_piece_need(procedure, state, step, before) for before in work.under(step.id)]
    wanted = {need.step: need for need in found if need is not None}
    return tuple(wanted[s.id] for s in work.steps if s.id in wanted)


def _zone_need(procedure: Procedure, state: State, work: Relations, step: Step, zone: str) -> Need | None:
    name = procedure.zone_by_id[zone].name
    for before in work.isolators(step.id, zone):
        if not _holds(state, before):
            why = _why_live(procedure, state, before)
            return Need(before, f"{_place(procedure, state, before)} first: {name} {why}")
    if zone not in step.hands_on:
        return None
    for before in work.provers(step.id, zone):
        if before in state.doubted:
            return Need(step.id, f"measure {name} once more where hands go: nothing was entered for {state.doubt}")
        if not _holds(state, before):
            why = _why_unproved(procedure, state, before)
            return Need(before, f"{_place(procedure, state, before)} first: hands go on {name}, {why}")
        if later := _done_after(state, work.comes_before(step.id, zone, before), before):
            why = f'"{procedure.step_by_id[later].title}" was done after it was proved dead'
            return Need(before, f"{_place(procedure, state, before)} again: {name}, {why}")
    return None


def _done_after(state: State, firsts: Iterable[str], prover: str) -> str:
    """Return what was done after a proof and comes before it: a source told of late, a point it did not look at."""
    return next((step for step in firsts if step in state.done and state.done[step].n > state.done[prover].n), "")


def in_doubt(procedure: Procedure, state: State, step: Step) -> tuple[str, ...]:
    """Return the names of the zones that hands go on in this step, and whose dead proof a gap throws doubt on."""
    if not state.doubted:
        return ()
    work = relations(procedure, state)
    doubted = (zone for zone in step.hands_on if not state.doubted.isdisjoint(work.provers(step.id, zone)))
    return tuple(procedure.zone_by_id[zone].name for zone in doubted)


def beneath(procedure: Procedure, state: State, step: Step) -> tuple[str, ...]:
    """Return the steps before ``step`` that work on or prove what it rests on; none if it is not of this job."""
    work = relations(procedure, state)
    return work.under(step.id) if step.id in work.step else ()


def _piece_need(procedure: Procedure, state: State, step: Step, before: str) -> Need | None:
    if _holds(state, before):
        return None
    step_before = procedure.step_by_id[before]
    pieces = [p for p in (*step_before.works, *step_before.proves) if p in procedure.piece_by_id]
    name = procedure.piece_by_id[pieces[0]].name
    what = "made" if step_before.works else "proved"
    return Need(before, f"{_place(procedure, state, before)} first: {name} is not {what}")


def _place(procedure: Procedure, state: State, step: str) -> str:
    return f'needs step {numbers(procedure, state)[step]}, "{procedure.step_by_id[step].title}",'


def _holds(state: State, step: str) -> bool:
    done = state.done.get(step)
    return done is not None and not done.ended


def _why_live(procedure: Procedure, state: State, isolator: str) -> str:
    done = state.done.get(isolator)
    if done is None:
        return "is not made safe"
    live = "live" if done.ended in procedure.step_by_id else "not proved dead"
    return f"is {live} since {ended_by(procedure, done.ended)}"


def _why_unproved(procedure: Procedure, state: State, prover: str) -> str:
    done = state.done.get(prover)
    return f"and its dead proof ended by {ended_by(procedure, done.ended)}" if done else "not proved dead"


def ended_by(procedure: Procedure, why: str) -> str:
    """Return in words what ended an isolation or a proof: the title of a step, or a reason."""
    step = procedure.step_by_id.get(why)
    return f'"{step.title}"' if step else why


def safe(procedure: Procedure, state: State, step: Step, zone: str) -> str:
    """Return what a zone is for the hands of ``step``: ``safe``, or what it lacks: ``isolation`` or ``proof``."""
    work = relations(procedure, state)
    if not all(_holds(state, before) for before in work.isolators(step.id, zone)):
        return "isolation"
    whole = all(
        _holds(state, p) and not _done_after(state, work.comes_before(step.id, zone, p), p)
        for p in work.provers(step.id, zone)
    )
    return "safe" if whole else "proof"


def route(procedure: Procedure, state: State, start: Iterable[str]) -> list[str]:
    """Return the steps to be done, again or for the first time since, when those of ``start`` are done again.

    In working order. Where hands go on a zone again that is live by now, making it safe and proving it dead stand among
    them; where only its proof has ended, proving it does. Only steps that hold anything so far.
    """
    work = relations(procedure, state)
    gone: set[str] = set()
    to_do = [step for step in start if step in work.step]
    while to_do:
        one = to_do.pop()
        if one not in gone:
            gone.add(one)
            to_do += [*work.undone_by(one), *_made_safe_again(procedure, state, work, one)]
    begun = state.begun | set(start)
    return [step.id for step in procedure.steps if step.id in gone and step.id in begun]


def _made_safe_again(procedure: Procedure, state: State, work: Relations, name: str) -> Iterator[str]:
    if (step := work.step.get(name)) is None:
        return
    for zone in dict.fromkeys((*step.hands_on, *step.proves_dead)):
        lacks = safe(procedure, state, step, zone)
        if lacks == "isolation":
            yield from work.isolators(step.id, zone)
        if lacks != "safe" and zone in step.hands_on:
            yield from work.provers(step.id, zone)


def fed_by(procedure: Procedure, state: State, step: Step) -> list[str]:
    """Return the steps whose isolation or dead proof ends when ``step``, which feeds their zone, is done."""
    fed = set(step.feeds)
    begun = state.begun
    return [
        s.id
        for s in procedure.steps
        if s.id in begun and s.id not in state.ended and not fed.isdisjoint((*s.isolates, *s.proves_dead))
    ]


def standing_proofs(procedure: Procedure, state: State) -> list[str]:
    """Return the dead proofs, begun or made, that stand so far, in working order: nothing has fed their zones since."""
    begun = state.begun
    return [s.id for s in procedure.steps if s.proves_dead and s.id in begun - state.ended.keys()]


def proofs_gone(procedure: Procedure, state: State) -> list[str]:
    """Return the dead proofs that were made, hold no longer or are in doubt, and are wanted by hands still to go on."""
    work = relations(procedure, state)
    wanted = {p for s in work.steps if s.id not in state.done for z in s.hands_on for p in work.provers(s.id, z)}
    gone = state.doubted | state.ended.keys()
    return [s.id for s in work.steps if s.id in wanted and s.id in state.done and s.id in gone]


def gap(procedure: Procedure, state: State, now: datetime) -> Gap | None:
    """Return what a gap in the entries until ``now`` does to the dead proofs, or None if it does nothing.

    The gap is the clock's, whether the program was left, a lid was closed or nobody typed. A step may take as long as
    it says; a longer gap throws doubt on a whole proof, and ends one that is half made.
    """
    gap_s = state.idle_s(now)
    current = next((s for s in relations(procedure, state).steps if s.id not in state.done), None)
    if gap_s <= (TAKES_S if current is None else current.takes_s):
        return None
    proofs = [p for p in standing_proofs(procedure, state) if p not in state.doubted]
    half = [p for p in proofs if _half_made(procedure, state, p)]
    ended = proofs if gap_s >= NOBODY_ASKED_S else half
    doubted = [p for p in proofs if p not in ended]
    if gap_s >= NOBODY_ASKED_S:
        ended = [*ended, *(p for p in state.doubted if p not in state.ended)]
    return Gap(gap_s, tuple(doubted), tuple(ended)) if doubted or ended else None


def _half_made(procedure: Procedure, state: State, prover: str) -> bool:
    """True if another step of the same proof is not done yet."""
    work = relations(procedure, state)
    work = work if prover in work.step else _whole(procedure)
    one = procedure.step_by_id[prover]
    return any(
        not _holds(state, other.id) for other in work.steps if other.id == prover or work.of_one_proof(one, other)
    )


def zone_state(procedure: Procedure, state: State, zone: str) -> str:
    """Return ``dead`` if what isolates a zone was done last and still holds, else ``live``."""
    touched = [s for s in relations(procedure, state).steps if s.id in state.done and zone in (*s.isolates, *s.feeds)]
    last = max(touched, key=lambda s: state.done[s.id].n, default=None)
    return DEAD if last is not None and zone in last.isolates and not state.done[last.id].ended else LIVE


def stands(procedure: Procedure, state: State, zone: str, at: str | None) -> tuple[str, str]:
    """Return how a zone stands for the hands that go on it next, in the step ``at`` or after it.

    ``live`` until all that isolates it is done, then ``off``, ``dead`` or ``doubt``; and for the last two the step that
    made its proof whole.
    """
    work = relations(procedure, state)
    ahead = work.steps[work.place(at) :]
    hands = next((step.id for step in ahead if zone in step.hands_on), "")
    isolators, proofs = work._made_safe(hands, zone) if hands else ((), ())
    if zone_state(procedure, state, zone) == LIVE or not all(_holds(state, step) for step in isolators):
        return LIVE, ""
    if not proofs or not all(_holds(state, proof) for proof in proofs):
        return OFF, ""
    last = max(proofs, key=lambda proof: state.done[proof].n)
    return DEAD if state.doubted.isdisjoint(proofs) else DOUBT, last


def wrong_at_end(procedure: Procedure, state: State) -> Need | None:
    """Return the first zone that is not in the state in which the procedure leaves it, or None."""
    for zone in procedure.zones:
        touched = [s for s in relations(procedure, state).steps if zone.id in (*s.isolates, *s.feeds)]
        if touched and zone_state(procedure, state, zone.id) != zone.left:
            return Need(touched[-1].id, f"{zone.name} is to be left {zone.left}")
    return None
