"""A pin map at the plain face: one sentence a position once it is recorded, a caret under a fault."""

from pathlib import Path

from tests.plain.talking import begin, talk
from tests.session.mapped import mapped


def test_what_was_recorded_is_said_position_by_position(tmp_path: Path) -> None:
    said = talk(begin(mapped(), tmp_path), "1-le 2-OL 3-g").after(0)
    assert said.startswith(
        "recorded: 2 joined (x), all others open (.):\n  1 reaches left\n  2 reaches nothing\n  3 reaches ground\n"
    )


def test_a_fault_far_behind_in_a_long_map_is_shown_with_what_stands_around_it(tmp_path: Path) -> None:
    long = "1-left 1-right 1-ground 1-lamp 2-left 2-right 2-ground 2-lamp 3-left 3-right 3-x"
    said = talk(begin(mapped(), tmp_path), long).after(0).splitlines()
    at = said[1].index("^")
    assert said[0][at] == "x"
    assert len(said[0]) <= 68
