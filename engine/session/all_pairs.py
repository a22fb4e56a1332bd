"""Every order of a work on a piece and a proof that rests on it, searched whole: no proof may be older than the work.

The searches of zones are told in ``all_orders``; a piece falls apart further still, into one work and one proof.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from engine.procedure.lint_pieces import with_below
from engine.procedure.model import Piece, Procedure, Step
from engine.session import commands as c
from engine.session.small_job import Offence, bare, begun, said, sent, small_procedure
from engine.session.state import State


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
    below = {piece.id: frozenset(with_below(procedure, piece.id)) for piece in procedure.pieces}
    for at, work in enumerate(steps):
        for proof in steps[at + 1 :]:
            resting = frozenset().union(*(below[piece] for piece in proof.proves))
            if resting.isdisjoint(work.works):
                continue
            if way := _way_to_stale(_pair(work, proof, below)):
                yield Offence(proof.id, f'stands although "{work.title}" was done after it', way)


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
        replace(bare(name), works=tuple(pieces[n].id for n in works), proves=tuple(pieces[n].id for n in proves))
        for name, (works, proves) in (("work", pair.work), ("proof", pair.proof))
    ]
    small = small_procedure(steps, pieces=pieces)
    to_do: list[tuple[State, bool, tuple[str, ...]]] = [(begun(small), False, ())]
    seen = set[object]()
    while to_do:
        state, shown, way = to_do.pop()
        for name in ("work", "proof"):
            command = c.Redo(name) if name in state.done else c.Finish(name)
            after = sent(small, state, command)
            if after is None:
                continue
            now = name == "proof" if isinstance(command, c.Finish) else shown
            way_now = (*way, said(command))
            if len(after.done) == len(steps) and not now:
                return way_now
            key = (frozenset(after.done), frozenset(after.rejudged), now)
            if key not in seen:
                seen.add(key)
                to_do.append((after, now, way_now))
    return ()
