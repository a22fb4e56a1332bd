"""Do-confirm: which steps are confirmed at a pause, and that nothing is skipped by it.

Sources: 5 to 9 items at a pause, and short cuts after 60 to 90 s, are pause-point practice as quoted; the rest are
project rules.
"""

from pathlib import Path

import pytest
from jobs import HEAD, Session, limit, reading, step

from engine.procedure.keying import step_effort
from engine.procedure.load import load, load_text
from engine.procedure.model import Procedure
from engine.session import commands as c
from engine.session import events as e
from engine.session.codec import from_flat, to_flat
from engine.session.outcome import Decided
from engine.session.pauses import LONGEST_S, MOST, pause_of, pauses
from engine.session.state import State
from engine.shipped import shipped

WARNED = '\n[[step.warning]]\n  word = "WARNING"\n  hazard = "It is hot."\n  avoid = "Wait."\n'


def technician(steps: str) -> Procedure:
    return load_text(HEAD + 'style = "do-confirm"\n' + steps, "small.toml")


def at_work(steps: str) -> Session:
    session = Session(technician(steps))
    assert isinstance(session.send(c.ChooseMode("do-confirm")), Decided)
    return session


def ids(work: Procedure, state: State | None = None) -> list[list[str]]:
    return [[step.id for step in pause] for pause in pauses(work, state or State(procedure="small"))]


def many(count: int, body: str = "") -> str:
    return "".join(step(f"s{n}", "", body.replace("NAME", f"v{n}")) for n in range(count))


def styles(session: Session) -> dict[str, str | None]:
    return {s.event.step: s.event.style for s in session.events if isinstance(s.event, e.StepDone)}


def test_plain_steps_that_follow_each_other_are_one_pause() -> None:
    assert ids(technician(many(4))) == [["s0", "s1", "s2", "s3"]]


def test_a_section_of_the_usual_style_has_no_pause() -> None:
    assert ids(load_text(HEAD + many(4), "small.toml")) == []


@pytest.mark.parametrize(
    "alone",
    [
        step("x", 'hold = "hold"', reading("x")),
        step("x", 'hold = "firm"', reading("x")),
        step("x", 'irreversible = "cut"'),
        step("x", 'stop_if = ["it smokes"]'),
        step("x", "", WARNED),
        step("x", 'ends = ["a"]'),
    ],
    ids=["hold", "firm hold", "cut", "reason to stop", "warning", "what ends a proof"],
)
def test_what_must_be_read_first_stands_alone_and_parts_the_steps_around_it(alone: str) -> None:
    work = technician(step("a") + step("b") + alone + step("c") + step("d") + step("e"))
    assert ids(work) == [["a", "b"], ["c", "d", "e"]]


def test_a_plain_step_between_two_holds_is_no_pause() -> None:
    hold = 'hold = "hold"'
    assert ids(technician(step("a", hold, reading("p")) + step("b") + step("c", hold, reading("q")))) == []


def test_more_than_nine_are_parted_evenly() -> None:
    assert [len(pause) for pause in ids(technician(many(11)))] == [6, 5]


def test_what_takes_longer_than_ninety_seconds_is_parted() -> None:
    """Six values of 2.75 s, a hand of 0.4 s and Enter are 17.2 s a step: nine of them are 155 s, five are 86 s."""
    body = "".join(reading(f"NAME_{n}") for n in range(6))
    assert [len(pause) for pause in ids(technician(many(9, body)))] == [5, 4]


def test_a_step_that_does_not_belong_to_the_job_is_not_at_the_pause() -> None:
    body = step("a", "", reading("v")) + step("b", "when = 'v > 3 V'") + step("c")
    session = at_work(body)
    session.give(v="1")
    assert ids(session.procedure, session.state) == [["a", "c"]]
    other = at_work(body)
    other.give(v="5")
    assert ids(other.procedure, other.state) == [["a", "b", "c"]]


@pytest.mark.parametrize("path", shipped(), ids=lambda path: path.stem)
def test_every_pause_of_a_shipped_procedure_keeps_the_limits(path: Path) -> None:
    work = load(path)
    for pause in pauses(work, State(procedure=work.id)):
        assert 2 <= len(pause) <= MOST
        assert sum(step_effort(work, s).seconds() for s in pause) <= LONGEST_S


def test_the_log_says_which_steps_were_confirmed_at_a_pause() -> None:
    session = at_work(step("a") + step("b") + step("cut", 'irreversible = "cut"'))
    session.done("b", "a", "cut")
    assert styles(session) == {"b": "do-confirm", "a": "do-confirm", "cut": None}
    assert session.state.done["a"].style == "do-confirm"
    assert session.state.done["cut"].style == "read-do"


def test_the_usual_way_of_working_leaves_the_log_as_it_always_was() -> None:
    session = Session(technician(step("a") + step("b")))
    session.done("a")
    assert styles(session) == {"a": None}
    flat = [to_flat(item) for item in session.events]
    assert not [table for table in flat if "mode" in table or "style" in table]
    assert [from_flat(table) for table in flat] == session.events


def test_the_mode_is_in_the_opening_event_if_it_was_chosen_at_the_start() -> None:
    session = Session(technician(step("a") + step("b")))
    other = Session.__new__(Session)
    other.procedure, other.now, other.events, other.state = session.procedure, session.now, [], State()
    other.send(c.Start("Test Tern", "A. Tester", mode="do-confirm"))
    assert other.state.mode == "do-confirm"
    assert to_flat(other.events[0])["mode"] == "do-confirm"


def test_somebody_else_begins_with_read_do() -> None:
    session = at_work(step("a") + step("b"))
    session.send(c.HandOver("B. Other"))
    assert session.state.mode == "read-do"
    session.done("a")
    assert styles(session) == {"a": None}


@pytest.mark.parametrize("mode", ["", "tick-all", "do_confirm"])
def test_an_unknown_mode_is_refused_with_the_known_ones(mode: str) -> None:
    session = Session(technician(step("a")))
    assert "read-do and do-confirm" in session.refused(c.ChooseMode(mode))


def test_a_mode_that_is_chosen_already_is_refused() -> None:
    assert "already" in at_work(step("a")).refused(c.ChooseMode("do-confirm"))


def test_at_a_pause_no_value_and_no_gate_is_skipped() -> None:
    session = at_work(step("a", "", reading("v") + limit("v <= 3 V")) + step("b", 'needs = ["a"]') + step("c"))
    assert "still to give: v" in session.refused(c.Finish("a"))
    assert 'needs step 1, "a", first' in session.refused(c.Finish("b"))
    session.done("c")
    session.give(v="9")
    assert "mend it" in session.refused(c.Finish("a"))


def test_a_hold_after_a_pause_opens_only_when_all_before_it_that_it_needs_is_done() -> None:
    session = at_work(step("a") + step("b") + step("h", 'hold = "firm"\nneeds = ["a", "b"]', reading("v")))
    session.done("b")
    assert 'needs step 1, "a", first' in session.refused(c.Take("v", "1"))


def test_pause_of_a_step_alone_is_empty() -> None:
    work = technician(step("a") + step("b") + step("x", 'irreversible = "cut"'))
    state = State(procedure="small")
    assert pause_of(work, state, "x") == ()
    assert [s.id for s in pause_of(work, state, "b")] == ["a", "b"]
