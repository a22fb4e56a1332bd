"""What a command leads through is said before it happens: every step of it, in working order, and what it does."""

from engine.session import commands as c
from engine.session.decide import decide
from engine.session.outcome import Decided
from engine.view.way import ways
from tests.plain.works import spare, wired
from tests.session.jobs import Session


def way(session: Session, command: c.Command) -> list[tuple[str, list[tuple[int, str, str]]]]:
    """Return the way of a command, and prove that asking for it records nothing."""
    before = len(session.events)
    decided = decide(session.procedure, session.state, command, session.now)
    assert isinstance(decided, Decided)
    found = ways(session.procedure, session.state, decided)
    assert len(session.events) == before
    return [(each.says, [(row.number, row.title, row.does) for row in each.steps]) for each in found]


def fed() -> Session:
    session = Session(wired())
    session.done("lift")
    session.give(volts="0.00")
    session.done("dead", "join", "power")
    session.give(drop="1.5")
    return session


def test_a_remedy_that_opens_something_leads_through_making_safe_the_work_and_its_proof() -> None:
    assert way(fed(), c.Redo("test", 1)) == [
        (
            "Open the joint and make it again (5 steps)",
            [
                (1, "lift", "makes safe"), (2, "dead", "proves dead"), (3, "join", "hands on"), (4, "power", "feeds"),
                (5, "test", "proof"),
            ],
        )
    ]  # fmt: skip


def test_a_step_done_again_alone_is_a_way_of_one_step() -> None:
    assert way(fed(), c.Redo("test")) == [("Done again, in this order (1 step)", [(5, "test", "proof")])]


def test_a_hand_over_names_the_dead_proofs_that_end_and_none_once_all_is_fed() -> None:
    assert way(fed(), c.HandOver("B. Second")) == []
    session = Session(wired())
    session.done("lift")
    session.give(volts="0.00")
    session.done("dead")
    assert way(session, c.HandOver("B. Second")) == [
        ("Proved dead again, before hands go on (1 step)", [(2, "dead", "proves dead")])
    ]


def test_a_corrected_fact_says_which_steps_come_and_go() -> None:
    session = Session(spare())
    session.give(ways="1")
    session.done("count")
    assert way(session, c.Correct("ways", "0", "there is none"))[0] == (
        "No longer part of this job (1 step)",
        [(2, "spare", "")],
    )
    session.send(c.Correct("ways", "0", "there is none"))
    assert way(session, c.Correct("ways", "2", "there are two"))[0] == (
        "New in this job (1 step)",
        [(2, "spare", "")],
    )


def test_a_corrected_value_says_which_steps_are_judged_anew() -> None:
    session = Session(wired())
    session.done("lift")
    session.give(volts="0.00")
    session.done("dead")
    assert way(session, c.Correct("volts", "0.02", "misread")) == [
        ("Judged anew, and only ended again (1 step)", [(2, "dead", "proves dead")])
    ]
