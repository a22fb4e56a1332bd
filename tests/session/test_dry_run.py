"""A dry run walks every branch of a procedure, says what each value would bring, and names a dead end."""

import pytest
from jobs import limit, procedure, reading, step

from engine.finding import Verdict
from engine.procedure.load import load
from engine.session.dry_run import Walk, dry_lines, dry_run, status
from engine.shipped import find

HOLD = 'hold = "firm"'


def ways(steps: str) -> dict[str, Walk]:
    return {walk.turned: walk for walk in dry_run(procedure(steps))}


def test_the_verdict_of_each_value_is_told() -> None:
    walk = ways(step("volts", "", reading("v") + limit("v >= 0 V")))[""]
    (row,) = walk.rows
    assert (row.step, row.entry) == ("volts", "v")
    assert dict(row.tried) == {"0": "pass", "-100": "fail", "100": "pass"}
    assert walk.dead_end == ""


def test_a_value_that_opens_a_firm_hold_is_looked_for() -> None:
    walk = ways(step("volts", HOLD, reading("v") + limit("v >= 50 V")))[""]
    assert (walk.steps, walk.dead_end, walk.past) == (["volts"], "", [])


def test_two_values_that_are_right_only_together_are_found() -> None:
    both = reading("a") + reading("b") + limit("a == 100 V and b == -100 V")
    assert ways(step("pair", HOLD, both))[""].dead_end == ""


def test_a_firm_hold_that_no_value_opens_is_a_dead_end() -> None:
    walk = ways(step("fact", "", reading("f")) + step("shut", HOLD, reading("v") + limit("f >= 50 V")))[""]
    assert walk.dead_end.startswith("shut: ")
    assert "DEAD END at shut" in "\n".join(dry_lines([walk]))


def test_every_turn_of_a_branch_is_walked_and_a_hold_that_does_its_work_is_no_dead_end() -> None:
    ask = step("ask", "", reading("n"))
    found = ways(ask + step("more", "when = 'n > 1 V'", reading("m")) + step("end", HOLD, limit("n <= 50 V")))
    assert set(found) == {"", "n = 100"}
    assert found[""].steps == ["ask", "end"]
    assert found["n = 100"].steps == ["ask", "more"]
    assert found["n = 100"].held.startswith("end: ")
    assert found["n = 100"].dead_end == ""


def test_a_turn_inside_a_branch_is_walked_from_that_branch() -> None:
    inner = step("more", "when = 'n > 1 V'", reading("m"))
    found = ways(step("ask", "", reading("n")) + inner + step("last", "when = 'm > 1 V'", reading("v")))
    assert {turned: walk.steps for turned, walk in found.items()} == {
        "": ["ask"],
        "n = 100": ["ask", "more"],
        "n = 100, m = 100": ["ask", "more", "last"],
    }


def test_what_was_gone_past_by_deviation_is_told_and_decides_the_status() -> None:
    walk = ways(step("fact", "", reading("f")) + step("soft", "", reading("v") + limit("f >= 50 V")))[""]
    assert [(verdict.value, text.split(":")[0]) for verdict, text in walk.past] == [("fail", "soft")]
    assert status([walk]) == 1


def test_a_marginal_on_the_plain_way_is_no_trouble() -> None:
    steps = step("fact", "", reading("f")) + step("soft", "", reading("v") + limit("f >= 50 V", "marginal"))
    assert status(list(ways(steps).values())) == 0


def test_a_fail_on_another_way_is_no_trouble_and_a_dead_end_is() -> None:
    walks = [Walk("", ["a"]), Walk("n = 1", ["a"], past=[(Verdict.FAIL, "a: fail")])]
    assert status(walks) == 0
    assert status([*walks, Walk("n = 2", dead_end="b")]) == 1


def test_what_nothing_judges_is_not_called_a_pass() -> None:
    walk = ways(
        step("one", "", reading("idle") + reading("late")) + step("two", "", reading("v") + limit("late <= v"))
    )[""]
    told = {row.entry: dict(row.tried) for row in walk.rows}
    assert set(told["idle"].values()) == {"not judged"}
    assert set(told["late"].values()) == {"judged in two"}
    assert "fail" in told["v"].values()
    assert "  one, idle: not judged" in dry_lines([walk])


def test_progress_is_told_until_all_ways_are_walked() -> None:
    told: list[tuple[int, int]] = []
    work = procedure(step("ask", "", reading("n")) + step("more", "when = 'n > 1 V'", reading("m")))
    walks = dry_run(work, lambda walked, known: told.append((walked, known)))
    assert told == [(1, 2), (2, 2)]
    assert len(walks) == 2


@pytest.mark.parametrize("name", ["outlet-12v", "bilge-float", "solar-inlet"])
def test_a_shipped_procedure_has_no_dead_end(name: str) -> None:
    assert [walk.dead_end for walk in dry_run(load(find(name))) if walk.dead_end] == []
