"""Redoing and correcting make void exactly what depends on it, and say so before it happens."""

from jobs import Session, limit, procedure, reading, step

from engine.session import commands as c
from engine.session.decide import decide
from engine.session.events import Corrected, Redone
from engine.session.outcome import Decided

CHAIN = (
    step("clamp", 'works = ["joint"]', reading("depth", "mm"))
    + step("proof", 'proves = ["joint"]', reading("pull", "N"))
    + step("other", "", reading("side", "V") + limit("side >= 1 V"))
    + step("load", 'proves = ["circuit"]', reading("drop", "V") + limit("drop <= side"))
)


def through() -> Session:
    session = Session(procedure(CHAIN))
    session.give(depth="12")
    session.done("clamp")
    session.give(pull="50")
    session.done("proof")
    session.give(side="2")
    session.done("other")
    session.give(drop="1")
    session.done("load")
    return session


def test_doing_a_step_again_voids_it_and_what_rests_on_it_and_nothing_else() -> None:
    session = through()
    session.send(c.Redo("clamp"))
    assert set(session.state.done) == {"other"}
    assert set(session.state.given) == {"side"}


def test_what_will_become_void_is_known_before_it_happens() -> None:
    session = through()
    before = dict(session.state.given)
    decision = decide(session.procedure, session.state, c.Redo("proof"), session.now)
    assert isinstance(decision, Decided)
    assert decision.events[0] == Redone(step="proof", voided=["proof", "load"])
    assert session.state.given == before


def test_a_correction_reopens_only_the_steps_whose_findings_used_the_value() -> None:
    session = through()
    decision = session.send(c.Correct("side", "3 V", "read the wrong scale"))
    assert isinstance(decision, Decided)
    assert decision.events[0] == Corrected(
        entry="side", was="2", reason="read the wrong scale", rejudged=["other", "load"]
    )
    assert set(session.state.done) == {"clamp", "proof"}
    session.done("other", "load")


def test_a_correction_keeps_the_earlier_text_and_asks_nothing_else_again() -> None:
    session = through()
    session.send(c.Correct("side", "3 V", "read the wrong scale"))
    assert session.state.given["side"].before == ("2",)
    assert session.state.given["drop"].taken.raw == "1"


def test_a_correction_that_breaks_a_limit_is_caught_when_its_step_ends_again() -> None:
    session = through()
    session.send(c.Correct("side", "0.5 V", "read the wrong scale"))
    assert "wanted" in session.refused(c.Finish("other"))


def test_a_correction_needs_a_reason_and_something_to_correct() -> None:
    session = through()
    assert session.refused(c.Correct("side", "3", "")) == "say in a few words why it is corrected"
    assert session.refused(c.Correct("nothing", "3", "no such thing")) == ('there is no entry "nothing" to correct yet')


def test_a_done_step_takes_no_new_value_without_a_correction() -> None:
    assert through().refused(c.Take("side", "3")) == '"other" is done; correct the entry, or do the step again'


def test_a_fact_that_turns_a_branch_brings_its_steps_back() -> None:
    branch = step("ask", "", reading("n", "V")) + step("extra", "when = 'n > 1 V'\nhold = \"firm\"", reading("w"))
    session = Session(procedure(branch + step("end")))
    session.give(n="0")
    session.done("ask", "end")
    session.send(c.Correct("n", "2", "counted again"))
    assert session.refused(c.Close()) == 'still to do: "extra"'


def test_undoing_a_step_that_finished_something_leaves_it_to_do_again() -> None:
    opens = step("open", "", 'opens = { cover = "cover back on" }')
    session = Session(procedure(opens + step("shut", 'closes = ["cover"]')))
    session.done("open", "shut")
    assert session.state.items == {}
    session.send(c.Redo("shut"))
    assert session.state.items == {"cover": "cover back on"}
    assert "still to do" in session.refused(c.Close())


def test_correcting_words_that_nothing_is_judged_by_takes_no_deviation_back() -> None:
    body = reading("v") + reading("w") + limit("v >= 10 V")
    session = Session(procedure(step("test", "", body)))
    session.give(v="5", w="1")
    session.send(c.Deviate("test", "limit 1", "long enough a reason", "AT"))
    session.done("test")
    session.send(c.Correct("w", "2", "typed it wrong"))
    session.send(c.Close())
    assert (session.state.closed, session.state.clean) == (True, False)
