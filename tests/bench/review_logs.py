"""Makes a folder of distinct logs by running the engine on varied answers, with faults planted at known rates.

``make(folder, count)`` writes the logs and returns what was planted in which file.
"""

import json
import os
import random
import shutil
import sys
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field, fields, replace
from datetime import datetime, timedelta
from functools import cache
from hashlib import sha256
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from engine.procedure.load import load
from engine.procedure.model import Known, Procedure
from engine.session import commands as c
from engine.session.answers import Answers, Away, PassTime, load_answers
from engine.session.block import encode_event, encode_header, root
from engine.session.outcome import Recorded
from engine.session.runner import Runner
from engine.session.scan import scan
from engine.shipped import find, folder

_ROOT = Path(__file__).resolve().parents[2]

EVENTS = 60
"""Events after which most of the logs end [count]."""

WHOLE_SHARE = 0.02
TORN_SHARE = 0.02
ALTERED_SHARE = 0.02
REBUILT_SHARE = 0.01
ALIKE_SHARE = 0.01
"""Shares of logs [no unit]: played to their end, cut short, changed by hand, changed with a new chain, copied."""

SPREAD = 0.002
"""Standard deviation of a varied reading, as a share of its value [no unit]."""

SPREAD_OF_RUN = 0.05
"""The same for the lengths of the run, so that each log plans a circuit of its own [no unit]."""

RUN = ("run_out", "run_back")


@dataclass
class Planted:
    """What was planted: names of the logs, by what was done to them. ``honest`` are all others."""

    torn: set[str] = field(default_factory=set)
    altered: set[str] = field(default_factory=set)
    rebuilt: set[str] = field(default_factory=set)
    alike: set[tuple[str, str]] = field(default_factory=set)
    honest: set[str] = field(default_factory=set)


def make(into: Path, count: int, jobs: int = 2, *, whole: float = WHOLE_SHARE) -> Planted:
    """Write ``count`` logs into a folder and plant faults in some; the same count gives the same logs."""
    into.mkdir(parents=True, exist_ok=True)
    asked = [(into, seed, count, whole) for seed in range(count)]
    with ProcessPoolExecutor(jobs) as pool:
        names = list(pool.map(_log, asked, chunksize=25))
    planted = Planted(honest=set(names))
    for seed, name in enumerate(names):
        if _copies(seed, count) is not None:
            planted.alike.add((names[_copies(seed, count) or 0], name))
            planted.honest -= {name}
        else:
            _plant(into / name, seed, planted)
    return planted


def make_once(into: Path, count: int, jobs: int = 2, *, whole: float = WHOLE_SHARE) -> Planted:
    """Return what was planted in a folder that this made before with the same program, or make it."""
    told = into.parent / f"{into.name}-{count}-{whole:g}.json"
    program = sha256(b"".join(path.read_bytes() for path in sorted((_ROOT / "engine").rglob("*.py")))).hexdigest()
    if told.is_file():
        kept = json.loads(told.read_text(encoding="utf-8"))
        if kept.pop("program") == program:
            pairs = {(one, other) for one, other in kept.pop("alike")}
            return Planted(alike=pairs, **{name: set(names) for name, names in kept.items()})
    shutil.rmtree(into, ignore_errors=True)
    planted = make(into, count, jobs, whole=whole)
    lists = {field.name: sorted(getattr(planted, field.name)) for field in fields(planted)}
    told.write_text(json.dumps({"program": program, **lists}), encoding="utf-8")
    return planted


def continued(data: bytes) -> bytes:
    """Return a log with one more entry, a note, as the program would write it."""
    found = scan(data)
    last = found.events[-1]
    at = datetime.fromisoformat(str(last["at"])) + timedelta(seconds=30)
    note = {"event": "note", "n": int(str(last["n"])) + 1, "at": at.isoformat(), "mono": float(str(last["mono"])) + 30,
            "step": "", "text": "looked at it once more"}  # fmt: skip
    return data + encode_event(note, found.head)[0]


def rebuilt(data: bytes, number: random.Random) -> bytes:
    """Return a log with one reading changed in text and value, and a new chain over it, as a forger would do it."""
    found = scan(data)
    assert found.header is not None
    events = [dict(event) for event in found.events]
    one = number.choice([e for e in events if e.get("event") == "reading" and isinstance(e.get("number"), float)])
    one["raw"], one["number"] = f"{one['raw']} ", float(one["number"]) * 1.07
    header = {k: v for k, v in found.header.items() if k not in ("format", "digest")}
    parts = [encode_header(header)]
    head = root(parts[0])
    for event in events:
        more = bool(event.pop("more", False))
        block, head = encode_event({k: v for k, v in event.items() if k != "digest"}, head, more=more)
        parts.append(block)
    return b"".join(parts)


def altered(data: bytes, number: random.Random) -> bytes:
    """Return a log with one digit of a reading's text changed, as by hand in an editor."""
    places = [at for at in range(len(data)) if data.startswith(b'\nraw = "', at) and data[at + 8 : at + 9].isdigit()]
    at = number.choice(places) + 8
    return data[:at] + (b"7" if data[at : at + 1] != b"7" else b"3") + data[at + 1 :]


def _plant(path: Path, seed: int, planted: Planted) -> None:
    number = random.Random(seed * 7 + 1)
    data, dice = path.read_bytes(), number.random()
    limits = (TORN_SHARE, TORN_SHARE + ALTERED_SHARE, TORN_SHARE + ALTERED_SHARE + REBUILT_SHARE)
    if dice < limits[0]:
        path.write_bytes(data[: -number.randrange(3, 90)])
        planted.torn.add(path.name)
    elif dice < limits[1]:
        path.write_bytes(altered(data, number))
        planted.altered.add(path.name)
    elif dice < limits[2]:
        planted.rebuilt.add(path.name)  # changed by the bench, between two looks
    planted.honest -= planted.torn | planted.altered | planted.rebuilt


def _copies(seed: int, count: int) -> int | None:
    """Return the log whose readings this one copies, or None."""
    copies = max(int(count * ALIKE_SHARE), 1 if count >= 50 else 0)
    return seed - count // 2 if count // 2 <= seed < count // 2 + copies else None


def _log(asked: tuple[Path, int, int, float]) -> str:
    into, seed, count, whole = asked
    os.fsync = lambda handle: None  # the logs are for a bench: a power cut may take them
    copied = _copies(seed, count)
    procedure, answers = _base()
    varied = _varied(procedure, answers, random.Random(seed if copied is None else copied), seed, longer=whole < 1)
    most = 10_000 if random.Random(seed).random() < whole else EVENTS
    written = _worked(procedure, varied, into, most)
    name = f"log-{seed:06d}.toml"
    written.rename(into / name)
    return name


def _worked(procedure: Procedure, answers: Answers, into: Path, most: int) -> Path:
    """Do what the answers say until the log is long enough, or something would need a person; return the log."""
    clock = answers.clock()
    runner = Runner.start(procedure, answers.start, into, clock)
    try:
        for action, as_it_was in zip(answers.actions, _base()[1].actions, strict=True):
            if runner.state.count >= most:
                break
            if isinstance(action, PassTime | Away):
                clock.pass_time(action.seconds)
            elif not isinstance(runner.send(action), Recorded) and not isinstance(runner.send(as_it_was), Recorded):
                break
    finally:
        runner.close()
    return runner.path


@cache
def _base() -> tuple[Procedure, Answers]:
    answers = load_answers(folder("sample_sessions") / "grey-heron-clean.answers.toml")
    return load(find(answers.procedure)), answers


def _varied(procedure: Procedure, answers: Answers, number: random.Random, seed: int, *, longer: bool) -> Answers:
    actions = tuple(_varied_action(procedure, action, number, longer=longer) for action in answers.actions)
    start = replace(answers.start, asset=f"Boat {seed:06d}", person=f"Person {seed % 997}")
    assert answers.began is not None
    began = answers.began + timedelta(minutes=seed)
    return replace(answers, actions=actions, start=start, began=began, step_s=19 + seed % 7)


def _varied_action(procedure: Procedure, action: object, number: random.Random, *, longer: bool) -> object:
    """Vary what was measured. With ``longer`` runs are longer too: the plan of some fails then, and they stop there."""
    if not isinstance(action, c.Take):
        return action
    entry = procedure.entry_by_id[action.entry]
    text, _, unit = action.text.partition(" ")
    if entry.known is not Known.MEASURED or not entry.instrument or "." not in text or float(text) == 0:
        return action
    decimals = len(text.partition(".")[2])
    decimals, spread = (2, SPREAD_OF_RUN) if entry.id in RUN else (decimals, SPREAD)
    sign = "+" if text[0] in "+-" else ""
    off = number.gauss(0, spread)
    value = f"{float(text) * (1 + off if longer or entry.id not in RUN else 1 - abs(off)):{sign}.{decimals}f}"
    return replace(action, text=f"{value} {unit}".strip())
