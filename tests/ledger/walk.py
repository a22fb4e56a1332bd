"""Random jobs: the clean job up to anywhere, then disturbances with sensible work between, then on to the close."""

import random
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace

from engine.procedure.model import Entry
from engine.session import commands as c
from engine.session.outcome import Asked, answered
from tests.ledger.desk import Action, Desk, Wait, clean_jobs
from tests.ledger.helper import WHY, Helper, good_texts, number
from tests.ledger.ledger import Offence
from tests.ledger.sequence import GoOn, Sequence, clean_offences, on_the_way, play

Key = tuple[str, str, str]

WAITS_S = (60.0, 300.0, 540.0, 660.0, 1500.0, 3600.0, 3 * 3600.0, 5 * 3600.0, 12 * 3600.0, 30 * 3600.0)
"""Idle times [s]: a minute to thirty hours, about the twenty minutes and the four hours of the project's rule."""

SETS_S = (-30 * 3600.0, -3600.0, -300.0, 300.0, 54000.0)
"""By how much somebody sets the clock [s]."""

DISTURBANCES = 4
MOVES = 110
"""Sensible moves after the last disturbance, at most [count]: from the middle of a job this comes to its end."""


@dataclass(slots=True)
class Walk:
    """Where a job began, and the desk at its end."""

    job: int
    after: int
    desk: Desk

    def offences(self) -> dict[Key, Offence]:
        """Return what the clean job does not have."""
        known = clean_offences(self.desk.work.id)
        return {key: offence for key, offence in self.desk.ledger.offences.items() if key not in known}

    def sequence(self) -> Sequence:
        """Return what was done."""
        begun = on_the_way(self.desk.work.id, self.job)[self.after].did
        return Sequence(self.desk.work.id, tuple(self.desk.did[len(begun) :]), self.job, self.after)


def walk(name: str, seed: int) -> Walk:
    """Return a random job."""
    dice = random.Random(f"{name} {seed}")
    job = dice.randrange(len(clean_jobs(name)))
    after = dice.randrange(len(clean_jobs(name)[job].actions))
    after = max(after, dice.randrange(len(clean_jobs(name)[job].actions)))
    desk = on_the_way(name, job)[after].copy()
    helper = Helper(desk, job, dice)
    for _ in range(dice.randint(1, DISTURBANCES)):
        disturb(desk, helper, dice, job)
        for _ in range(dice.choice((0, 0, 1, 3, 10, 30))):
            if not desk.state.over:
                helper.on()
    helper.until("", most=MOVES)
    return Walk(job, after, desk)


def disturb(desk: Desk, helper: Helper, dice: random.Random, job: int) -> None:
    """Do one thing that is not simply the next."""
    if desk.state.over:
        return
    kinds: list[tuple[int, Callable[[], Iterator[Action]]]] = [
        (6, lambda: _redone(desk, dice)),
        (3, lambda: _idle(dice)),
        (2, lambda: _away(dice)),
        (2, lambda: iter([c.HandOver(dice.choice("ABCD"))])),
        (4, lambda: _corrected(desk, dice, job)),
        (4, lambda: _odd(desk, dice, job)),
        (1, lambda: _left_out(desk, dice)),
        (1, lambda: _settled(desk, dice)),
        (1, lambda: iter([c.Finish(dice.choice(desk.work.steps).id), c.Close()])),
        (1, lambda: iter([c.ChooseProfile(dice.choice(("industry", "house")))])),
    ]
    chosen = dice.choices([kind for _, kind in kinds], [weight for weight, _ in kinds])[0]
    for action in chosen():
        outcome = desk.do(action)
        if isinstance(outcome, Asked):
            desk.do(answered(outcome, dice.randrange(len(outcome.question.choices))))


def _redone(desk: Desk, dice: random.Random) -> Iterator[Action]:
    if done := list(desk.state.done):
        step = dice.choice(done[-40:])
        yield c.Redo(step, dice.randint(0, len(desk.work.step_by_id[step].mends)))


def _idle(dice: random.Random) -> Iterator[Action]:
    yield Wait(dice.choice(WAITS_S), dice.choice(SETS_S) if dice.random() < 0.25 else 0.0)


def _away(dice: random.Random) -> Iterator[Action]:
    for _ in range(dice.choice((1, 1, 5))):
        yield c.Leave()
        yield from _idle(dice)
        yield c.Return()


def _corrected(desk: Desk, dice: random.Random, job: int) -> Iterator[Action]:
    if given := list(desk.state.given):
        entry = dice.choice(given[-60:] if dice.random() < 0.7 else given)
        yield c.Correct(entry, any_text(desk, entry, dice, job), WHY)


def _odd(desk: Desk, dice: random.Random, job: int) -> Iterator[Action]:
    """Give what is asked next another value; or, as often, any value of any step."""
    asked = [e.id for e in desk.asked(desk.work.step_by_id[at])] if (at := desk.at()) else []
    entry = dice.choice(asked) if asked and dice.random() < 0.7 else dice.choice(list(desk.work.entry_by_id))
    yield c.Take(entry, any_text(desk, entry, dice, job))
    if dice.random() < 0.5:
        yield c.Take(entry, good_texts(desk.work.id, job)[entry])


def _left_out(desk: Desk, dice: random.Random) -> Iterator[Action]:
    asked = desk.asked(desk.work.step_by_id[at]) if (at := desk.at()) else ()
    if asked:
        yield c.SkipEntry(dice.choice(asked).id, "no instrument for it")


def _settled(desk: Desk, dice: random.Random) -> Iterator[Action]:
    if found := list(desk.state.findings):
        step, key = dice.choice(found)
        yield dice.choice([c.Accept(step, key, WHY), c.Deviate(step, key, WHY, "AT")])


def any_text(desk: Desk, entry_id: str, dice: random.Random, job: int) -> str:
    """Return a text for an entry: right, at an end of its range or past it, live, reversed, another choice."""
    entry: Entry = desk.work.entry_by_id[entry_id]
    good = good_texts(desk.work.id, job)[entry_id]
    if dice.random() < 0.3 or entry.unit in ("words", "pin map"):
        return good
    if entry.unit == "yes/no":
        return dice.choice(("yes", "no"))
    if entry.unit == "choice":
        return dice.choice(entry.choices)
    if entry.unit == "wire":
        return dice.choice(("6 AWG", "8 AWG", "35 mm2", good))
    if entry.unit == "V":
        return dice.choice(("0.00", "0.10", "0.11", "12.6", "-12.6", "24.6", "-24.6", good))
    low, high = (entry.likely if dice.random() < 0.6 else entry.hard) or (0.0, 1.0)
    return number(entry, dice.choice((low, high, dice.uniform(low, high))))


def shortest(found: Walk, key: Key) -> Sequence:
    """Return the found sequence without what the offence does not need; the way on to the close is said in a word."""
    whole = found.sequence()
    kept: list[Action | GoOn] = list(whole.do)
    for length in (0, 1, 2, 3, 5, 8, 13, 21, 34, 55, 89):
        if key in _offences(short := replace(whole, do=(*whole.do[:length], GoOn()))):
            kept = list(short.do)
            break
    size = max(1, len(kept) // 2)
    while size:
        for at in range(len(kept), 0, -size):
            tried = kept[: max(0, at - size)] + kept[at:]
            if key in _offences(replace(whole, do=tuple(tried))):
                kept = tried
        size //= 2
    short = replace(whole, do=tuple(kept))
    offence = _offences(short).get(key) or found.desk.ledger.offences[key]
    return replace(short, offence=f"{offence.kind}: {offence.sentence}")


def _offences(sequence: Sequence) -> Mapping[Key, Offence]:
    return play(sequence)[0].ledger.offences
