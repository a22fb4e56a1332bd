"""People at a bench, simulated: what they measure follows from one circuit, and when they type it from their hands.

``Bench`` is a circuit with its own parts and meters; ``Person`` has a pace and a way. ``worked`` plays a whole job on
it through the engine and returns the log. Figures of the benches and of people are from memory, spread as stated.
"""

import random
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path

from engine.procedure.load import load
from engine.procedure.model import Known, Procedure
from engine.session import commands as c
from engine.session.answers import Answers, Away, PassTime, load_answers
from engine.session.clock import GivenClock
from engine.session.judge import judge
from engine.session.outcome import Asked, Outcome, Recorded, answered
from engine.session.runner import Runner
from engine.shipped import find, folder

SAMPLE = "grey-heron-clean"

OHM_PER_M = 0.00130
"""6 AWG copper, warm [ohm/m]; from memory, rounded."""


class PersonClock:
    """A machine's clock while a person works: it goes on by what they do, and can be set ahead by hand."""

    def __init__(self, start: datetime) -> None:
        self._at, self._mono, self._base = start, 5_000.0, start

    def now(self) -> datetime:
        """Return the wall clock."""
        return self._at

    glance = now

    def mono(self) -> float:
        """Return the steady clock [s]."""
        return self._mono

    def go_on(self, seconds: float) -> None:
        """Let time pass [s]."""
        self._at += timedelta(seconds=seconds)
        self._mono += seconds

    def set_ahead(self, seconds: float) -> None:
        """Set the wall clock ahead [s], as by hand."""
        self._at += timedelta(seconds=seconds)


@dataclass
class Bench:
    """One bench: its name, its parts as they are, and what its meters add."""

    name: str
    number: random.Random
    volts_off: float = 0.0
    current_off: float = 0.0
    joints_ohm: tuple[float, float] = (0.0, 0.0)
    length_m: float = 0.0
    batteries_v: tuple[float, float] = (0.0, 0.0)
    sizes: Mapping[str, float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        dice = self.number
        self.joints_ohm = tuple(0.00033 * dice.lognormvariate(0, 0.25) for _ in range(2))
        self.length_m = dice.uniform(9.6, 10.6)
        first = dice.gauss(12.69, 0.04)
        self.batteries_v = (first, first + dice.gauss(0, 0.015))
        self.sizes = {
            "hole_largest": 58.2 + dice.gauss(0, 0.2), "hole_smallest": 57.8 + dice.gauss(0, 0.1),
            "depth_behind": 190 + dice.gauss(0, 8), "wire_free": 420 + dice.gauss(0, 25),
            "wire_lose": 30 + dice.gauss(0, 4), "panel_thickness": 6 + dice.gauss(0, 0.3),
            "strip_length": 14.3 + dice.gauss(0, 0.15), "breaker_distance": 16.0,
            "fitted_distance": 150 + dice.gauss(0, 8),
        }  # fmt: skip


def measured(bench: Bench, dice: random.Random) -> dict[str, str]:
    """Return what a person reads on a bench, by entry, as typed: the circuit, and a little of the day."""
    v1, v2 = (v + bench.volts_off + dice.gauss(0, 0.008) for v in bench.batteries_v)
    bank = v1 + v2 + dice.gauss(0, 0.006)
    amps = dice.gauss(46.6, 0.7)
    source = bank - amps * dice.gauss(0.0205, 0.001)
    r1, r2 = bench.joints_ohm
    at_load = source - amps * (bench.length_m * OHM_PER_M + r1 + r2 + 0.002) + dice.gauss(0, 0.01)
    heat_a, ambient = amps * dice.gauss(0.95, 0.015), dice.gauss(19, 3.5)
    rise = [heat_a**2 * r * 9 * dice.gauss(1, 0.12) + 1.6 for r in (r2, r1)]
    sizes = {entry: size * dice.gauss(1, 0.002) for entry, size in bench.sizes.items()}
    sizes["hole_smallest"] = min(sizes["hole_smallest"], sizes["hole_largest"] - 0.05)
    return {
        "live_pair": f"{bank:.1f}", "known_before": f"{v1:.2f}", "known_after": f"{v1 + dice.gauss(0, 0.006):.2f}",
        "v_battery_1": f"{v1:.2f}", "v_battery_2": f"{v2:.2f}", "v_bank": f"{bank:.2f}",
        "v_line": f"{bank + dice.gauss(0, 0.008):+.2f}", "v_polarity": f"{bank + dice.gauss(0, 0.008):+.2f}",
        "i_load": f"{amps + bench.current_off:.1f}", "v_bank_load": f"{source:.2f}",
        "v_receptacle_load": f"{at_load:.2f}", "mv_1": f"{amps * r1 * 1000:.0f}", "mv_2": f"{amps * r2 * 1000:.0f}",
        "i_heat": f"{heat_a + bench.current_off:.1f}", "t_ambient": f"{ambient:.1f}",
        "t_positive": f"{ambient + rise[0]:.1f}", "t_negative": f"{ambient + rise[1]:.1f}",
        "new_out": f"{bench.length_m / 2:.2f} m", "new_back": f"{bench.length_m / 2 + dice.gauss(0, 0.01):.2f} m",
        "pull_1": f"{dice.uniform(130, 260):.0f} N", "pull_2": f"{dice.uniform(130, 260):.0f} N",
        "lugs_pull": f"{dice.uniform(235, 280):.0f} N",
        **{e: f"0.0{dice.choice('000001')}" for e in DEAD},
        **{e: f"{sizes[e]:.1f} mm" for e in ("hole_largest", "hole_smallest", "panel_thickness", "strip_length")},
        **{e: f"{sizes[e]:.0f} mm" for e in ("depth_behind", "wire_free", "wire_lose", "fitted_distance")},
        "breaker_distance": f"{sizes['breaker_distance']:.1f} in",
    }  # fmt: skip


DEAD = (
    "tap_a_hull", "tap_a_black", "tap_b_hull", "tap_b_black", "dead_feed", "dead_pair", "dead_red_hull",
    "dead_black_hull", "dead_red_battery",
)  # fmt: skip


@dataclass
class Person:
    """Who works: ``entry_s`` and ``work_s`` are the middle times of an entry and of hand work [s].

    ``even_s`` is a fixed time of every entry, if it is a machine that types. ``before`` is told each action before it
    is carried out, and may do something else first; it returns the actions to carry out.
    """

    name: str
    entry_s: float = 13.0
    work_s: float = 70.0
    even_s: float = 0.0
    soak_s: tuple[float, float] = (605.0, 800.0)
    demo: bool = False
    sample: str = SAMPLE
    before: Callable[["Job", object], list[object]] | None = None


@dataclass
class Job:
    """One job while it is done."""

    person: Person
    runner: Runner
    clock: PersonClock
    dice: random.Random
    texts: dict[str, str]

    def send(self, command: c.Command) -> Outcome:
        """Send a command as a person does: a question is answered with what was typed, a STOP with hands away."""
        outcome = self.runner.send(command)
        if isinstance(outcome, Asked):
            outcome = self.runner.send(answered(outcome, 0))
        if not isinstance(outcome, Recorded) and self.runner.state.halted:
            self.runner.send(c.HandsOff())
            outcome = self.runner.send(command)
        return outcome


def worked(
    into: Path, name: str, person: Person, bench: Bench, dice: random.Random, start: datetime, **texts: str
) -> Path:
    """Do the whole job of the sample and return its log as ``name``; ``texts`` are typed instead of what was read."""
    procedure, answers = base(person.sample)
    clock = PersonClock(start)
    opening = replace(answers.start, asset=bench.name, person=person.name, demo=person.demo, place="the benches")
    runner = Runner.start(procedure, opening, into, clock)
    job = Job(person, runner, clock, dice, {**measured(bench, dice), **texts})
    try:
        for action in answers.actions:
            done = [carried_out(job, each) for each in (person.before(job, action) if person.before else [action])]
            if runner.state.over or not all(done):
                break
    finally:
        runner.close()
    return runner.path.rename(into / name)


def carried_out(job: Job, action: object) -> bool:
    """Carry out one action; False if the job cannot go on."""
    if isinstance(action, PassTime):
        job.clock.go_on(job.dice.uniform(*job.person.soak_s))
        return True
    if isinstance(action, Away):
        job.send(c.Leave(action.line))
        job.clock.go_on(action.seconds)
        return isinstance(job.send(c.Return()), Recorded)
    assert not isinstance(action, tuple)
    wanted = replace(action, text=job.texts.get(action.entry, action.text)) if isinstance(action, c.Take) else action
    job.clock.go_on(_time_s(job, wanted))
    outcome = job.send(wanted)
    if isinstance(outcome, Recorded):
        return True
    if isinstance(action, c.Take):
        return isinstance(job.send(action), Recorded)
    if not isinstance(action, c.Finish):
        return False
    for entry in getattr(outcome, "missing", ()):
        job.send(c.Take(entry, "yes"))
    return _went_on(job, action)


def _time_s(job: Job, action: object) -> float:
    person, procedure = job.person, job.runner.procedure
    if person.even_s:
        return person.even_s + job.dice.gauss(0, 0.02)
    spread = job.dice.lognormvariate(0, 0.5)
    if isinstance(action, c.Finish):
        step = procedure.step_by_id[action.step]
        return (person.work_s if step.works or step.hands_on else person.entry_s / 3) * spread
    asked = procedure.entry_by_id.get(getattr(action, "entry", ""))
    slower = 1.3 if asked is not None and asked.known is Known.MEASURED and asked.instrument else 0.8
    pull = 60.0 if asked is not None and asked.unit == "N" and person.entry_s > 4 else 0.0
    return person.entry_s * slower * spread + pull


def _went_on(job: Job, finish: c.Finish) -> bool:
    """Go on past what did not pass, as a deviation or by accepting it, with a reason."""
    runner = job.runner
    for key, finding in judge(runner.procedure, runner.state, runner.procedure.step_by_id[finish.step]).items():
        if str(finding.verdict) != "pass":
            for way in (
                c.Accept(finish.step, key, "as it is on this bench, shown to the teacher", "ab"),
                c.Deviate(finish.step, key, "left as it is on this bench, shown to the teacher", "ab"),
            ):
                if isinstance(runner.send(way), Recorded):
                    break
    return isinstance(job.send(finish), Recorded)


@cache
def base(name: str = SAMPLE) -> tuple[Procedure, Answers]:
    """Return the procedure and the answers of a sample, which a person follows."""
    answers = load_answers(folder("sample_sessions") / f"{name}.answers.toml")
    return load(find(answers.procedure)), answers


def given_clock(start: datetime) -> GivenClock:
    """Return the clock of an answers file."""
    return GivenClock(start, 20.0)


MORNING = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
"""When the first class begins."""
