"""Work or show: of so many honest logs how many are asked about, and of so many shown ones how many are named.

``python tests/bench/bench_work_or_show.py [COUNT] [SEED]``: COUNT honest logs, half of them with one of the honest
oddities, and COUNT shown ones, in classes of thirty that are reviewed as a folder each. Prints a line a kind, with an
example of the words. Status 1 if more than 1 % of the honest are asked about, or fewer than 95 % of the shown named.
"""

import os
import random
import sys
from collections import Counter, defaultdict
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from engine.review import desk as room
from engine.review.desk import Desk
from engine.review.row import LogRow
from engine.session import commands as c
from engine.session.answers import PassTime
from engine.session.play import play
from engine.session.scan import scan
from tests.bench.people import MORNING, Bench, Job, Person, base, given_clock, measured, worked
from tests.review.forging import rebuilt

CLASS = 30
"""Logs of a class [count]."""

HONEST_MOST, SHOWN_LEAST = 0.01, 0.95
"""Share of honest logs that may be asked about, and of shown ones that are named at the least [no unit]; the project's
own aim."""


@dataclass
class Seat:
    """One place in a class: where its log goes, whose it is, on which bench, and when it begins."""

    into: Path
    name: str
    person: Person
    bench: Bench
    dice: random.Random
    start: datetime


Kind = Callable[[Seat], object]


def plain(seat: Seat, **texts: str) -> Path:
    """Work as anybody does."""
    return worked(seat.into, seat.name, seat.person, seat.bench, seat.dice, seat.start, **texts)


# Honest


def partners(seat: Seat) -> None:
    """Two people measure on one bench, a minute after each other; each keeps a log."""
    read = measured(seat.bench, random.Random(seat.dice.random()))
    shared = {entry: text for entry, text in read.items() if seat.dice.random() < 0.75}
    plain(seat, **shared)
    other = replace(seat, name=seat.name.replace(".toml", "-b.toml"), person=replace(seat.person, name="Partner"))
    other.start = seat.start + timedelta(seconds=60)
    plain(other, **shared)


def petrol(seat: Seat) -> None:
    """Smell petrol, stop, and say so."""

    def before(job: Job, action: object) -> list[object]:
        if not (isinstance(action, c.Take) and action.entry == "smell"):
            return [action]
        return [replace(action, text="some"), c.Stop("smell of petrol from the bilge", "nothing is open, all is off")]

    seat.person.before = before
    plain(seat, smell="some")


def quick(seat: Seat) -> None:
    """A quick worker."""
    seat.person.entry_s, seat.person.work_s = 6.0, 30.0
    plain(seat)


def many_corrections(seat: Seat) -> None:
    """Many slips of a key, corrected at once; a misread value among them."""

    def before(job: Job, action: object) -> list[object]:
        slips = {"pull_1", "pull_2", "v_bank", "v_battery_1", "i_load", "mv_1", "wire_free", "hole_largest", "i_heat"}
        if not (isinstance(action, c.Take) and action.entry in slips and job.dice.random() < 0.8):
            return [action]
        right = job.texts.get(action.entry, action.text)
        digits = [n for n, sign in enumerate(right) if sign.isdigit()]
        at, wrong = job.dice.choice(digits), job.dice.choice("0123456789")
        mistaken = right[:at] + wrong + right[at + 1 :]
        if action.entry == "pull_2" and job.dice.random() < 0.5:
            mistaken = "77 N"  # misread, the scale was not at rest
        job.texts[action.entry] = mistaken
        return [action, c.Correct(action.entry, right, "typed the wrong key")] if mistaken != right else [action]

    seat.person.before = before
    plain(seat)


def offset(seat: Seat) -> None:
    """A bench whose meters read a little high."""
    seat.bench.volts_off, seat.bench.current_off = 0.12, 0.9
    plain(seat)


def wrong_year(seat: Seat) -> None:
    """A laptop whose clock stands years back."""
    seat.start = seat.start.replace(year=2019)
    plain(seat)


def break_and_handover(seat: Seat) -> None:
    """Two hours' break before anything is opened, and somebody else goes on."""

    def before(job: Job, action: object) -> list[object]:
        if not (isinstance(action, c.Finish) and action.step == "plan-verdict"):
            return [action]
        job.send(c.Leave("lunch"))
        job.clock.go_on(7200)
        return [c.Return(), c.HandOver("Somebody Else"), action]

    seat.person.before = before
    plain(seat)


def bad_joint(seat: Seat) -> None:
    """A joint that is bad, measured, told, left: an honest fail."""
    seat.bench.joints_ohm = (seat.bench.joints_ohm[0], 0.0026)
    plain(seat)


def no_meter(seat: Seat) -> None:
    """No millivolt meter: said so."""

    def before(job: Job, action: object) -> list[object]:
        without = isinstance(action, c.Take) and action.entry in ("mv_1", "mv_2")
        asked = base()[0].entry_by_id[action.entry] if isinstance(action, c.Take) else None
        return [c.SkipEntry(action.entry, asked.skip[0])] if without and asked and asked.skip else [action]

    seat.person.before = before
    plain(seat)


# Shown


def hurried(seat: Seat) -> None:
    """All typed, two seconds an entry; "ten minutes" are waited out."""
    seat.person.entry_s, seat.person.work_s = 1.6, 2.0
    plain(seat)


def backfilled(seat: Seat) -> None:
    """The job is left alone for two hours, and then typed in one go."""
    seat.person.entry_s, seat.person.work_s = 2.6, 3.0
    break_and_handover(seat)


def short_heat(seat: Seat) -> None:
    """The ten minutes are one to three."""
    seat.person.soak_s = (60.0, 200.0)
    plain(seat)


def clock_ahead(seat: Seat) -> None:
    """The ten minutes are made by the clock."""

    def before(job: Job, action: object) -> list[object]:
        if not isinstance(action, PassTime):
            return [action]
        job.clock.set_ahead(600)
        job.clock.go_on(30)
        return []

    seat.person.before = before
    plain(seat)


def no_rise(seat: Seat) -> None:
    """The load never ran: all is as warm as the air."""
    air = seat.dice.gauss(19, 3)
    same = ("t_positive", "t_negative", "t_ambient")
    plain(seat, **{entry: f"{air + seat.dice.choice((-0.1, 0.0, 0.1)):.1f}" for entry in same})


def answers_file(seat: Seat) -> None:
    """Played from a file."""
    procedure, answers = base()
    texts = measured(seat.bench, seat.dice)
    actions = tuple(
        replace(a, text=texts.get(a.entry, a.text)) if isinstance(a, c.Take) else a for a in answers.actions
    )
    start = replace(answers.start, person=seat.person.name, asset=seat.bench.name, demo=False)
    played = play(procedure, replace(answers, actions=actions, start=start), seat.into, given_clock(seat.start))
    played.path.rename(seat.into / seat.name)


def demo(seat: Seat) -> None:
    """The demo, handed in."""
    seat.person.demo = True
    plain(seat)


def sample(seat: Seat) -> None:
    """The shipped sample, typed off at a human pace."""
    given = {a.entry: a.text for a in base()[1].actions if isinstance(a, c.Take)}
    plain(seat, **given)


def even(seat: Seat) -> None:
    """A script that types, at one pace."""
    seat.person.even_s = 16.0
    plain(seat)


def rounded(seat: Seat) -> None:
    """Whole volts and tens of everything."""

    def coarse(text: str) -> str:
        number, _, unit = text.partition(" ")
        sign = "+" if number[0] == "+" else ""
        return f"{sign}{float(number):.0f} {unit}".strip() if float(number) else text

    read = measured(seat.bench, seat.dice)
    plain(seat, **{entry: coarse(text) for entry, text in read.items()})


def one_digit(seat: Seat) -> None:
    """Invented figures that all end in one digit."""
    digit = seat.dice.choice("0537")
    read = measured(seat.bench, seat.dice)
    keep = ("live_pair",)
    plain(seat, **{e: t if e in keep or t.startswith("0.0") else _ends(t, digit) for e, t in read.items()})


def _ends(text: str, digit: str) -> str:
    number, _, unit = text.partition(" ")
    return f"{number[:-1]}{digit} {unit}".strip()


def invented_drop(seat: Seat) -> None:
    """A drop that no wire of that size can have, left as a deviation."""
    read = measured(seat.bench, seat.dice)
    plain(seat, v_bank_load=read["v_bank_load"],
          v_receptacle_load=f"{float(read['v_bank_load']) - seat.dice.uniform(0.08, 0.2):.2f}")  # fmt: skip


def copied(seat: Seat) -> None:
    """The log of somebody else, typed off with a few values changed."""
    source = next(p for p in sorted(seat.into.glob("*.toml")) if "honest" in p.name)
    texts = {str(e["entry"]): str(e["raw"]) for e in scan(source.read_bytes()).events if e.get("event") == "reading"}
    own = measured(seat.bench, seat.dice)
    for entry in seat.dice.sample(sorted(own), 7):
        texts[entry] = own[entry]
    plain(seat, **texts)


def resealed(seat: Seat) -> None:
    """A value changed afterwards, and the chain made anew."""
    path = plain(seat)
    path.write_bytes(rebuilt(lambda events: _lower(events, seat.dice), path))


def _lower(events: list[dict], dice: random.Random) -> None:
    one = dice.choice([e for e in events if e.get("event") == "reading" and (e.get("number") or 0) > 1])
    one["number"] *= 0.9
    one["raw"] = f"{one['number']:.2f}"


def corrected(seat: Seat) -> None:
    """What failed was corrected until it passed, not mended."""
    seat.bench.joints_ohm = (0.0027, 0.0029)

    def before(job: Job, action: object) -> list[object]:
        if not (isinstance(action, c.Finish) and action.step == "load-test"):
            return [action]
        return [c.Correct(e, f"{job.dice.uniform(12, 19):.0f}", "looked again") for e in ("mv_1", "mv_2")] + [
            c.Correct("v_receptacle_load", job.texts["better"], "looked again"),
            action,
        ]

    seat.person.before = before
    fair = measured(Bench(seat.bench.name, random.Random(seat.dice.random())), seat.dice)
    lost = float(fair["v_bank_load"]) - float(fair["v_receptacle_load"])
    warm = {entry: fair[entry] for entry in ("t_positive", "t_negative", "t_ambient")}
    read = measured(seat.bench, seat.dice) | warm
    plain(seat, **{**read, "better": f"{float(read['v_bank_load']) - lost:.2f}"})


HONEST: dict[str, Kind] = {
    "plain": plain, "partners": partners, "petrol, stopped": petrol, "quick": quick,
    "many corrections": many_corrections, "bench reads high": offset, "wrong year": wrong_year,
    "break and handover": break_and_handover, "bad joint, told": bad_joint, "no millivolt meter": no_meter,
}  # fmt: skip

SHOWN: dict[str, Kind] = {
    "hurried": hurried, "backfilled": backfilled, "short heat": short_heat, "clock set ahead": clock_ahead,
    "no rise": no_rise, "answers file": answers_file, "demo": demo, "sample typed off": sample, "even pace": even,
    "rounded": rounded, "one last digit": one_digit, "invented drop": invented_drop, "copied": copied,
    "resealed": resealed, "corrected": corrected,
}  # fmt: skip


def one_class(asked: tuple[int, Path]) -> dict[str, tuple[str, LogRow]]:
    """Make a class, half honest and half shown, review it, and return each log's kind and line by name."""
    seed, place = asked
    os.fsync = lambda handle: None  # the logs are for a bench: a power cut may take them
    into, dice = place / f"class-{seed}", random.Random(seed)
    into.mkdir(parents=True)
    kinds: dict[str, str] = {}
    plans: list[tuple[str, Kind]] = []
    for n in range(CLASS):
        kind = dice.choice(sorted(HONEST if n < CLASS // 2 else SHOWN)) if n >= CLASS // 4 else "plain"
        plans.append((kind, (HONEST | SHOWN)[kind]))
    for n, (kind, do) in enumerate(plans):
        honest = n < CLASS // 2
        name, number = f"{'honest' if honest else 'shown'}-{n:02d}.toml", random.Random(seed * 1000 + n)
        bench = Bench(f"Bench {seed}-{n}", number)
        person = Person(f"Person {n}", entry_s=number.uniform(9, 18), work_s=number.uniform(45, 110))
        do(Seat(into, name, person, bench, number, MORNING + timedelta(days=seed, minutes=7 * n)))
        kinds[name] = kind
        if kind == "partners":
            kinds[name.replace(".toml", "-b.toml")] = kind
    room.index_path = lambda: place / f"index-{seed}.sqlite"
    desk = Desk(into)
    desk.look(jobs=1)
    desk.compare()
    return {row.name: (kinds[row.name], row) for row in desk.rows}


def accused(row: LogRow) -> str:
    """Return what a log is asked about beyond what was measured; empty if nothing.

    Of two logs that are alike the one that was begun first is not: its owner has nothing to answer for.
    """
    if row.rebuilt or not row.trusted:
        return row.rebuilt or row.first_bad
    if row.differs or row.order:
        return row.first_bad
    if row.doubts:
        return row.doubts[0]
    like = row.like
    return like.sentence if like and not like.together and (like.same or like.after_s > 0) else ""


def main() -> int:
    """Make the classes, and say what became of each kind."""
    count, first = (int(sys.argv[1]) if len(sys.argv) > 1 else 120), int((sys.argv[2:] or ["0"])[0])
    told: dict[tuple[bool, str], list[tuple[bool, str, bool]]] = defaultdict(list)
    with TemporaryDirectory() as place, ProcessPoolExecutor(2) as pool:
        classes = range(first, first + -(-2 * count // CLASS))
        for found in pool.map(one_class, [(seed, Path(place)) for seed in classes]):
            for name, (kind, row) in found.items():
                why = accused(row)
                listed = why or (row.first_bad if not row.looks_clean else "")
                told[name.startswith("honest"), kind].append((bool(why), why or listed, not row.looks_clean))
    return max(said(told, honest=True), said(told, honest=False))


def said(told: dict[tuple[bool, str], list[tuple[bool, str, bool]]], *, honest: bool) -> int:
    """Print what became of the honest, or of the shown; status 1 if it is worse than the aim."""
    rows = {kind: each for (whose, kind), each in told.items() if whose is honest}
    total = sum(map(len, rows.values()))
    named = sum(asked if honest else kept for each in rows.values() for asked, _, kept in each)
    word = "asked about" if honest else "named"
    print(f"\n{'honest' if honest else 'shown'}: {total} logs, {named} {word} = {named / total:.1%}")
    for kind, each in sorted(rows.items()):
        asked, kept = sum(a for a, _, _ in each), sum(k for *_, k in each)
        words = "".join(w for w, _ in Counter(w for _, w, _ in each if w).most_common(1))
        print(f"  {kind:20} {len(each):4} logs, {asked:4} asked about, {kept:4} to look at; {words}")
    return int(named > HONEST_MOST * total if honest else named < SHOWN_LEAST * total)


if __name__ == "__main__":
    sys.exit(main())
