"""The keyboard's time. Source: the keystroke-level model, CACM 23(7) 1980: times as quoted, its rules from memory."""

from pathlib import Path

import pytest

from engine.procedure.keying import COLD_KEY_S, Effort, job_effort, step_effort, value, whole_step
from engine.procedure.load import load
from engine.procedure.model import Entry, Hold, Procedure, Step, WirePart
from engine.procedure.model_circuit import StepCheck
from engine.shipped import shipped
from tests.procedure.small import loaded

PLAIN = Step(id="a", section="s", title="t", action="x", why="y")
MOST_MIN = 8.0
"""What a whole job may ask of a usual typist [min]; a project rule."""


def job(step: Step, *facts: Entry) -> Procedure:
    return Procedure(id="p", title="t", revision="1", summary="s", scope="s", facts=facts, steps=(step,))


def with_entry(**changes: object) -> Step:
    return Step(id="a", section="s", title="t", action="x", why="y", readings=(entry(**changes),))


def entry(**changes: object) -> Entry:
    return Entry(id="e", ask="e", unit="V", **changes)  # type: ignore[arg-type]


def test_a_plain_step_is_hand_thought_and_one_key() -> None:
    """0.4 s + 1.35 s + 1.2 s = 2.95 s with a cold finger (worked by hand from the model's times)."""
    assert step_effort(job(PLAIN), PLAIN).seconds(COLD_KEY_S) == pytest.approx(2.95)


def test_words_that_are_offered_are_a_thought_and_one_key() -> None:
    """1.35 s + 0.28 s, and the key that ends the step without a thought of its own: 0.4 s + 0.28 s."""
    words = Entry(id="e", ask="e", unit="words", offers=("<date>",))
    step = Step(id="a", section="s", title="t", action="x", why="y", readings=(words,))
    assert step_effort(job(step), step).seconds() == pytest.approx(1.35 + 0.28 + 0.4 + 0.28)


def test_a_value_is_one_thought_its_signs_and_enter() -> None:
    """Four figures and Enter: 1.35 s + 5 x 0.28 s = 2.75 s."""
    assert value(5).seconds() == pytest.approx(2.75)


def test_the_hand_comes_once_for_all_values_of_a_step() -> None:
    assert whole_step([value(5)] * 6, read_first=True).hands == 1


def test_the_enter_after_a_typed_value_needs_no_thought() -> None:
    assert whole_step([value(5)], read_first=False) == Effort(keys=6, thoughts=1, hands=1)


def test_a_verdict_that_comes_after_a_choice_is_read_before_the_step_is_ended() -> None:
    check = (StepCheck("bank"),)
    chosen = Entry(id="e", ask="e", unit="yes/no")
    for asked, thoughts in ((chosen, 2), (entry(), 1)):
        step = Step(id="a", section="s", title="t", action="x", why="y", readings=(asked,), checks=check)
        assert step_effort(job(step), step).thoughts == thoughts


def test_a_hold_is_looked_at_before_it_is_gone_through() -> None:
    hold = Step(id="a", section="s", title="t", action="x", why="y", readings=(entry(),), hold=Hold.FIRM)
    assert step_effort(job(hold), hold).thoughts == 2


def test_a_choice_is_one_key() -> None:
    step = Step(id="a", section="s", title="t", action="x", why="y", readings=(Entry(id="e", ask="e", unit="yes/no"),))
    assert step_effort(job(step), step) == Effort(keys=2, thoughts=1, hands=1)


def test_a_list_longer_than_the_digits_is_typed() -> None:
    long = Entry(id="e", ask="e", unit="choice", choices=tuple("abcdefghij"))
    step = Step(id="a", section="s", title="t", action="x", why="y", readings=(long,))
    assert step_effort(job(step), step).keys > 10


def test_each_part_on_the_wire_is_a_key_and_a_thought() -> None:
    step = Step(
        id="a", section="s", title="t", action="x", why="y", parts=(WirePart("n", "nut"), WirePart("b", "body"))
    )
    assert step_effort(job(step), step) == Effort(keys=3, thoughts=2, hands=1)


def test_the_facts_that_a_step_asks_take_their_time_too() -> None:
    fact = loaded().entry_by_id["motor_current"]
    asking = Step(id="a", section="s", title="t", action="x", why="y", asks=("motor_current",))
    assert step_effort(job(asking, fact), asking) == step_effort(job(with_entry()), with_entry())


def test_a_value_that_is_read_three_times_is_typed_three_times() -> None:
    step = with_entry(repeats=3)
    assert step_effort(job(step), step) == Effort(keys=16, thoughts=3, hands=1)


@pytest.mark.parametrize("path", shipped(), ids=lambda path: path.stem)
def test_no_shipped_job_asks_for_more_than_eight_minutes(path: Path) -> None:
    assert job_effort(load(path)).seconds() / 60 <= MOST_MIN
