"""An answers file: an ordered list of what a person would do, read into commands."""

import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from engine.finding import Value
from engine.procedure.model import Procedure
from engine.session import commands as c
from engine.session.answer import Understood, understand
from engine.session.clock import Clock, GivenClock, SystemClock
from engine.session.state import Given

MOST_BYTES = 2_000_000
"""Largest answers file that is read [bytes]; a project rule."""


@dataclass(frozen=True, slots=True)
class PassTime:
    """Time goes by [s]."""

    seconds: float


@dataclass(frozen=True, slots=True)
class Away:
    """The program is closed for a while [s], and opened again."""

    line: str
    seconds: float


Action = c.Command | PassTime | Away


@dataclass(frozen=True, slots=True)
class Answers:
    """What an answers file says: the procedure, how the job starts, its clock, and the actions in order."""

    procedure: str
    start: c.Start
    actions: tuple[Action, ...]
    began: datetime | None = None
    step_s: float = 0.0

    def clock(self) -> Clock:
        """Return a new given clock if the file gives one, else the machine's own."""
        return GivenClock(self.began, self.step_s) if self.began else SystemClock()


class BadAnswers(ValueError):
    """An answers file that cannot be read, a line each fault: ``FILE: WHERE: what is wrong, what would be right``."""


def load_answers(path: Path) -> Answers:
    """Return what an answers file says.

    Raises:
        BadAnswers: if it cannot be read, with every fault.
    """
    try:
        data = path.read_bytes()
        if len(data) > MOST_BYTES:
            raise BadAnswers(f"{path.name}: the file is larger than {MOST_BYTES} bytes")
        read = tomllib.loads(data.decode("utf-8"))
    except (OSError, ValueError, RecursionError) as problem:
        if isinstance(problem, BadAnswers):
            raise
        why = problem.strerror if isinstance(problem, OSError) and problem.strerror else problem
        raise BadAnswers(f"{path.name}: cannot be read: {why}") from problem
    return _build(path.name, read)


def _build(name: str, read: Mapping[str, Any]) -> Answers:
    faults = [f"{name}: {key}: unknown key, the keys are {', '.join(_KEYS)}" for key in read if key not in _KEYS]
    faults += [f"{name}: {key}: must be a text" for key in ("procedure", "asset") if not isinstance(read.get(key), str)]
    optional = [key for key in ("person", "profile", "place") if key in read and not isinstance(read[key], str)]
    faults += [f"{name}: {key}: must be a text" for key in optional]
    if not isinstance(read.get("demo", False), bool):
        faults.append(f"{name}: demo: must be true or false")
    did = read.get("do", [])
    if not isinstance(did, list):
        faults.append(f'{name}: do: must be a list of tables, each headed "[[do]]"')
    actions = []
    for number, item in enumerate(did if isinstance(did, list) else [], start=1):
        try:
            actions.append(_action(item))
        except (KeyError, TypeError, ValueError) as problem:
            faults.append(f"{name}: do[{number}]: {_why(item, problem)}")
    began, step_s = _clock(name, read, faults)
    if faults:
        raise BadAnswers("\n".join(faults))
    start = c.Start(
        read["asset"],
        str(read.get("person", "")),
        str(read.get("profile", "")),
        read.get("demo") is True,
        str(read.get("place", "")),
    )
    return Answers(read["procedure"], start, tuple(actions), began, step_s)


_KEYS = ("schema", "procedure", "asset", "person", "profile", "demo", "place", "clock", "do")


def _clock(name: str, read: Mapping[str, Any], faults: list[str]) -> tuple[datetime | None, float]:
    given = read.get("clock")
    if given is None:
        return None, 0.0
    began = given.get("start") if isinstance(given, dict) else None
    if not isinstance(began, datetime) or began.tzinfo is None:
        faults.append(f"{name}: clock.start: must be a time with its zone, such as 2026-05-02T09:00:00Z")
        return None, 0.0
    try:
        return began.astimezone(UTC), _seconds(given.get("step", "0 s"))
    except (TypeError, ValueError):
        faults.append(f'{name}: clock.step: must be a span of time, such as "20 s"')
        return None, 0.0


def _seconds(text: str) -> float:
    from engine.quantity import Amount, read  # local: only answers files with times need the units

    got = read(text, "s")
    if not isinstance(got, Amount):
        raise ValueError(f'"{text}" is not a span of time; "20 s" or "2 h" would be right')
    return got.number


def _action(item: Mapping[str, Any]) -> Action:
    for word, (make, needed, allowed) in _ACTIONS.items():
        if word in item:
            extra = set(item) - {word, *needed, *allowed, *(("feed",) if word in _BEGIN else ())}
            if extra:
                raise ValueError(f'"{sorted(extra)[0]}" is not a key of "{word}"')
            _check_kinds(item)
            made = make(item)
            if "feed" in item and not isinstance(made, PassTime | Away):
                return c.Feeding(made, item["feed"] == "yes")
            return made
    raise ValueError(f"says nothing that can be done; one of {', '.join(_ACTIONS)} would be right")


_BEGIN = ("give", "line", "not_measured", "part", "done")
"""Actions that may feed a zone: ``feed`` answers yes or no if another open job on this boat holds something dead."""

_FIGURES = ("percent", "counts", "resolution")


def _check_kinds(item: Mapping[str, Any]) -> None:
    for key, value in item.items():
        number = isinstance(value, int | float) and not isinstance(value, bool)
        if key in ("answer", "mend") and not (number and isinstance(value, int) and value >= 1):
            raise ValueError(f"{key}: must be a number, 1 or above")
        if key in _FIGURES and not number:
            raise ValueError(f"{key}: must be a number")
        if key not in ("answer", "mend", "close", "hands_off", *_FIGURES) and not isinstance(value, str):
            raise ValueError(f"{key}: must be a text")


def _why(item: object, problem: Exception) -> str:
    if isinstance(problem, KeyError):
        return f'lacks the key "{problem.args[0]}"'
    return str(problem) if isinstance(item, dict) else "must be a table"


def _answer(item: Mapping[str, Any]) -> int | None:
    return int(item["answer"]) - 1 if "answer" in item else None


_Maker = Callable[[Mapping[str, Any]], Action]
_ACTIONS: Mapping[str, tuple[_Maker, tuple[str, ...], tuple[str, ...]]] = {
    "give": (lambda i: c.Take(i["give"], i["say"], _answer(i)), ("say",), ("answer",)),
    "line": (lambda i: c.TakeSeveral(i["line"], i["say"]), ("say",), ()),
    "not_measured": (lambda i: c.SkipEntry(i["not_measured"], i["reason"]), ("reason",), ()),
    "part": (lambda i: c.NamePart(i["step"], i["part"]), ("step",), ()),
    "done": (lambda i: c.Finish(i["done"]), (), ()),
    "accept": (
        lambda i: c.Accept(i["step"], i["accept"], i["reason"], i.get("initials", "")),
        ("step", "reason"),
        ("initials",),
    ),
    "deviate": (
        lambda i: c.Deviate(i["step"], i["deviate"], i["reason"], i["initials"]),
        ("step", "reason", "initials"),
        (),
    ),
    "correct": (lambda i: c.Correct(i["correct"], i["say"], i["reason"], _answer(i)), ("say", "reason"), ("answer",)),
    "redo": (lambda i: c.Redo(i["redo"], i.get("mend", 0)), (), ("mend",)),
    "stayed": (lambda i: c.StayedWith(i["stayed"]), (), ()),
    "hands_off": (lambda i: c.HandsOff(), (), ()),
    "note": (lambda i: c.Note(i.get("step", ""), i["note"]), (), ("step",)),
    "away": (lambda i: Away(i.get("say", ""), _seconds(i["away"])), (), ("say",)),
    "pass_time": (lambda i: PassTime(_seconds(i["pass_time"])), (), ()),
    "hand_over": (lambda i: c.HandOver(i["hand_over"]), (), ()),
    "profile": (lambda i: c.ChooseProfile(i["profile"]), (), ()),
    "instrument": (
        lambda i: c.DeclareInstrument(
            i["instrument"],
            i["name"],
            float(i["percent"]),
            float(i["counts"]),
            float(i["resolution"]),
            i.get("calibrated", ""),
        ),
        ("name", "percent", "counts", "resolution"),
        ("calibrated",),
    ),
    "stop": (lambda i: c.Stop(i["stop"], i["state"]), ("state",), ()),
    "close": (lambda i: c.Close(), (), ()),
    "follow_up": (lambda i: c.FollowUp(i["follow_up"], i["say"], i.get("person", "")), ("say",), ("person",)),
}


def facts_of(procedure: Procedure, answers: Answers) -> dict[str, Value]:
    """Return the facts that an answers file gives, by id, in base units; the last answer to each stands.

    Raises:
        BadAnswers: if a fact cannot be understood, with every fault.
    """
    facts = {fact.id: fact for fact in procedure.facts}
    found: dict[str, Value] = {}
    faults = []
    for number, action in enumerate(answers.actions, start=1):
        if isinstance(action, c.Take | c.Correct) and action.entry in facts:
            meant = understand(facts[action.entry], "", action.text, action.answer)
            if isinstance(meant, Understood):
                found[action.entry] = Given(meant.taken, 0, "").value
            else:
                faults.append(f"do[{number}]: {action.entry}: {meant.sentence}")
    if faults:
        raise BadAnswers("\n".join(faults))
    return found
