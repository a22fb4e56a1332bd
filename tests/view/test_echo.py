"""What is echoed while a value is typed: with its sign where one is demanded, and a place for every fault of a text.

Sources: project rules for the screen (a polarity reading carries its sign; a caret stands under a fault).
"""

from engine.procedure.load import load_text
from engine.session.state import State
from engine.view.preview import preview
from tests.session.jobs import HEAD, reading, step

JOB = load_text(HEAD + step("see", "", reading("v", "V", "signed = true") + reading("w")), "small.toml")


def echo(entry: str, text: str) -> str:
    return preview(JOB, State(procedure="small"), entry, text).echo


def test_a_signed_reading_is_echoed_with_its_sign() -> None:
    assert echo("v", "+12.7").startswith("+12.7 V")
    assert echo("v", "-12.7").startswith("-12.7 V")


def test_another_reading_is_echoed_without_a_plus() -> None:
    assert echo("w", "12.7").startswith("12.7 V")


def test_a_fault_at_the_first_sign_has_a_place_too() -> None:
    assert preview(JOB, State(procedure="small"), "w", "x4").column == 0


def test_a_value_outside_its_hard_range_has_no_place() -> None:
    found = preview(JOB, State(procedure="small"), "w", "900")
    assert found.problem
    assert found.column is None
