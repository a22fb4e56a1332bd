"""DEVELOPERS.md is true: what it names in backticks, and what its map draws, is there."""

import importlib
import re
from pathlib import Path

import pytest

from tui.cli import COMMANDS

TOP = Path(__file__).resolve().parents[2]
TEXT = (TOP / "DEVELOPERS.md").read_text(encoding="utf-8")
MAP = re.search(r"```\n(tui/ .*?)```", TEXT, re.DOTALL)
FENCES = re.compile(r"^```.*?^```", re.DOTALL | re.MULTILINE)
TICKED = re.findall(r"`([^`\n]+)`", FENCES.sub("", TEXT))

PATH = re.compile(r"\.?[\w.-]+(?:/[\w.-]*)+|\w+\.py")
"""A name with a slash in it, or a file of Python."""

DOTTED = re.compile(r"[A-Za-z_]\w*(?:\.[A-Za-z_]\w*)+")
"""A module, or something of a module or of a class."""

ROOMS_OF_SHORT_NAMES = ("engine.session", "engine.rules", "engine.procedure")
"""Where a name with a point, but without its room, is looked for: ``codec.NAMES``, ``Step.when``."""

NO_FILES = {"tests/ROOM"}
"""Stands for any room."""

MADE_BY_SET_UP = ".venv/"


def paths() -> list[str]:
    words = [word for ticked in TICKED for word in ticked.split()]
    found = [word for word in words if PATH.fullmatch(word)]
    return sorted({word for word in found if word not in NO_FILES and not word.startswith(MADE_BY_SET_UP)})


def found_in_the_tree(path: str) -> bool:
    return (TOP / path).exists() or (path == Path(path).name and any((TOP / "tests").rglob(path)))


@pytest.mark.parametrize("path", paths())
def test_each_path_that_is_named_is_there(path: str) -> None:
    if path.startswith(".ci") and not (TOP / ".ci").is_dir():
        pytest.skip("not a git checkout: the automatic run is not here")
    assert found_in_the_tree(path)


def test_paths_are_found_in_the_text_at_all() -> None:
    assert {"engine/session/events.py", "tests/house/", "tests/session/test_planted_faults.py"} <= set(paths())


def drawn() -> list[str]:
    assert MAP is not None
    named = [re.split(r"\s{2,}", line)[0] for line in MAP[1].splitlines()]
    return [name for line in named for name in line.split(", ")]


def test_each_room_of_the_map_is_there_and_no_room_is_left_out() -> None:
    rooms = {name.strip("/") for name in drawn()}
    there = {f"engine/{p.name}" for p in (TOP / "engine").iterdir() if (p / "__init__.py").is_file()}
    assert {name for name in rooms if not ((TOP / name).exists() or (TOP / "engine" / name).exists())} == set()
    assert {p for p in there if p not in rooms and p.removeprefix("engine/") not in rooms} == set()


def resolved(name: str) -> bool:
    """Whether the name leads to a module, or to something in one."""
    head, *rest = name.split(".")
    if head in ("engine", "tui"):
        return reached(name)
    if head[0].isupper():
        return any(hasattr(cls, rest[0]) or rest[0] in getattr(cls, "__annotations__", {}) for cls in classes(head))
    return any(reached(f"{room}.{name}") for room in ROOMS_OF_SHORT_NAMES)


def reached(name: str) -> bool:
    parts = name.split(".")
    for cut in range(len(parts), 0, -1):
        try:
            thing: object = importlib.import_module(".".join(parts[:cut]))
        except ModuleNotFoundError:
            continue
        for part in parts[cut:]:
            if not hasattr(thing, part):
                return False
            thing = getattr(thing, part)
        return True
    return False


def classes(name: str) -> list[type]:
    told = re.compile(rf"^class {name}\b", re.MULTILINE)
    files = [p for p in (TOP / "engine").rglob("*.py") if told.search(p.read_text(encoding="utf-8"))]
    return [getattr(importlib.import_module(".".join(p.relative_to(TOP).with_suffix("").parts)), name) for p in files]


NAMES = sorted({name for name in TICKED if DOTTED.fullmatch(name) and not PATH.fullmatch(name)})


@pytest.mark.parametrize("name", NAMES)
def test_each_dotted_name_leads_somewhere(name: str) -> None:
    assert resolved(name)


def test_each_command_that_is_named_is_one() -> None:
    assert set(re.findall(r"`tugtest ([a-z]+)", TEXT)) <= set(COMMANDS)
