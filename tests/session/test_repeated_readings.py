"""A reading taken more than once: asked again, a third time if two lie apart, all kept, the middle one counts."""

import pytest
from jobs import Session, limit, procedure, reading, step

from engine.procedure.model import Entry
from engine.session import commands as c
from engine.session.events import Taken
from engine.session.outcome import Decided
from engine.session.repeat import allowed_apart
from engine.view.values import rows

TWICE = step("test", "", reading("v", extra="repeats = 2") + limit("v >= 10 V"))


def given(*texts: str) -> Session:
    session = Session(procedure(TWICE))
    for text in texts:
        session.give(v=text)
    return session


def test_the_second_reading_is_asked_before_the_step_can_end() -> None:
    session = given("12.0")
    assert session.refused(c.Finish("test")) == "still to give: v"
    row = rows(session.procedure, session.state, session.procedure.steps[0])[0]
    assert (row.ask, row.state) == ("v, reading 2", "open")


@pytest.mark.parametrize(
    ("texts", "value"),
    [
        (("12.0", "12.2"), 12.1),
        (("10.00", "9.80"), 9.9),  # 2 % of the larger is 0.2 V
    ],
)
def test_two_readings_that_agree_count_as_their_mean(texts: tuple[str, ...], value: float) -> None:
    session = given(*texts)
    assert session.state.values()["v"] == pytest.approx(value)


def test_two_readings_too_far_apart_ask_for_a_third_and_the_middle_one_counts() -> None:
    session = given("12.0", "15.0")
    assert session.refused(c.Finish("test")) == "still to give: v"
    session.give(v="12.3")
    session.done("test")
    assert session.state.values()["v"] == 12.3
    assert session.state.given["v"].readings == (12.0, 15.0, 12.3)


def test_no_fourth_reading_is_asked() -> None:
    session = given("12", "15", "20")
    session.done("test")


def test_a_declared_instrument_widens_what_may_lie_apart() -> None:
    metered = step("test", "", reading("v", extra='repeats = 2\nby = "dmm_v"'))
    rough, fine = Session(procedure(metered)), Session(procedure(metered))
    rough.send(c.DeclareInstrument("dmm_v", "a rough meter", 3.0, 0, 0.1))
    for session in (rough, fine):
        session.give(v="12.0")
        session.give(v="12.5")
    rough.done("test")
    assert session.refused(c.Finish("test")) == "still to give: v"


def test_every_reading_is_an_event_with_its_number() -> None:
    taken = [s.event for s in given("12.0", "15.0", "12.3").events if isinstance(s.event, Taken)]
    assert [event.turn for event in taken] == [None, 2, 3]


def test_a_correction_replaces_the_last_reading_and_asks_again_if_they_now_lie_apart() -> None:
    session = given("12.0", "12.1")
    session.done("test")
    assert isinstance(session.send(c.Correct("v", "15", "misread")), Decided)
    assert session.state.given["v"].readings == (12.0, 15.0)
    assert session.refused(c.Finish("test")) == "still to give: v"


def test_a_correction_reopens_the_step_although_nothing_is_judged_by_the_reading() -> None:
    session = Session(procedure(step("test", "", reading("v", extra="repeats = 2"))))
    session.give(v="12.0")
    session.give(v="12.1")
    session.done("test")
    session.send(c.Correct("v", "15", "misread"))
    assert session.refused(c.Close()) == 'still to do: "test"'


def test_over_range_needs_no_second_reading() -> None:
    open_end = step("test", "", reading("r", "ohm", "repeats = 2\nover_range = true"))
    session = Session(procedure(open_end))
    session.give(r="OL")
    session.done("test")


def test_what_an_instrument_adds_to_every_reading_is_allowed_for_too() -> None:
    """Worked by hand: 2.0 ohm on 1 % + 3 digits of 0.1 + 0.5 ohm: a = 0.82, U = 2 x 0.82 / sqrt(3), twice that 1.89."""
    asked = Entry(id="r", ask="r", unit="ohm", instrument="dmm_r", repeats=2)
    assert allowed_apart(asked, (0.5, 2.0), {}) == pytest.approx(4 * 0.82 / 3**0.5)
