"""Work or show: each kind of show is told in words with its figures, no honest oddity is; the limits are as said."""

import random
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from engine.review.audit import Audit, audit, audit_file
from engine.review.doubts_of_values import is_slip, tail
from engine.review.row import row_of
from engine.session import commands as c
from engine.session.answers import PassTime
from tests.bench import bench_work_or_show as kinds
from tests.bench.people import MORNING, Bench, Job, Person
from tests.review.forging import CLEAN, rebuilt

TOLD = {
    "hurried": "on the clock; to read", "backfilled": "on the clock; to read",
    "clock set ahead": "Heat after ten minutes: the clock was set ahead by 10 min in it; ",
    "no rise": "no terminal is more than", "answers file": "clock given by an answers file",
    "demo": "a demo: a job on invented facts", "sample typed off": "are those of the shipped sample grey-heron-clean",
    "even pace": "entries came 16.0 s after the one before", "rounded": "readings in volts have no decimal",
    "one last digit": "different meter readings end in", "corrected": "values of one step passed once corrected",
}  # fmt: skip
"""What is said of each kind of show that a log tells of itself; of the others a finding, the chain, or another log."""

ACCUSING = ("cheat", "fake", "fraud", "invent", "copied", "copy", "liar", "suspic", "forg", "dishonest")


def made(kind: kinds.Kind, folder: Path, seed: int = 3) -> Audit:
    """Return the audit of a log of one kind, done on a bench of its own."""
    dice = random.Random(seed)
    kind(kinds.Seat(folder, "log.toml", Person("R. Marsh"), Bench("Bench 1", dice), dice, MORNING))
    return audit_file(folder / "log.toml")


def said(found: Audit) -> str:
    return "; ".join(doubt.says for doubt in found.doubts)


@pytest.mark.parametrize("kind", TOLD)
def test_a_shown_log_is_told_with_its_figures_and_is_accepted_by_no_one_key(kind: str, tmp_path: Path) -> None:
    found = made(kinds.SHOWN[kind], tmp_path)
    assert TOLD[kind] in said(found)
    assert not row_of(found).looks_clean
    assert found.exit_status == 1
    if kind != "demo":
        assert not [word for word in ACCUSING if word in said(found)]


@pytest.mark.parametrize("kind", ["short heat", "invented drop"])
def test_what_a_check_finds_by_itself_needs_no_other_word(kind: str, tmp_path: Path) -> None:
    found = row_of(made(kinds.SHOWN[kind], tmp_path))
    assert (found.undecided, found.looks_clean) == (1, False)


@pytest.mark.parametrize("kind", kinds.HONEST)
def test_nothing_is_asked_of_an_honest_oddity(kind: str, tmp_path: Path) -> None:
    assert said(made(kinds.HONEST[kind], tmp_path)) == ""


def test_the_stop_of_who_smells_petrol_is_right(tmp_path: Path) -> None:
    row = row_of(made(kinds.petrol, tmp_path))
    assert (row.ended, row.stopped_rightly) == ("stopped", True)
    assert row.stopped.startswith("smell of petrol from the bilge")


def test_the_wait_may_be_waited_with_the_program_closed(tmp_path: Path) -> None:
    """A break counts where the job waits for something, and nowhere else."""

    def before(job: Job, action: object) -> list[object]:
        if not isinstance(action, PassTime):
            return [action]
        job.send(c.Leave("while it warms"))
        job.clock.go_on(620)
        return [c.Return()]

    def left(seat: kinds.Seat) -> None:
        seat.person.before, seat.person.entry_s, seat.person.work_s = before, 7.0, 32.0
        kinds.plain(seat)

    found = made(left, tmp_path)
    assert (said(found), found.state.closed) == ("", True)


def respaced(seconds: float) -> Audit:
    """Return the clean log with its entries so far apart, by both clocks; the last before the heat waits its time."""
    start = datetime(2026, 5, 2, 8, 30, tzinfo=UTC)

    def space(events: list[dict]) -> None:
        times = sorted({event["mono"] for event in events})
        for event in events:
            n = times.index(event["mono"])
            event["at"] = (start + timedelta(seconds=round(n * seconds))).isoformat(timespec="seconds")
            event["mono"] = 100.0 + n * seconds

    return audit(rebuilt(space), "x")


def test_the_least_time_of_a_job_is_the_sum_of_its_parts() -> None:
    """Worked by hand: 5 s, 1.5 s and 20 s each, 3 x 60 s of pull, 600 s of air and 600 s of heat."""
    found = audit_file(CLEAN)
    assert found.procedure is not None
    asked = found.procedure.entry_by_id
    read = sum(1 for e in found.state.given if str(asked[e].known) == "measured" and asked[e].instrument)
    steps = found.procedure.step_by_id
    work = sum(1 for step in found.state.done if steps[step].works or steps[step].hands_on)
    least_min = (5 * read + 1.5 * (len(found.state.given) - read) + 20 * work + 3 * 60 + 1200) / 60
    pace = next(doubt.says for doubt in respaced(0.5).doubts if doubt.kind == "pace")
    assert f"read {read} values" in pace
    assert f"{work} steps of hand work and wait 23 min takes {least_min:.0f} min at the least" in pace


@given(st.integers(1, 30), st.integers(0, 30), st.sampled_from([0.1, 0.2]))
def test_the_chance_of_equal_last_digits_is_the_binomial_one(total: int, count: int, chance: float) -> None:
    """scipy.stats.binom, another implementation."""
    assert tail(total, count, chance) == pytest.approx(float(stats.binom(total, chance).sf(count - 1)), abs=1e-12)


@pytest.mark.parametrize(
    ("was", "now", "slip"),
    [("41 mV", "14 mV", True), ("24.36", "42.36", True), ("144", "14", True), ("25.38", "25.28", True),
     ("124", "38", False), ("23.31", "23.55", False)],
)  # fmt: skip
def test_a_slip_of_a_key_is_told_from_another_figure(was: str, now: str, *, slip: bool) -> None:
    assert is_slip(was, now) is slip


def test_a_changed_log_may_hold_any_value_and_is_still_told_of() -> None:
    data = rebuilt(lambda events: [{**e, "mono": -1e300} if e["event"] == "reading" else e for e in events])
    assert isinstance(audit(data, "x").doubts, tuple)
