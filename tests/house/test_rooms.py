"""The house: what stands at the top, which room may know which, and what is not imported before it is needed."""

import ast
import os
import subprocess
import sys
from pathlib import Path

import pytest

TOP = Path(__file__).resolve().parents[2]

ROOMS = (
    "tui", "engine.view", "engine.review", "engine.session", "engine.plan", "engine.procedure", "engine.rules",
    "engine.trade", "engine.published",
)  # fmt: skip
"""From the top; a room imports only from rooms further down. What is below all of them is in ``GROUND``."""

GROUND = (
    "engine.finding", "engine.source", "engine.quantity", "engine.shipped", "engine.inert", "engine.nearest",
    "engine.program",
)  # fmt: skip

FILES = sorted(p for room in ("engine", "tui") for p in (TOP / room).rglob("*.py"))


def room_of(module: str) -> str:
    return next((room for room in (*ROOMS, *GROUND) if module == room or module.startswith(f"{room}.")), "")


def module_of(path: Path) -> str:
    return ".".join(path.relative_to(TOP).with_suffix("").parts).removesuffix(".__init__")


def imports(path: Path) -> set[str]:
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and node.level == 0:
            found |= {node.module} | {f"{node.module}.{alias.name}" for alias in node.names}
    return found


def test_only_the_fixed_things_stand_at_the_top() -> None:
    listed = subprocess.run(["git", "ls-files"], cwd=TOP, capture_output=True, text=True, check=False)
    if listed.returncode != 0:
        pytest.skip("not a git checkout: what is at the top cannot be told from build output")
    tops = {line.split("/")[0] for line in listed.stdout.splitlines()}
    fixed = {"README.md", "DEVELOPERS.md", "pyproject.toml", "tui", "procedures", "engine", "tests", "sample_sessions"}
    assert {name for name in tops if not name.startswith(".")} <= fixed


@pytest.mark.parametrize("path", FILES, ids=module_of)
def test_a_room_imports_only_from_rooms_below(path: Path) -> None:
    mine = room_of(module_of(path))
    for name in imports(path):
        theirs = room_of(name)
        if not theirs or theirs == mine:
            continue
        assert mine not in GROUND or theirs in GROUND, f"{module_of(path)} imports {name}"
        if mine in ROOMS and theirs in ROOMS:
            assert ROOMS.index(theirs) > ROOMS.index(mine), f"{module_of(path)} imports {name}, which is further up"


@pytest.mark.parametrize("path", [p for p in FILES if p.parts[len(TOP.parts)] == "engine"], ids=module_of)
def test_the_engine_names_no_screen_library(path: Path) -> None:
    assert not {name for name in imports(path) if name.split(".")[0] in ("textual", "rich", "tui")}


def test_only_quantity_names_pint() -> None:
    users = {module_of(p) for p in FILES if any(name.split(".")[0] == "pint" for name in imports(p))}
    assert {room_of(name) for name in users} == {"engine.quantity"}


def in_a_fresh_process(code: str) -> str:
    env = {k: v for k, v in os.environ.items() if k != "PYTHONPATH"} | {"PYTHONPATH": str(TOP)}
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, env=env, check=True)
    return done.stdout.strip()


def test_importing_the_whole_engine_loads_neither_textual_nor_rich_nor_pint() -> None:
    names = [module_of(p) for p in FILES if p.parts[len(TOP.parts)] == "engine"]
    code = (
        "import sys, importlib\n"
        f"for name in {names!r}: importlib.import_module(name)\n"
        "print(sorted({'textual', 'rich', 'pint', 'jinja2', 'schemdraw'} & set(sys.modules)))"
    )
    assert in_a_fresh_process(code) == "[]"


def test_the_published_tables_are_not_read_at_import() -> None:
    code = (
        "import builtins, pathlib, engine.rules.registry\n"
        "from engine.published import tables\n"
        "print(tables._topic.cache_info().currsize)"
    )
    assert in_a_fresh_process(code) == "0"


def test_no_module_is_part_of_an_import_cycle_not_even_a_lazy_one_or_one_of_types() -> None:
    assert circles({module_of(path): known_to(path) for path in FILES}) == {}


def test_a_circle_through_a_function_and_a_type_is_found(tmp_path: Path) -> None:
    typed = "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    from a.two import Two\n"
    lazy = "def work() -> None:\n    from a import one\n"
    texts = {"a.one": typed, "a.two": lazy, "a.three": "import a.one\n"}
    assert circles({name: names_in(text, name, set(texts)) for name, text in texts.items()}) == {
        "a.one": {"a.two"}, "a.two": {"a.one"},
    }  # fmt: skip


def circles(needs: dict[str, set[str]]) -> dict[str, set[str]]:
    """Return the modules that lie on a circle, or between two of them, with those of their imports that do too."""
    left = dict(needs)
    while True:
        wanted = {name for names in left.values() for name in names}
        inner = {name: found for name, names in left.items() if (found := names & left.keys()) and name in wanted}
        if inner == left:
            return left
        left = inner


def known_to(path: Path) -> set[str]:
    return names_in(path.read_text(encoding="utf-8"), module_of(path), {module_of(p) for p in FILES})


def names_in(text: str, module: str, known: set[str]) -> set[str]:
    """Return which of the known modules a text imports, wherever in it. A module of a package may name its sisters."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            inside = {f"{node.module}.{alias.name}" for alias in node.names}
            found |= inside & known
            if not inside <= known or not module.startswith(f"{node.module}."):
                found.add(node.module)
    return (found & known) - {module}
