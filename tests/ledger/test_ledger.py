"""The ledger on a small world, told by hand: what it calls an offence, and what it does not."""

import pytest

from engine.session import commands as c
from engine.session import events as e
from tests.ledger.ledger import Ledger
from tests.ledger.world import World

WORLD = World(
    {
        "procedure": "small",
        "source": {"bank": "the bank"},
        "stretch": {"feed": "the feed", "run": "the run"},
        "switch": {"ring": "the ring", "breaker": {"name": "the breaker", "weak": True, "ends": "open"}},
        "wire": [["bank", "feed", "ring"], ["feed", "run", "breaker"]],
        "proof": [{"dead": {"run": ["dead_run"]}, "before": "before", "after": "after", "loaded": "lamp"}],
        "thing": {
            "end": "the end",
            "joint": {"name": "the joint", "on": ["end"]},
            "sign": {"name": "it", "of": ["joint"]},
        },
        "step": {
            "off": {"opens": ["ring", "breaker"]},
            "cut": {"touches": ["run"], "makes": ["end"]},
            "clamp": {"touches": ["run"], "makes": ["joint"]},
            "pull": {"shows": ["joint"]},
            "breaker-in": {"touches": ["feed"]},
            "on": {"closes": ["ring"], "then_closes": ["breaker"]},
            "sign": {"shows": ["sign"]},
            "trip": {"opens": ["breaker"]},
        },
        "plain": ["dead", "facts"],
        "bad": {"slip": "yes"},
        "turned": {"volts": ["joint"]},
    }
)
CLEAN = e.Closed(clean=True, deviations=0, missing=0, marginals=0)
EVERY = tuple(WORLD.steps)


class Job:
    """A ledger that is told steps and values, 20 s apart."""

    def __init__(self) -> None:
        self.ledger, self.now_s = Ledger(WORLD), 0.0

    def tell(self, command: object, *events: object, wait_s: float = 20.0, again: tuple[str, ...] = ()) -> "Job":
        self.now_s += wait_s
        self.ledger.take(self.now_s, command, events, again=again, belongs=EVERY)
        return self

    def done(self, *steps: str, again: tuple[str, ...] = ()) -> "Job":
        for step in steps:
            self.tell(c.Finish(step), e.StepDone(step=step), again=again)
        return self

    def volts(self, step: str, **values: float) -> "Job":
        for entry, number in values.items():
            self.tell(c.Take(entry, str(number)), e.Taken(entry=entry, step=step, raw="", unit="V", number=number))
        return self

    def says(self, step: str, entry: str, label: str) -> "Job":
        return self.tell(c.Take(entry, label), e.Taken(entry=entry, step=step, raw=label, label=label))

    def proved(self) -> "Job":
        return self.done("off").volts("dead", before=12.6, dead_run=0.0, after=12.6).done("dead")

    def made(self) -> "Job":
        self.done("cut", "clamp").says("pull", "slip", "no").done("pull")
        return self.done("on").volts("sign", volts=12.5).done("sign", "trip")

    def kinds(self) -> set[tuple[str, str]]:
        return {key[:2] for key in self.ledger.offences}


def test_a_job_in_order_has_no_offence() -> None:
    assert Job().proved().made().tell(c.Close(), CLEAN).kinds() == set()


def test_hands_on_a_live_stretch() -> None:
    assert Job().done("breaker-in").kinds() == {("live", "feed")}


def test_a_breaker_that_is_off_keeps_nothing_proved() -> None:
    job = Job().done("trip").volts("dead", before=12.6, dead_run=0.0, after=12.6).done("dead", "cut")
    assert job.kinds() == {("unproved", "run")}


def test_dead_at_the_receptacle_says_nothing_of_the_line_side() -> None:
    assert Job().proved().done("breaker-in").kinds() == {("unproved", "feed")}


def test_a_stretch_fed_since_is_not_shown() -> None:
    assert Job().proved().done("on", "off", "cut").kinds() == {("unproved", "run")}


@pytest.mark.parametrize(
    ("order", "offences"),
    [
        (("before", "dead_run", "after"), set()),
        (("before", "after", "dead_run"), {("unproved", "run")}),
        (("dead_run", "before", "after"), {("unproved", "run")}),
    ],
)
def test_the_known_source_is_looked_at_before_and_after(order: tuple[str, ...], offences: set[object]) -> None:
    job = Job().done("off")
    for entry in order:
        job.volts("dead", **{entry: 0.0 if entry == "dead_run" else 12.6})
    assert job.done("cut").kinds() == offences


@pytest.mark.parametrize(("lamp", "offences"), [(0.0, set()), (0.5, {("unproved", "run")})])
def test_a_ghost_must_fall_under_a_lamp(lamp: float, offences: set[object]) -> None:
    job = Job().done("off").volts("dead", before=12.6, dead_run=0.6, after=12.6, lamp=lamp)
    assert job.volts("dead", after=12.6).done("cut").kinds() == offences


def test_proved_again_by_whoever_goes_on() -> None:
    job = Job().proved().tell(c.HandOver("B"), e.PersonChanged(person="B"))
    assert job.done("cut").kinds() == {("old", "run")}


@pytest.mark.parametrize(
    ("wait_s", "looks", "offences"),
    [(1190, False, set()), (1230, False, {("old", "run")}), (1230, True, set()), (5 * 3600, True, {("old", "run")})],
)
def test_a_gap_asks_for_a_look_and_a_long_one_for_the_whole_proof(
    wait_s: float,
    looks: bool,
    offences: set[object],
) -> None:
    job = Job().proved().tell(c.Note("dead", "x"), wait_s=wait_s)
    if looks:
        job.volts("dead", dead_run=0.0)
    assert job.done("cut").kinds() == offences


def test_away_often_is_away_long() -> None:
    job = Job().proved()
    for _ in range(3):
        job.tell(c.Leave()).tell(c.Return(), wait_s=540)
    assert job.done("cut").kinds() == {("old", "run")}


def test_what_was_cut_again_is_made_and_shown_again() -> None:
    job = Job().proved().made().done("off").volts("dead", before=12.6, dead_run=0.0, after=12.6)
    job.tell(c.Redo("cut"), e.Redone(step="cut")).done("cut").done("on", "trip").tell(c.Close(), CLEAN)
    assert job.kinds() == {("gone", "joint"), ("unshown", "sign")}


def test_to_end_a_step_again_with_old_readings_shows_nothing() -> None:
    job = Job().proved().made().done("off").volts("dead", before=12.6, dead_run=0.0, after=12.6)
    job.done("cut", "clamp", "pull", "on").volts("sign", volts=12.5).done("sign", "trip").tell(c.Close(), CLEAN)
    assert job.kinds() == {("unshown", "joint")}


def test_a_step_that_is_only_ended_again_does_nothing() -> None:
    job = Job().proved().made().done("on", "cut", again=("on", "cut")).tell(c.Close(), CLEAN)
    assert job.kinds() == set()


def test_a_switch_left_wrong_and_a_slip_that_stands() -> None:
    job = Job().proved().done("cut", "clamp").says("pull", "slip", "yes").done("pull", "on")
    assert job.volts("sign", volts=12.5).done("sign").tell(c.Close(), CLEAN).kinds() == {
        ("bad", "joint"),
        ("end", "breaker"),
    }


def test_a_reversed_sign_that_reads_right_later_was_opened_in_between() -> None:
    job = Job().proved().made().volts("sign", volts=-12.5).volts("sign", volts=12.5).done("sign")
    assert job.tell(c.Close(), CLEAN).kinds() == {("turned", "volts")}
