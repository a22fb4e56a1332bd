"""Words that a step offers: filled from what was given, gone when they are taken."""

from engine.view.models import EntryRow
from engine.view.step import step_view
from tests.session.jobs import Session, procedure, reading, step

WORDS = """
read.label = { ask = "Words", of = "words", known = "seen", offers = ["fuse <amps>", "cold <kelvin>", "<date>"] }"""


def begun() -> Session:
    return Session(procedure(step("see", "", reading("amps", "A") + reading("kelvin", "degC") + WORDS)))


def row(job: Session, name: str = "label") -> EntryRow:
    return next(row for row in step_view(job.procedure, job.state, "see", job.now).rows if row.id == name)


def test_words_are_offered_with_the_values_in_one_system_of_units() -> None:
    job = begun()
    job.give(amps="15", kelvin="20 degC")
    day = job.now.astimezone()
    assert row(job).offer == f"fuse 15 A; cold 20 degC; {day.day} {day:%B %Y}"
    assert row(job).hint == f"Enter alone takes: {row(job).offer}"


def test_a_value_that_was_not_given_is_not_offered() -> None:
    job = begun()
    job.give(amps="15")
    assert row(job).offer.startswith("fuse 15 A; ")
    assert "cold" not in row(job).offer


def test_a_corrected_value_is_offered_as_it_is_now() -> None:
    job = begun()
    job.give(amps="15")
    job.give(amps="20")
    assert row(job).offer.startswith("fuse 20 A; ")


def test_words_that_were_given_are_not_offered_again() -> None:
    job = begun()
    job.give(amps="15", label="fuse in the box")
    assert (row(job).offer, row(job).shown) == ("", "fuse in the box")


def test_a_number_is_never_offered() -> None:
    assert row(begun(), "amps").offer == ""
