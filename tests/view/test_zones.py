"""Where is power, where are my hands: every zone as the entries leave it, never safer than they say."""

from engine.session import commands as c
from engine.view.models import ZoneRow
from engine.view.step import step_view
from engine.view.zones import where_view
from tests.plain.works import wired
from tests.session.jobs import Session


def stands(session: Session, step: str) -> str:
    (zone,) = step_view(session.procedure, session.state, step, session.now).zones
    assert zone.name == "the wire"
    return f"{zone.words}; {zone.hands}" if zone.hands else zone.words


def test_a_zone_is_live_until_it_is_lifted_and_dead_only_once_it_is_proved() -> None:
    session = Session(wired())
    assert stands(session, "lift") == "live"
    assert stands(session, "join") == "live; hands off"
    session.done("lift")
    assert stands(session, "join") == "off, unproved; hands off"
    session.give(volts="0.00")
    assert stands(session, "dead") == "off, unproved"
    session.done("dead")
    session.wait(minutes=4)
    assert stands(session, "join") == "dead, proved 4 min ago; hands may go here"


def test_a_gap_or_a_hand_over_takes_the_hands_away() -> None:
    session = Session(wired())
    session.done("lift")
    session.give(volts="0.00")
    session.done("dead")
    session.wait(minutes=30)
    assert stands(session, "join") == "in doubt, nothing was entered for 30 min; hands off"
    assert where_view(session.procedure, session.state, session.now).zones[0].hands == "hands off"
    session.wait(hours=4)
    assert stands(session, "join") == "off, unproved; hands off"
    session = Session(wired())
    session.done("lift")
    session.give(volts="0.00")
    session.done("dead")
    session.send(c.HandOver("B. Second"))
    assert stands(session, "join") == "off, unproved; hands off"


def test_what_is_fed_is_live_again() -> None:
    session = Session(wired())
    session.done("lift")
    session.give(volts="0.00")
    session.done("dead", "join", "power")
    assert stands(session, "power") == "live"
    assert where_view(session.procedure, session.state, session.now).zones == (ZoneRow("the wire", "live", "live", ""),)


def test_a_step_that_has_to_do_with_no_power_has_no_map() -> None:
    session = Session(wired())
    assert step_view(session.procedure, session.state, "test", session.now).zones == ()
