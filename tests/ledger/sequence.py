"""A sequence of commands in words: read from a file, written so that it can be replayed, played on a desk."""

import random
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields
from functools import cache
from pathlib import Path
from typing import Any

from engine.quantity import Amount, read
from engine.session import commands as c
from engine.session.outcome import Outcome, Recorded
from tests.ledger.desk import Action, Desk, Wait, clean_jobs, played, shipped_procedure
from tests.ledger.helper import Helper
from tests.ledger.ledger import Offence

SEEN = Path(__file__).with_name("seen")

WORDS = {
    "give": ("Take", "entry", {"say": "text", "answer": "answer"}),
    "line": ("TakeSeveral", "step", {"say": "text"}),
    "skip": ("SkipEntry", "entry", {"reason": "reason"}),
    "part": ("NamePart", "part", {"step": "step"}),
    "done": ("Finish", "step", {"answer": "answer"}),
    "accept": ("Accept", "key", {"step": "step", "reason": "reason", "initials": "initials"}),
    "deviate": ("Deviate", "key", {"step": "step", "reason": "reason", "initials": "initials"}),
    "correct": ("Correct", "entry", {"say": "text", "reason": "reason", "answer": "answer"}),
    "redo": ("Redo", "step", {"mend": "mend"}),
    "note": ("Note", "text", {"step": "step"}),
    "leave": ("Leave", "line", {}),
    "come_back": ("Return", "", {}),
    "hand_over": ("HandOver", "person", {}),
    "profile": ("ChooseProfile", "profile", {}),
    "stayed": ("StayedWith", "text", {}),
    "hands_off": ("HandsOff", "", {}),
    "close": ("Close", "", {}),
}
"""By the word that begins a row: the command, its field of that word, and its other fields by their words."""


@dataclass(frozen=True, slots=True)
class GoOn:
    """Do all that is asked, as in the clean job, until a step is ended; without a step, until the job is closed."""

    until: str = ""


@dataclass(frozen=True, slots=True)
class Sequence:
    """A clean job (its number) as far as an action or the end of a step, then what was done instead."""

    procedure: str
    do: tuple[Action | GoOn, ...]
    job: int = 0
    after: int | str = 0
    says: str = ""
    offence: str = ""


def load_sequence(path: Path) -> Sequence:
    """Return the sequence in a file."""
    row = tomllib.loads(path.read_text("utf-8"))
    asset = row.get("job", clean_jobs(row["procedure"])[0].start.asset)
    job = [answers.start.asset for answers in clean_jobs(row["procedure"])].index(asset)
    do = tuple(map(_action, row["do"]))
    return Sequence(row["procedure"], do, job, row["after"], row.get("says", ""), row.get("offence", ""))


def _action(row: Mapping[str, Any]) -> Action | GoOn:
    word = next(iter(row))
    if word == "wait":
        return Wait(_seconds(row["wait"]), _seconds(row.get("set_clock", "0 s")))
    if word == "go_on":
        return GoOn(row["go_on"])
    name, first, others = WORDS[word]
    given = {first: row[word]} if first else {}
    return getattr(c, name)(**given, **{others[key]: value for key, value in row.items() if key != word})


def _seconds(text: str) -> float:
    span = read(text.removeprefix("-"), "s")
    assert isinstance(span, Amount), f'"{text}" is no time'
    return -span.number if text.startswith("-") else span.number


def in_words(action: Action | GoOn) -> str:
    """Return an action as the row of a file."""
    if isinstance(action, GoOn):
        return f'{{ go_on = "{action.until}" }}'
    if isinstance(action, Wait):
        clock = f', set_clock = "{action.set_by_s:g} s"' if action.set_by_s else ""
        return f'{{ wait = "{action.seconds:g} s"{clock} }}'
    word, (_, first, others) = next((w, row) for w, row in WORDS.items() if row[0] == type(action).__name__)
    defaults = {f.name: f.default for f in fields(action)}
    cells = {word: getattr(action, first) if first else True}
    cells |= {
        key: value for key, name in others.items() if (value := getattr(action, name, None)) != defaults.get(name)
    }
    return "{ " + ", ".join(f"{key} = {_toml(value)}" for key, value in cells.items()) + " }"


def _toml(value: object) -> str:
    if isinstance(value, bool | int):
        return str(value).lower()
    text = str(value).replace("\\", "\\\\").replace('"', '\\"')
    return '"' + "".join(f"\\u{ord(sign):04x}" if ord(sign) < 32 else sign for sign in text) + '"'


def written(sequence: Sequence) -> str:
    """Return a sequence as the text of a file."""
    asset = clean_jobs(sequence.procedure)[sequence.job].start.asset
    after = sequence.after if isinstance(sequence.after, int) else f'"{sequence.after}"'
    head = f'procedure = "{sequence.procedure}"\njob = "{asset}"\nafter = {after}\n'
    head += "".join(f"{key} = {_toml(v)}\n" for key in ("says", "offence") if (v := getattr(sequence, key)))
    return head + "do = [\n" + "".join(f"  {in_words(action)},\n" for action in sequence.do) + "]\n"


@cache
def on_the_way(name: str, job: int) -> tuple[Desk, ...]:
    """Return the clean job of a procedure as it stood after each of its actions."""
    return tuple(desk.copy() for desk in played(shipped_procedure(name), clean_jobs(name)[job]))


@cache
def clean_offences(name: str) -> Mapping[tuple[str, str, str], Offence]:
    """Return what the ledger finds in the clean jobs themselves: a fault of the procedure, whoever follows it."""
    last = [on_the_way(name, job)[-1] for job in range(len(clean_jobs(name)))]
    return {key: offence for desk in last for key, offence in desk.ledger.offences.items()}


def begun(sequence: Sequence) -> Desk:
    """Return the desk at which a sequence begins."""
    desks = on_the_way(sequence.procedure, sequence.job)
    if isinstance(sequence.after, int):
        return desks[sequence.after].copy()
    return next(desk for desk in desks if sequence.after in desk.state.done).copy()


def play(sequence: Sequence, desk: Desk | None = None) -> tuple[Desk, tuple[Action | GoOn, Outcome] | None]:
    """Play a sequence; return the desk, and the first action that did not stand, with what was said.

    A STOP is answered before the next action.
    """
    desk = desk or begun(sequence)
    for action in sequence.do:
        if desk.state.halted and not isinstance(action, c.HandsOff):
            desk.do(c.HandsOff())
        outcome = _play(desk, sequence, action)
        if outcome is not None and not isinstance(outcome, Recorded):
            return desk, (action, outcome)
    return desk, None


def _play(desk: Desk, sequence: Sequence, action: Action | GoOn) -> Outcome | None:
    if not isinstance(action, GoOn):
        return desk.do(action)
    return Helper(desk, sequence.job, random.Random(0)).until(action.until)


def files() -> Iterable[Path]:
    """Return the files of the sequences that were seen to be dishonest once."""
    return sorted(SEEN.glob("*.toml"))
