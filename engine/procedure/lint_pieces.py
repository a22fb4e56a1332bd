"""Lint: pieces that hands make. Each is worked on, and proved after that by something that is judged."""

from collections.abc import Iterator

from engine.finding import Verdict
from engine.procedure.faults import Place
from engine.procedure.hands import verbs_of, words
from engine.procedure.jobs import MOST_WAYS, TooManyJobs, jobs
from engine.procedure.load import Loaded
from engine.procedure.model import Piece, Procedure

Found = Iterator[tuple[Place, str]]

MENDED = ("polarity", "measured-drop", "heat", "joint", "pull", "spare-end", "strands")
"""Checks whose fail is mended by opening what they prove (project rule)."""

MADE = ("torque", "strip", "stud", "leak", "lamp", "pin-map", "hole", "true-size", "wire-left", "pump", "sensor")
OF_THE_WORK = {*(set(MENDED) - {"polarity"}), *MADE}
"""Checks on what hands made: once the work has begun, their step makes or proves a piece (project rule)."""


def piece_faults(loaded: Loaded) -> Found:
    """Give every piece that is not made and proved, every proof that nothing judges, every remedy of nothing."""
    for piece in loaded.procedure.pieces:
        yield from _made_and_proved(loaded, piece)
    yield from _proofs(loaded)
    yield from _remedies(loaded)
    yield from _apart(loaded)
    yield from _early(loaded)


def _made_and_proved(loaded: Loaded, piece: Piece) -> Found:
    procedure = loaded.procedure
    place = loaded.place.key("piece").row(piece.id)
    touching = [s for s in procedure.steps if piece.id in (*s.works, *s.proves)]
    by_hand = not piece.rests_on or any(step.hands_on for step in touching)
    if by_hand and not any(piece.id in step.works for step in touching):
        yield place, "no step works on it; name the step that makes it, or what it rests on, or take it out"
    elif not any(piece.id in step.proves for step in touching):
        yield place, "no step proves it; name the step that judges it, or take it out"
    try:
        in_jobs = jobs(procedure, touching)
    except TooManyJobs:
        yield place, f"its conditions take more than {MOST_WAYS} ways to answer; not all its jobs were looked at"
        return
    for steps in in_jobs:
        last = next((s for s in reversed(steps) if piece.id in s.works), None)
        if last is not None and not any(piece.id in s.proves for s in steps[steps.index(last) :]):
            yield (
                loaded.steps[last.id].key("works"),
                f'works on "{piece.id}" and in some job no step proves it afterwards; let one that judges it prove it',
            )


def _apart(loaded: Loaded) -> Found:
    """Give every piece that is worked on before the whole is proved, and that no whole rests on.

    A whole is what nobody works on: it is made of pieces.
    """
    procedure = loaded.procedure
    worked = {piece for step in procedure.steps for piece in step.works}
    wholes = {piece.id for piece in procedure.pieces if piece.rests_on and piece.id not in worked}
    last = max((n for n, step in enumerate(procedure.steps) if wholes & set(step.proves)), default=0)
    carried = {piece for whole in wholes for piece in with_below(procedure, whole)}
    before = {piece for step in procedure.steps[:last] for piece in step.works}
    for piece in procedure.pieces:
        if piece.id in before - carried:
            place = loaded.place.key("piece").row(piece.id)
            yield place, f"{' and '.join(sorted(wholes))} does not rest on it, and is proved after it; name it there"


def _early(loaded: Loaded) -> Found:
    """Give every proof of a piece before any step works on it, if one does in every job."""
    for number, step in enumerate(loaded.procedure.steps):
        made = {piece for before in loaded.procedure.steps[: number + 1] for piece in before.works}
        later = {piece for s in loaded.procedure.steps[number:] if s.when is None for piece in s.works}
        for piece in step.proves:
            if piece in later - made:
                yield loaded.steps[step.id].key("proves"), f'proves "{piece}" before any step works on it'


def _proofs(loaded: Loaded) -> Found:
    begun = False
    for step in loaded.procedure.steps:
        place = loaded.steps[step.id]
        begun = begun or bool(step.works)
        touches = step.works or step.proves or step.isolates or step.feeds or step.proves_dead or step.closes
        fails = any(limit.otherwise is Verdict.FAIL for limit in step.limits)
        own = {entry.id for entry in step.readings}
        later = any(
            own & check.entries for other in loaded.procedure.steps if other is not step for check in other.checks
        )
        if begun and fails and not touches and not later and words("looks").intersection(verbs_of(step)):
            yield place.key("do"), "looks at what hands made, fails it, and proves no piece; name it in proves"
        if step.proves and not (step.checks or step.limits or step.parts):
            yield place.key("proves"), "proves something and judges nothing; give it a limit, a check or parts"
        for at, check in zip(loaded.checks[step.id], step.checks, strict=True):
            if begun and check.name in OF_THE_WORK and not (step.proves or step.works):
                yield at, "judges what hands made, and the step proves no piece; name it in proves"


def _remedies(loaded: Loaded) -> Found:
    """Give the proofs whose fail opens something that no remedy names, and remedies of what is not made yet."""
    made: set[str] = set()
    for step in loaded.procedure.steps:
        made |= set(step.works)
        for mend in step.mends:
            for piece in mend.works:
                if piece not in made:
                    place = loaded.steps[step.id].key("mend")
                    yield place, f'opens "{piece}", on which no step before works; name what was made before'
        for place, check in zip(loaded.checks[step.id], step.checks, strict=True):
            if check.name in MENDED and step.proves and not step.works and not step.mends:
                yield place, "its fail is mended by opening what it proves; say what is opened in mend"


def with_below(procedure: Procedure, piece: str) -> list[str]:
    """Return a piece and all that it rests on, itself first."""
    found = [piece]
    for one in found:
        below = procedure.piece_by_id[one].rests_on if one in procedure.piece_by_id else ()
        found += [other for other in below if other not in found]
    return found
