"""Likeness: the tail against outside sources, thresholds as worked by hand, honest pairs left alone, copies named."""

import random
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from engine.review import alike
from engine.review.alike import left_out, with_likeness
from engine.review.index import Index
from engine.review.kept import Packed, values_json
from engine.review.likeness import FALSE_ALARMS, equal_chance, likeness, tail
from engine.review.row import LogRow
from engine.review.values import Measured

PAIRS_OF_30 = 30 * 29 // 2


@given(st.lists(st.floats(0, 1), min_size=1, max_size=40), st.data())
def test_the_tail_is_that_of_the_poisson_binomial_distribution(chances: list[float], data: st.DataObject) -> None:
    """scipy.stats.poisson_binom, another implementation."""
    equal = data.draw(st.integers(1, len(chances)))
    expected = float(stats.poisson_binom(chances).sf(equal - 1))
    assert tail(chances, equal) == pytest.approx(expected, rel=1e-9, abs=1e-12)


@pytest.mark.parametrize(("count", "chance", "equal"), [(12, 0.05, 4), (20, 0.05, 8), (30, 0.10, 12), (59, 0.3, 40)])
def test_with_one_chance_for_all_the_tail_is_the_binomial_one(count: int, chance: float, equal: int) -> None:
    """The binomial distribution, scipy.stats.binom; small tails keep their digits."""
    assert tail([chance] * count, equal) == pytest.approx(float(stats.binom(count, chance).sf(equal - 1)), rel=1e-9)


@pytest.mark.parametrize(("count", "chance", "flagged_at"), [(12, 0.05, 6), (20, 0.05, 8), (30, 0.10, 12)])
def test_the_number_of_equal_values_that_names_a_pair_of_thirty_logs(
    count: int, chance: float, flagged_at: int
) -> None:
    """Worked by hand from the binomial distribution: 435 pairs, named from 0.01 / 435 = 2.3e-5."""
    threshold = FALSE_ALARMS / PAIRS_OF_30
    assert tail([chance] * count, flagged_at) <= threshold < tail([chance] * count, flagged_at - 1)


def test_four_equal_of_twelve_is_about_one_pair_of_a_class_by_luck() -> None:
    """Worked by hand: 435 pairs times 0.002 is about one."""
    assert PAIRS_OF_30 * tail([0.05] * 12, 4) == pytest.approx(1, rel=0.1)


def test_the_chance_of_equal_digits_is_a_digit_over_three_and_a_half_spreads() -> None:
    """Two normal readings, spread s: the density of their difference at zero is 1 / (2 s sqrt(pi)) = 1 / (3.545 s)."""
    numbers = [10 + stats.norm.ppf((n + 0.5) / 2001) for n in range(2001)]
    shows = list(range(2001))
    assert equal_chance(numbers, shows, 0.01) == pytest.approx(0.01 / 3.545, rel=0.01)


def test_a_reading_that_most_logs_share_is_no_evidence() -> None:
    numbers = [24.9] * 8 + [24.8, 25.1]
    assert equal_chance(numbers, [round(n * 10) for n in numbers], 0.1) == 1.0


def test_the_share_of_equal_pairs_bounds_the_chance_from_below() -> None:
    numbers = [5.0] * 6 + [10.0] * 6 + [1.0, 20.0]  # typed as round numbers: 30 of 91 pairs are equal
    assert equal_chance(numbers, [round(n) for n in numbers], 1.0) == pytest.approx(30 / 91, rel=1e-9)


def honest(logs: int, entries: int, seed: int) -> dict[str, list[Measured]]:
    dice = random.Random(seed)
    return {
        f"log {n:04d}": [
            Measured(f"v{e}", round(dice.gauss(20 + e, 0.12), 2), 0.01, "V") for e in range(entries)
        ]
        for n in range(logs)
    }  # fmt: skip


def test_a_copied_log_is_named_with_what_is_equal_and_its_chance() -> None:
    logs = honest(30, 20, seed=1)
    logs["log 0007"] = logs["log 0003"][:15] + logs["log 0007"][15:]
    (pair,) = likeness(logs)
    assert (pair.one, pair.other, pair.comparable) == ("log 0003", "log 0007", 20)
    assert set(pair.equal) >= {f"v{e}" for e in range(15)}


def test_honest_cohorts_are_named_no_more_often_than_is_stated() -> None:
    """Of 400 cohorts of 12 honest logs about 4 are expected at one in a hundred; 13 or more have a chance of 2.5e-4."""
    named = sum(1 for seed in range(400) if likeness(honest(12, 15, seed)))
    assert stats.binom(400, FALSE_ALARMS).sf(12) < 2.6e-4
    assert named <= 12


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 10_000))
def test_the_quick_way_names_the_same_pairs_as_looking_at_every_pair(seed: int) -> None:
    dice = random.Random(seed)
    logs = honest(12, 10, seed)
    for name in dice.sample(sorted(logs), 3):
        logs[name] = [v if dice.random() < 0.2 else w for v, w in zip(logs[name], logs["log 0000"], strict=True)]
    named = {(pair.one, pair.other) for pair in likeness(logs)}
    assert named == every_pair(logs)


def every_pair(logs: dict[str, list[Measured]]) -> set[tuple[str, str]]:
    """The plain way, straight from the definition."""
    names = sorted(logs)
    shown = {n: {v.entry: round(v.number / v.digit) for v in logs[n]} for n in names}
    entries = [v.entry for v in logs[names[0]]]
    chance = {
        e: equal_chance([v.number for n in names for v in logs[n] if v.entry == e], [shown[n][e] for n in names], 0.01)
        for e in entries
    }
    threshold = FALSE_ALARMS / (len(names) * (len(names) - 1) / 2)
    return {
        (a, b)
        for a in names
        for b in names
        if a < b and tail(sorted(chance.values()), sum(shown[a][e] == shown[b][e] for e in entries)) <= threshold
    }


def test_two_logs_alone_tell_nothing() -> None:
    logs = honest(2, 20, seed=5)
    logs["log 0001"] = logs["log 0000"]
    assert likeness(logs) == ()


def test_values_that_one_log_lacks_are_not_compared() -> None:
    logs = honest(30, 20, seed=2)
    logs["log 0001"] = logs["log 0000"][:12]
    (pair,) = likeness(logs)
    assert pair.comparable == 12


def copied(index: Index, count: int, minutes: int = 0) -> list[LogRow]:
    """Put logs into an index, the last a copy of the first so many minutes later, and return their lines."""
    number = random.Random(5)
    rows = [
        LogRow(name=f"{n}.toml", sha256=f"{n:064x}", chain="whole", procedure="own", revision="1", head=str(n))
        for n in range(count)
    ]
    at = DAY.format("09:10:00")
    told = [tuple(Measured(f"e{k}", 12 + number.gauss(0, 0.3), 0.01, "V", at) for k in range(10)) for _ in rows]
    told[-1] = tuple(replace(value, at=DAY.format(f"09:{10 + minutes}:00")) for value in told[0])
    index.keep(
        Packed(r.sha256, head="", events=1, doubted=False, row="[]", values=values_json(v), files="[]")
        for r, v in zip(rows, told, strict=True)
    )
    return rows


def test_a_process_of_its_own_names_the_same_pairs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with Index(tmp_path / "index.sqlite") as index:
        rows = copied(index, 30)
        here = with_likeness(rows, index)
        monkeypatch.setattr(alike, "WORTH", 2)
        there = with_likeness(rows, index)
    assert here == there
    assert [(pair.one, pair.other) for pair in here[1]] == [("0.toml", "29.toml")]
    assert [row.name for row in here[0] if row.like] == ["0.toml", "29.toml"]


DAY = "2026-03-02T{}+00:00"


def told(asset: str, began: str, minutes: int) -> tuple[LogRow, ...]:
    """Return two lines of a class whose last log shows what the first does, so many minutes later, on some boat."""
    with Index() as index:
        rows = copied(index, 30, minutes)
        rows[0] = replace(rows[0], asset="Bench 1", began=DAY.format("09:00:00"))
        rows[-1] = replace(rows[-1], asset=asset, began=DAY.format(began))
        lines = with_likeness(rows, index)[0]
    return lines[0], lines[-1]


def test_who_measured_together_is_said_to_have_and_may_be_accepted() -> None:
    for line in told("bench 1 ", "09:02:00", minutes=4):
        assert line.like is not None
        assert line.like.together
        assert "may have measured together" in line.like.sentence


@pytest.mark.parametrize(("asset", "minutes"), [("bench 1", 40), ("Bench 2", 4), ("", 4)])
def test_the_same_values_later_or_on_another_boat_are_told_with_which_came_first(asset: str, minutes: int) -> None:
    """Whatever else could explain it stands beside it, and no word accuses anybody."""
    first, later = told(asset, "10:30:00", minutes)
    assert first.like is not None
    assert later.like is not None
    assert first.like.sentence.startswith(
        "10 of 10 measured values show the digits of 29.toml, begun 90 min after this one; one bench, or one who read"
    )
    assert "of 0.toml, begun 90 min before this one; one bench" in later.like.sentence
    assert (first.like.together, later.like.together) == (False, False)
    assert "cop" not in first.like.sentence + later.like.sentence


def test_a_cohort_too_large_to_be_compared_unasked_is_said() -> None:
    with Index() as index:
        rows = copied(index, 12)
        assert with_likeness(rows, index, most=11)[1] == ()
    assert left_out(rows, 12) == ()
    (sentence,) = left_out(rows, 11)
    assert "12 logs of own, revision 1: likeness was not looked at" in sentence
