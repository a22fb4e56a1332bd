"""What somebody at a desk may do next: the sensible thing, which a clean job is made of, or anything at all."""

import random
from functools import cache

from desk import Desk, clean_answers, on_the_way, shipped_procedure

from engine.procedure.model import Entry
from engine.quantity import from_base
from engine.session import commands as c
from engine.session.gates import current_step, entries, open_entries, shut
from engine.session.outcome import Asked, Outcome, Recorded, Refusal, answered

WAITS_S = (1.0, 60.0, 599.0, 605.0, 660.0, 3600.0, 12 * 3600.0, 54000.0)
SETS_S = (-54000.0, -3600.0, -300.0, -30.0, 300.0, 54000.0)
REASONS = ("known and watched", "no", "")


@cache
def good_texts(name: str) -> dict[str, str]:
    """Return what the clean job gives for each entry; for the rest, what it may well be."""
    work = shipped_procedure(name)
    said = {a.entry: a.text for a in clean_answers(name).actions if isinstance(a, c.Take | c.Correct)}
    return {entry.id: said.get(entry.id) or _likely(entry) for entry in work.entry_by_id.values()}


def _likely(entry: Entry) -> str:
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
    return _number(entry, (low + high) / 2)


def _number(entry: Entry, number: float) -> str:
    number = from_base(number, entry.unit)
    text = str(round(number)) if entry.unit == "" else f"{number:.3f}"
    return f"+{text}" if entry.signed and number >= 0 else text


def any_text(name: str, entry: Entry, dice: random.Random) -> str:
    """Return a text for an entry: right, at an end of what it can be, somewhere in between, or no answer at all."""
    roll = dice.random()
    if roll < 0.4:
        return good_texts(name)[entry.id]
    if roll < 0.45:
        return dice.choice(["", "?", "OL", "yes", "12,4", "1/2", "\x1b[2J", "9" * 40])
    if entry.unit == "yes/no":
        return dice.choice(["yes", "no"])
    if entry.unit == "choice":
        return dice.choice(entry.choices)
    if entry.unit == "words":
        return "a few other words"
    if entry.unit == "pin map":
        good = good_texts(name)[entry.id]
        return dice.choice([good.replace(" 2-", " 1-", 1), good[: len(good) // 2], good.replace("1", "2", 1)])
    if entry.unit == "wire":
        return dice.choice(["6 AWG", "8 AWG", "10 AWG", "8", "2/0", "35 mm2"])
    low, high = (entry.likely if dice.random() < 0.5 else entry.hard) or (0.0, 1.0)
    return _number(entry, dice.choice([low, high, dice.uniform(low, high)]))


@cache
def _ids(name: str) -> tuple[tuple[str, ...], tuple[str, ...], tuple[tuple[str, str], ...]]:
    work = shipped_procedure(name)
    steps = tuple(step.id for step in work.steps)
    keys = tuple(
        (step.id, key)
        for step in work.steps
        for key in (*(x.name for x in step.checks), *(f"limit {n + 1}" for n in range(len(step.limits))))
    )
    return steps, tuple(work.entry_by_id), keys


def anything(desk: Desk, dice: random.Random) -> c.Command:
    """Return any command about anything: most are refused, and those that stand tear at the job."""
    name = desk.work.id
    steps, entries, keys = _ids(name)
    step, entry, (at, key) = dice.choice(steps), dice.choice(entries), dice.choice(keys)
    if dice.random() < 0.5:
        entry = dice.choice(list(desk.state.given) or [entry])
        step = dice.choice(list(desk.state.done) or [step])
    text = any_text(name, desk.work.entry_by_id[entry], dice)
    kinds = (
        lambda: c.Take(entry, text, dice.choice([None, 0, 1])),
        lambda: c.Correct(entry, text, "typed it wrong", dice.choice([None, 0, 1])),
        lambda: c.Redo(step),
        lambda: c.Finish(step),
        lambda: c.SkipEntry(entry, dice.choice(["no instrument", ""])),
        lambda: c.TakeSeveral(step, dice.choice([text, f"{text}; {text}"])),
        lambda: c.NamePart(step, dice.choice(["none", *(p.id for p in desk.work.step_by_id[step].parts)])),
        lambda: c.Accept(at, key, dice.choice(REASONS)),
        lambda: c.Deviate(at, key, dice.choice(REASONS), dice.choice(["AT", ""])),
        lambda: c.HandOver(dice.choice("ABCD")),
        lambda: c.Leave("back soon"),
        c.Return,
        lambda: c.ChooseProfile(dice.choice(["industry", "house", "none"])),
        lambda: c.DeclareInstrument(dice.choice(["dmm_v", "clamp", "x"]), "m", dice.choice([0.5, 5.0, 99.0]), 2, 0.01),
        lambda: c.Note(step, text),
        c.Close,
        lambda: c.Start("Another", "B"),
        lambda: c.FollowUp("x", "fine"),
    )
    return dice.choice(kinds)()


@cache
def spoiling(name: str) -> frozenset[str]:
    """Return the steps before which a proof can grow too old, and those that take such a proof."""
    work = shipped_procedure(name)
    old = {step.id for step in work.steps if step.lasts_s is not None}
    return frozenset(old | {step.id for step in work.steps if old & set(step.needs)})


class Helper:
    """Somebody who wants the job done: does the next thing, and mends what keeps it from going on."""

    def __init__(self, desk: Desk, dice: random.Random, *, clean: bool) -> None:
        self.desk, self.dice, self.clean = desk, dice, clean
        self.texts = good_texts(desk.work.id)

    def at(self) -> str | None:
        """Return the step at which the job is."""
        return current_step(self.desk.work, self.desk.state, self.desk.clock.glance())

    def on(self) -> Outcome:
        """Do one thing."""
        desk = self.desk
        if desk.state.away:
            return desk.send(c.Return())
        at = self.at()
        last = at == self.desk.work.steps[-1].id
        if at is not None and not self.clean and self.dice.random() < (0.5 if last else 0.1):
            return desk.send(self._cut_short(at))
        return self._close() if at is None else self._work_on(at)

    def _cut_short(self, at: str) -> c.Command:
        """Try to be done with the step, or with the whole job, before its time."""
        asked = entries(self.desk.work, self.desk.state, self.desk.work.step_by_id[at])
        entry = self.dice.choice([e.id for e in asked] or [""])
        return self.dice.choice([c.Close(), c.Finish(at), c.SkipEntry(entry, "no instrument")])

    def _close(self) -> Outcome:
        if not self.clean and self.dice.random() < 0.5:
            self.desk.send(c.Redo(self.dice.choice(list(self.desk.state.done))))
        outcome = self.desk.send(c.Close())
        if isinstance(outcome, Refusal) and outcome.step:
            return self._mend(outcome)
        return outcome

    def _work_on(self, at: str) -> Outcome:
        desk, state = self.desk, self.desk.state
        step = desk.work.step_by_id[at]
        if needs := shut(desk.work, state, step, desk.clock.glance(), anew=True):
            gate = needs[0].step
            if gate in state.done or gate == at:
                return self._redo(gate)
            if gate != at and at not in state.rejudged:
                return self._work_on(gate)
        elif wanted := open_entries(desk.work, state, step):
            return self._give(wanted[0])
        elif unseen := [p.id for p in step.parts if p.id not in state.named.get(at, ())]:
            return desk.send(c.NamePart(at, unseen[0]))
        outcome = desk.send(c.Finish(at))
        return self._mend(outcome) if isinstance(outcome, Refusal) else outcome

    def _give(self, entry: Entry) -> Outcome:
        good = self.clean or self.dice.random() < 0.9
        text = self.texts[entry.id] if good else any_text(self.desk.work.id, entry, self.dice)
        return self._answer(self.desk.send(c.Take(entry.id, text)))

    def _answer(self, outcome: Outcome) -> Outcome:
        return self.desk.send(answered(outcome, 0)) if isinstance(outcome, Asked) else outcome

    def _mend(self, refused: Refusal) -> Outcome:
        """Settle a finding, or correct whatever is not as in the clean job, or do the step again."""
        desk, key = self.desk, next(iter(refused.missing), "")
        if not self.clean and self.dice.random() < 0.5:
            reason = "known and watched"
            settle = self.dice.choice([c.Accept(refused.step, key, reason), c.Deviate(refused.step, key, reason, "AT")])
            if isinstance(outcome := desk.send(settle), Recorded):
                return outcome
        start = clean_answers(desk.work.id).start
        if desk.state.profile != (start.profile or desk.work.profile):
            return desk.send(c.ChooseProfile(start.profile or desk.work.profile))
        for entry in desk.state.absent:
            if isinstance(outcome := self._correct(entry), Recorded):
                return outcome
        for entry, given in desk.state.given.items():
            if given.taken.raw != self.texts[entry] or len(given.readings) > 1:
                outcome = self._correct(entry)
                if isinstance(outcome, Recorded) and given.taken.raw != self.texts[entry]:
                    return outcome
        if (settled := self._settled_in_the_clean_job(refused.step, key)) is not None:
            return settled
        return self._redo(refused.step)

    def _settled_in_the_clean_job(self, step: str, key: str) -> Outcome | None:
        """Accept what the clean job accepts here, or None if it accepts nothing."""
        for action in clean_answers(self.desk.work.id).actions:
            if isinstance(action, c.Accept | c.Deviate) and (action.step, action.key) == (step, key):
                return self.desk.send(action)
        return None

    def _correct(self, entry: str) -> Outcome:
        return self._answer(self.desk.send(c.Correct(entry, self.texts[entry], "as it should be")))

    def _redo(self, step: str) -> Outcome:
        """Do a step again, or what it rests on first."""
        outcome = self.desk.send(c.Redo(step))
        again = isinstance(outcome, Refusal) and outcome.step not in ("", step)
        return self._redo(outcome.step) if again else outcome


def walk(name: str, seed: int, commands: int = 60, to_the_end: bool = False) -> Desk:
    """Return a desk after random commands on a job that was under way, or just begun; the ledger watches every one."""
    dice = random.Random(seed)
    desks = on_the_way(name)
    desk = (desks[0] if dice.random() < 0.1 else dice.choice(desks)).copy()
    helper = Helper(desk, dice, clean=False)
    wild = dice.choice([0.05, 0.2, 0.5])
    spoils = spoiling(name)
    for _ in range(commands):
        roll = dice.random()
        if roll < (0.3 if spoils and helper.at() in spoils else 0.03):
            desk.wait(dice.choice(WAITS_S), dice.choice(SETS_S) if dice.random() < 0.3 else 0.0)
        elif roll < 0.04:
            desk.crash(dice.choice(WAITS_S), reboot=dice.random() < 0.3)
        elif roll < 0.04 + wild:
            desk.send(anything(desk, dice))
        else:
            helper.on()
        if desk.state.over:
            break
    if to_the_end:
        finish(desk, dice)
    desk.check()
    return desk


def finish(desk: Desk, dice: random.Random, most: int = 600) -> None:
    """Mend the job, whatever became of it, and bring it to its end: there is always a way on."""
    helper = Helper(desk, dice, clean=True)
    for _ in range(most):
        if desk.state.over:
            return
        helper.on()
