"""The first screen in the plain face: what can be done, numbered."""

import io
from pathlib import Path

from engine.shipped import shipped
from tests.plain.talking import begin, talk
from tests.plain.works import FIRST, SECOND, THIRD, small
from tui.plain.home import Doors, home
from tui.plain.voice import Voice


def at_home(folder: Path, typed: str) -> tuple[str, int, list[str]]:
    """Type at the first screen; return what was said, the exit status, and what was opened."""
    opened: list[str] = []

    def door(name: str):  # type: ignore[no-untyped-def]
        return lambda what: opened.append(f"{name} {Path(what).name}") or 7

    outlet = io.StringIO()
    status = home(folder, Voice(io.StringIO(typed), outlet), Doors(door("go on"), door("begin"), door("read")))
    return outlet.getvalue(), status, opened


def test_an_empty_folder_offers_the_procedures_and_leaves_at_the_end_of_the_input(tmp_path: Path) -> None:
    said, status, opened = at_home(tmp_path / "none", "")
    assert said.startswith(f"Begin (tugtest start NAME):\n  1 {shipped()[0].stem}: ")
    assert (status, opened) == (0, [])


def test_open_sessions_come_first_then_procedures_then_ended_ones(tmp_path: Path) -> None:
    talk(begin(small(), tmp_path), "12.5")
    ended = talk(begin(small(), tmp_path), *FIRST, *SECOND, *THIRD, "close")
    said, _, opened = at_home(tmp_path, "1\n")
    assert said.index("Go on (") < said.index("Begin (") < said.index("Read (")
    assert opened == ["go on 2026-05-02-test-tern-small.toml"]
    number = said.split("Read (tugtest audit LOG):\n  ")[1].split()[0]
    assert at_home(tmp_path, f"{number}\n")[2] == [f"read {ended.runner.path.name}"]


def test_a_procedure_is_begun_by_its_number(tmp_path: Path) -> None:
    number = [path.stem for path in shipped()].index("bow-receptacle") + 1
    assert at_home(tmp_path, f"{number}\n")[1:] == (7, ["begin bow-receptacle"])


def test_a_number_that_is_not_offered_is_asked_again(tmp_path: Path) -> None:
    said, status, opened = at_home(tmp_path, "99\nx\n\n")
    assert said.count("Type a number from 1 to ") == 2
    assert (status, opened) == (0, [])


def test_a_damaged_log_is_named_and_hides_no_other(tmp_path: Path) -> None:
    good = talk(begin(small(), tmp_path), "12.5").runner.path
    bad = good.with_name("2026-05-03-bad.toml")
    bad.write_bytes(good.read_bytes().replace(b'raw = "12.5"', b'raw = "12.6"'))
    said, _, _ = at_home(tmp_path, "")
    assert "Cannot be gone on with:\n  2026-05-03-bad.toml: altered" in said
    assert "Go on (tugtest resume LOG):\n  1 Test Tern" in said
