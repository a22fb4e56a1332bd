"""What each verdict allows on a plain step, a hold and a firm hold: the whole table, and the commands that obey it."""

import pytest
from jobs import Session, limit, procedure, reading, step

from engine.finding import Verdict
from engine.procedure.model import Hold
from engine.session import commands as c
from engine.session.allowed import needed
from engine.session.outcome import Decided

TABLE = {
    "pass": ("", "", ""),
    "marginal": ("accept", "accept", "accept"),
    "undecided": ("accept", "deviate", "evidence"),
    "missing": ("", "deviate", "evidence"),
    "fail": ("deviate", "deviate", "evidence"),
}


@pytest.mark.parametrize("verdict", list(Verdict))
@pytest.mark.parametrize(("hold", "column"), [(Hold.NONE, 0), (Hold.HOLD, 1), (Hold.FIRM, 2)])
def test_each_verdict_needs_what_the_table_says(verdict: Verdict, hold: Hold, column: int) -> None:
    assert needed(verdict, hold, firm=False) == TABLE[verdict.value][column]


@pytest.mark.parametrize("verdict", list(Verdict))
def test_a_firm_finding_makes_any_step_firm(verdict: Verdict) -> None:
    assert needed(verdict, Hold.NONE, firm=True) == TABLE[verdict.value][2]


def job(hold: str, otherwise: str = "fail") -> Session:
    head = f'hold = "{hold}"' if hold else ""
    session = Session(procedure(step("test", head, reading("v") + limit("v >= 10 V", otherwise))))
    session.give(v="5")
    return session


def test_a_failed_plain_step_goes_on_only_as_a_deviation_with_ten_letters_and_initials() -> None:
    session = job("")
    assert "mend it, or go on as a deviation" in session.refused(c.Finish("test"))
    assert session.refused(c.Deviate("test", "limit 1", "too short", "AT")) == (
        "a deviation needs a reason of 10 characters or more"
    )
    assert session.refused(c.Deviate("test", "limit 1", "long enough a reason", "")) == (
        "a deviation needs initials, at most 10 letters"
    )
    assert session.refused(c.Accept("test", "limit 1", "looks fine")) == "that finding needs a deviation"
    assert isinstance(session.send(c.Deviate("test", "limit 1", "long enough a reason", "AT")), Decided)
    session.done("test")


def test_a_failed_firm_hold_has_no_way_round() -> None:
    session = job("firm")
    assert "only evidence opens this hold" in session.refused(c.Finish("test"))
    sentence = "only evidence opens this; it can be stopped at and saved"
    assert session.refused(c.Deviate("test", "limit 1", "long enough a reason", "AT")) == sentence
    assert session.refused(c.Accept("test", "limit 1", "looks fine")) == sentence
    assert "must be measured" in session.refused(c.SkipEntry("v", "no instrument"))


def test_a_marginal_finding_is_accepted_with_a_reason_and_stays_clean() -> None:
    session = job("hold", "marginal")
    assert "accept it with a reason" in session.refused(c.Finish("test"))
    assert isinstance(session.send(c.Accept("test", "limit 1", "known and watched")), Decided)
    session.done("test")
    assert isinstance(session.send(c.Close()), Decided)
    assert session.state.clean


def test_a_reading_not_measured_leaves_a_plain_step_open_and_keeps_a_hold_shut() -> None:
    plain, hold = job(""), job("hold")
    for session in (plain, hold):
        session.send(c.SkipEntry("v", "no instrument"))
    plain.done("test")
    assert "go on as a deviation" in hold.refused(c.Finish("test"))


def test_an_acceptance_falls_when_the_finding_changes() -> None:
    session = job("", "marginal")
    session.send(c.Accept("test", "limit 1", "known and watched"))
    session.give(v="4")
    assert "accept it with a reason" in session.refused(c.Finish("test"))
