"""The table of the screen's rules: each stands there once, is said to be met or how far, and names tests that exist."""

import ast
import tomllib
from pathlib import Path

import pytest

HERE = Path(__file__).parent
TOP = HERE.parents[1]
RULES = tomllib.loads((HERE / "screen_rules.toml").read_text(encoding="utf-8"))["rule"]


def names_in(path: str) -> set[str]:
    tree = ast.parse((TOP / path).read_text(encoding="utf-8"))
    return {node.name for node in ast.walk(tree) if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)}


def test_every_rule_stands_there_once_in_order() -> None:
    assert [rule["id"] for rule in RULES] == [f"H{number:02}" for number in range(1, 51)]


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule["id"])
def test_a_rule_is_met_by_tests_that_are_there(rule: dict[str, object]) -> None:
    tests = rule["tests"]
    assert isinstance(tests, list)
    assert tests
    for named in tests:
        path, _, name = named.partition("::")
        assert name in names_in(path), named


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule["id"])
def test_a_rule_says_how_far_it_is_met(rule: dict[str, object]) -> None:
    assert rule["met"] in {"yes", "partly"}
    assert rule["says"]
    assert rule["how"]
