"""Notes on how a record came about: repeated readings, people, breaks, attached files; and the lines that say so."""

import pytest

from engine.review.audit import audit, audit_file
from engine.review.repeats import repeat_notes
from engine.review.report import record_notes, report_lines
from engine.session.attach import FileCheck
from engine.session.events import Corrected, Event, InstrumentDeclared, Redone, Stamped, Taken
from tests.review.forging import CLEAN, MENDED, rebuilt
from tests.samples.remake import Sample

PROCEDURE = audit_file(CLEAN).procedure


def volts(number: float, step: str = "link-in") -> Taken:
    return Taken(entry="v_bank", step=step, raw=str(number), unit="V", number=number, digit=0.01, known="measured")


def notes(*events: Event) -> tuple[str, ...]:
    assert PROCEDURE is not None
    return repeat_notes(PROCEDURE, [Stamped(n, "", 0.0, event) for n, event in enumerate(events, 1)])


def test_two_readings_within_two_per_cent_agree() -> None:
    """Worked by hand: 2 % of 25.0 V is 0.5 V."""
    assert notes(volts(24.5), volts(25.0)) == ()


def test_two_readings_further_apart_are_noted_with_both() -> None:
    (note,) = notes(volts(24.4), volts(25.0))
    assert "24.40 V, then 25.00 V: no two agree within 0.50 V" in note


def test_a_third_reading_that_agrees_with_one_of_them_settles_it() -> None:
    assert notes(volts(24.4), volts(25.0), volts(24.9)) == ()


def test_a_coarse_instrument_is_allowed_twice_its_uncertainty() -> None:
    """Worked by hand: 3 % of 25 V is 0.75 V; u = 0.75 / sqrt(3) = 0.433 V, U = 0.87 V, twice that 1.73 V."""
    coarse = InstrumentDeclared(instrument="dmm_v", name="dial meter", percent=3.0, counts=0.0, resolution=0.01)
    assert notes(coarse, volts(23.3), volts(25.0)) == ()
    assert len(notes(coarse, volts(23.2), volts(25.0))) == 1


@pytest.mark.parametrize(
    "between",
    [Corrected(entry="v_bank", was="2.44", reason="slip"), Redone(step="link-in", voided=["link-in"])],
    ids=["corrected", "done again"],
)
def test_what_was_corrected_or_done_again_is_no_repeat(between: Event) -> None:
    assert notes(volts(2.44), between, volts(25.0)) == ()


def test_a_break_stands_in_the_notes(sample: Sample) -> None:
    assert record_notes(audit_file(sample(MENDED))) == ("breaks: 120 min",)


def test_people_who_handed_over_stand_in_the_notes() -> None:
    def handed(events: list[dict]) -> list[dict]:
        last = events[-2]
        person = {"event": "person", "n": 0, "at": last["at"], "mono": last["mono"], "person": "D. Fen",
                  "ended": [], "rejudged": []}  # fmt: skip
        return [*events[:-1], person, events[-1]]

    assert "done by R. Marsh, then D. Fen" in record_notes(audit(rebuilt(handed), "x"))


def test_a_changed_file_stands_in_the_report() -> None:
    lines = report_lines(audit_file(CLEAN), [FileCheck("hole.jpg", "changed")])
    assert lines[lines.index("  files:") + 1] == "    hole.jpg: changed"
