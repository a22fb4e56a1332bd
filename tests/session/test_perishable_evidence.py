"""Evidence that does not last: time away, age, a source reconnected, a clock set back. Nothing renews it but proof."""

from jobs import Session, limit, procedure, reading, step

from engine.session import commands as c
from engine.session.events import ClockNoted, Fed
from engine.session.outcome import Decided

DEAD = step("dead", 'hold = "firm"\nproves_dead = ["wire"]', reading("v") + limit("abs(v) <= 0.1 V"))
WORK = step("work", 'hands_on = ["wire"]')


def ready(steps: str = DEAD + WORK) -> Session:
    session = Session(procedure(steps))
    session.give(v="0.00")
    session.done("dead")
    return session


def away(session: Session, minutes: float) -> None:
    session.send(c.Leave())
    session.wait(minutes=minutes)
    session.send(c.Return())


def test_a_short_break_leaves_the_dead_proof_standing() -> None:
    session = ready()
    away(session, 20)
    session.done("work")


def test_a_longer_break_asks_for_one_reading_or_the_whole_proof_again() -> None:
    session = ready()
    away(session, 21)
    assert session.refused(c.Finish("work")) == (
        '"work" measure the wire once more where hands go: nothing was entered for 21 min'
    )
    session.send(c.Take("still_dead", "left"))
    assert "still to give" in session.refused(c.Finish("dead"))
    session.give(v="0.01")
    session.done("dead", "work")


def test_correcting_and_ending_an_expired_proof_does_not_renew_it() -> None:
    session = ready()
    away(session, 300)
    assert isinstance(session.send(c.Correct("v", "0.02", "misread the meter")), Decided)
    session.done("dead")
    assert "its dead proof ended by a gap of 5 h" in session.refused(c.Finish("work"))


def test_readings_taken_before_a_long_break_do_not_count_for_a_hold_that_was_not_ended() -> None:
    session = Session(procedure(DEAD + WORK))
    session.give(v="0.00")
    away(session, 60)
    assert "still to give" in session.refused(c.Finish("dead"))


def test_a_step_that_reconnects_a_source_ends_the_dead_proof_at_once() -> None:
    session = ready(DEAD + WORK + step("connect", 'feeds = ["wire"]'))
    session.done("work", "connect")
    session.send(c.Redo("work"))
    assert session.refused(c.Finish("work")).startswith('"work" needs step 1, "dead"')


def test_a_zone_is_live_from_the_first_entry_of_the_step_that_feeds_it_though_that_is_begun_again() -> None:
    session = ready(DEAD + WORK + step("connect", 'feeds = ["wire"]', reading("w")))
    session.done("work")
    session.give(w="12.6")
    assert [event.event for event in session.events if isinstance(event.event, Fed)] == [
        Fed(step="connect", ended=["dead"])
    ]
    session.send(c.Redo("connect"))
    session.send(c.Redo("work"))
    assert "hands go on the wire, not proved dead" in session.refused(c.Finish("work"))


def test_away_often_is_away_long() -> None:
    session = ready()
    for _ in range(3):
        away(session, 9)
    assert "27 min" in session.refused(c.Finish("work"))


def test_four_hours_in_pieces_are_four_hours() -> None:
    session = ready()
    for _ in range(2):
        away(session, 150)
    assert "dead proof ended by a gap of 5 h" in session.refused(c.Finish("work"))


def test_silence_while_the_program_runs_is_a_gap_as_being_away_is() -> None:
    session = ready()
    session.wait(hours=2)
    assert "2 h" in session.refused(c.Finish("work"))


AGED = step("volts", 'lasts = "12 h"', reading("v")) + step("use", 'needs = ["volts"]')


def test_volts_older_than_twelve_hours_are_measured_again() -> None:
    session = Session(procedure(AGED))
    session.give(v="12.6")
    session.done("volts")
    session.wait(hours=12, seconds=1)
    assert "again" in session.refused(c.Finish("use"))


def test_old_readings_are_not_made_young_by_ending_their_step_late() -> None:
    session = Session(procedure(AGED))
    session.give(v="12.6")
    session.wait(hours=13)
    assert session.refused(c.Finish("volts")) == 'the readings of "volts" are too old by now; do the step again'


def test_a_clock_set_back_is_not_trusted_with_perishable_evidence() -> None:
    session = Session(procedure(AGED))
    session.give(v="12.6")
    session.done("volts")
    session.wait(hours=-3)
    assert "again" in session.refused(c.Finish("use"))


def test_another_person_proves_dead_again_what_hands_go_on() -> None:
    session = ready()
    session.send(c.HandOver("B. Other"))
    assert session.state.person == "B. Other"
    assert "its dead proof ended by the hand-over" in session.refused(c.Finish("work"))


def test_a_correction_does_not_make_old_volts_young() -> None:
    session = Session(procedure(AGED))
    session.give(v="12.6")
    session.done("volts")
    session.wait(hours=13)
    session.send(c.Correct("v", "12.5", "misread the meter"))
    assert "again" in session.refused(c.Finish("use"))


def test_what_the_clock_was_set_back_by_is_added_to_the_age() -> None:
    session = Session(procedure(AGED))
    session.give(v="12.6")
    session.done("volts")
    session.wait(hours=11)
    session.send(c.Note("use", "dinner"))
    before = session.now
    session.wait(hours=-10)
    session.record(ClockNoted(was=before.isoformat(), now=session.now.isoformat()))
    session.wait(minutes=59)
    session.done("use")
    session.send(c.Redo("use"))
    session.wait(minutes=2)
    assert "again" in session.refused(c.Finish("use"))


def test_nothing_is_done_while_the_job_is_left() -> None:
    session = ready()
    session.send(c.Leave())
    session.wait(minutes=60)
    for command in (c.Finish("work"), c.Note("work", "a note"), c.HandOver("B. Other"), c.Redo("dead"), c.Close()):
        assert session.refused(command) == "the job was left; come back to it first"


def test_a_clock_set_back_does_not_make_a_proof_young() -> None:
    session = ready()
    before = session.now
    session.wait(minutes=-30)
    steady_s = 1500.0
    session.record(ClockNoted(was=before.isoformat(), now=session.now.isoformat()), mono=steady_s)
    assert "25 min" in session.refused(c.Finish("work"))
