"""Ways round a hold that somebody might try, knowingly or not: branches that turn, values typed over, steps redone."""

from jobs import Session, limit, procedure, reading, step

from engine.session import commands as c
from engine.session.decide import decide
from engine.session.events import Redone
from engine.session.outcome import Decided, Refusal

ASK = step("ask", "", 'fact.kind = { ask = "which kind", one_of = ["lead", "lithium"] }')


def firm(name: str, when: str = "", body: str = "") -> str:
    return step(name, f'hold = "firm"\n{when}', body)


def told(kind: str, steps: str) -> Session:
    session = Session(procedure(ASK + steps))
    session.give(kind=kind)
    session.done("ask")
    return session


LITHIUM = "when = 'kind == \"lithium\"'"
PROOF = firm("proof", LITHIUM, reading("v") + limit("v >= 10 V"))


def test_what_decides_the_branch_of_a_firm_hold_cannot_be_left_out() -> None:
    session = Session(procedure(ASK + PROOF + step("end")))
    assert session.refused(c.SkipEntry("kind", "not known")) == (
        "this decides which steps belong to the job; it must be given"
    )


def test_nothing_goes_past_a_hold_while_it_is_not_known_whether_it_belongs_to_the_job() -> None:
    session = told("lithium", PROOF + step("end"))
    session.send(c.Redo("ask"))
    assert session.refused(c.Finish("end")) == '"end" needs step 1, "ask", first'
    session.give(kind="lithium")
    session.done("ask")
    assert session.refused(c.Finish("end")) == '"end" needs step 2, "proof", first'


def test_a_corrected_fact_brings_a_reading_back_into_a_step_that_was_done() -> None:
    session = told("lead", firm("proof", "", reading("w") + reading("v", extra=LITHIUM)) + step("end"))
    session.give(w="1")
    session.done("proof", "end")
    session.send(c.Correct("kind", "lithium", "read the label again"))
    assert session.refused(c.Close()) == 'still to do: "proof"'
    assert session.refused(c.Finish("proof")) == "still to give: v"


def test_a_corrected_fact_brings_a_check_back_into_a_step_that_was_done() -> None:
    check = """\ncheck.fuse-load = { load = "load", fuse = "10 A", when = 'kind == "lithium"' }"""
    session = told("lead", step("proof", "", reading("load", "A") + check))
    session.give(load="50")
    session.done("proof")
    session.send(c.Correct("kind", "lithium", "read the label again"))
    assert session.refused(c.Close()) == 'still to do: "proof"'
    assert "go on as a deviation" in session.refused(c.Finish("proof"))


def test_a_value_that_was_only_asked_on_another_branch_does_not_count() -> None:
    steps = step("one", LITHIUM, reading("v")) + step("two", "when = 'v > 1 V'") + step("end")
    session = told("lithium", steps)
    session.give(v="5")
    session.done("one", "two")
    session.send(c.Correct("kind", "lead", "read the label again"))
    assert session.refused(c.Redo("two")) == 'there is no step "two" in this job'
    assert session.refused(c.Correct("v", "6", "read it again")) == '"v" is not asked in this job'
    session.done("end")
    assert isinstance(session.send(c.Close()), Decided)


def test_a_point_that_comes_to_be_measured_has_the_proof_that_lists_it_judged_again() -> None:
    check = '\ncheck.fuse-load = { load = "a", fuse = "b" }'
    tap = step("tap", LITHIUM, reading("b", "A"))
    session = told("lead", tap + firm("proof", "", reading("a", "A") + check))
    session.give(a="5")
    assert "only evidence" in session.refused(c.Finish("proof"))
    session.send(c.Redo("ask"))
    session.give(kind="lithium")
    session.done("ask")
    session.give(b="10")
    session.done("tap", "proof")
    session.send(c.Redo("ask"))
    assert "proof" not in session.state.done


USE = step("source", "", reading("v")) + firm("proof", "", reading("w") + limit("w <= v"))


def used() -> Session:
    session = Session(procedure(USE + step("end")))
    session.give(v="5")
    session.done("source")
    session.give(w="4")
    session.done("proof", "end")
    return session


def test_doing_a_step_again_has_the_steps_that_used_its_reading_ended_again() -> None:
    session = used()
    decision = decide(session.procedure, session.state, c.Redo("source"), session.now)
    assert isinstance(decision, Decided)
    assert decision.events == (Redone(step="source", voided=["source"], rejudged=["proof"]),)


def test_a_hold_is_not_ended_while_a_value_it_is_judged_by_is_gone() -> None:
    session = used()
    session.send(c.Redo("source"))
    decision = session.send(c.Finish("proof"))
    assert decision == Refusal('cannot be judged before "source" gives: v', "source", ("v",))
    session.give(v="3")
    session.done("source")
    assert "only evidence opens this hold" in session.refused(c.Finish("proof"))


def test_a_value_that_another_step_was_settled_with_is_not_typed_over() -> None:
    session = Session(procedure(USE))
    session.give(v="5", w="4")
    session.done("proof")
    assert session.refused(c.Take("v", "3")) == '"proof" was settled with this value; correct it, with a reason'
    assert "correct it" in session.refused(c.SkipEntry("v", "no instrument"))
    session.send(c.Correct("v", "3", "misread"))
    assert "only evidence" in session.refused(c.Finish("proof"))


def test_doing_a_step_again_asks_again_what_was_left_out() -> None:
    session = Session(procedure(step("one", "", reading("v"))))
    session.send(c.SkipEntry("v", "no instrument"))
    session.done("one")
    session.send(c.Redo("one"))
    assert session.refused(c.Finish("one")) == "still to give: v"


DEAD = firm("dead", 'proves_dead = ["wire"]', reading("v") + limit("abs(v) <= 0.1 V"))
WIRED = (
    DEAD
    + step("work", 'hands_on = ["wire"]', reading("depth", "mm") + '\nleaves = { wire = "loose" }')
    + step("connect", 'feeds = ["wire"]', '\nleaves = { wire = "landed" }')
)


def wired() -> Session:
    session = Session(procedure(WIRED))
    session.give(v="0.00")
    session.done("dead")
    session.give(depth="12")
    session.done("work", "connect")
    return session


def test_ending_a_step_again_after_a_correction_asks_for_no_new_proof_since_nothing_is_done_anew() -> None:
    used_later = WIRED + step("look", "", limit("depth >= 10 mm"))
    session = Session(procedure(used_later))
    session.give(v="0.00")
    session.done("dead")
    session.give(depth="12")
    session.done("work", "connect", "look")
    session.send(c.Correct("depth", "11", "misread"))
    session.done("look")
    assert session.state.physical == {"wire": "landed"}


CUT = step("cut", 'hands_on = ["wire"]', reading("depth", "mm") + limit("depth >= 10 mm") + '\nleaves = { w = "cut" }')


def corrected_after_connecting() -> Session:
    session = Session(procedure(DEAD + CUT + step("connect", 'feeds = ["wire"]', '\nleaves = { w = "live" }')))
    session.give(v="0.00")
    session.done("dead")
    session.give(depth="12")
    session.done("cut", "connect")
    session.send(c.Correct("depth", "11", "misread"))
    return session


def test_a_step_that_is_only_ended_again_leaves_the_boat_as_it_is() -> None:
    session = corrected_after_connecting()
    session.done("cut")
    assert session.state.physical == {"w": "live"}


def test_a_step_that_is_only_ended_again_takes_no_new_value_under_an_ended_proof() -> None:
    session = corrected_after_connecting()
    assert "dead proof ended by" in session.refused(c.Take("depth", "15"))
    session.send(c.Redo("cut"))
    assert session.refused(c.Finish("cut")).startswith('"cut" needs step 1, "dead"')


def test_a_proof_that_is_only_ended_again_stays_ended() -> None:
    session = corrected_after_connecting()
    session.send(c.Correct("v", "0.02", "misread"))
    session.done("dead", "cut")
    session.send(c.Redo("cut"))
    assert session.refused(c.Finish("cut")).startswith('"cut" needs step 1, "dead"')


def test_reconnecting_a_source_ends_a_dead_proof_that_was_only_begun() -> None:
    session = Session(procedure(step("connect", 'feeds = ["wire"]') + DEAD))
    session.give(v="0.00")
    session.done("connect")
    assert session.refused(c.Finish("dead")) == "still to give: v"


def test_another_person_proves_dead_again_what_was_begun_or_only_to_be_ended_again() -> None:
    begun, fixed = Session(procedure(DEAD + CUT)), Session(procedure(DEAD + CUT))
    for session in (begun, fixed):
        session.give(v="0.00")
    fixed.done("dead")
    fixed.send(c.Correct("v", "0.01", "misread"))
    for session in (begun, fixed):
        session.send(c.HandOver("B. Other"))
    assert begun.refused(c.Finish("dead")) == "still to give: v"
    fixed.done("dead")
    assert "ended by the hand-over" in fixed.refused(c.Take("depth", "15"))


def test_a_cover_that_is_on_is_not_left_again_by_ending_its_step_again() -> None:
    opens = reading("v") + limit("v >= 1 V") + '\nopens = { cover = "cover back on" }'
    session = Session(procedure(step("open", "", opens) + step("shut", 'closes = ["cover"]')))
    session.give(v="5")
    session.done("open", "shut")
    session.send(c.Correct("v", "4", "misread"))
    session.done("open")
    assert isinstance(session.send(c.Close()), Decided)


def test_what_is_opened_again_is_finished_again_not_only_ended() -> None:
    opens = '\nopens = { cover = "cover back on" }'
    shut = step("shut", 'closes = ["cover"]', reading("v") + limit("v >= 1 V"))
    session = Session(procedure(step("open", "", opens) + shut))
    session.done("open")
    session.give(v="5")
    session.done("shut")
    session.send(c.Redo("open"))
    session.done("open")
    assert session.state.items == {"cover": "cover back on"}
    assert session.refused(c.Close()) == 'still to do: "shut"'
    assert session.refused(c.Finish("shut")) == "still to give: v"


def test_an_instrument_declared_later_does_not_change_what_was_proved() -> None:
    metered = reading("v", extra='by = "dmm_v"') + limit("v >= 1 V")
    session = Session(procedure(step("one", "", metered)))
    session.send(c.DeclareInstrument("dmm_v", "first", 0.5, 2, 0.01))
    session.give(v="5")
    session.done("one")
    session.send(c.DeclareInstrument("dmm_v", "second", 5, 20, 0.1))
    assert session.state.done["one"].instruments["dmm_v"].name == "first"
    assert session.state.instruments["dmm_v"].name == "second"
