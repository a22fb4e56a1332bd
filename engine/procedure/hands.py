"""What the words of a step say of hands and tools: its verbs, and what they take hold of. From ``hands.toml`` here."""

import re
import tomllib
from collections.abc import Mapping
from functools import cache
from pathlib import Path

from engine.procedure.lint_doubts import orders
from engine.procedure.model import Step

OBJECT = 5
"""Words after a verb among which its object is looked for (project rule)."""

_WORD = re.compile(r"[a-z]+")


def verbs_of(step: Step) -> list[str]:
    """Return the verbs of a step: those of its action, and the one that cannot be undone."""
    return list(dict.fromkeys((*orders(step.action), *([step.irreversible] if step.irreversible else []))))


def makes(step: Step) -> list[str]:
    """Return the verbs of a step that make a piece."""
    return [verb for verb in verbs_of(step) if verb in words("makes")]


def holds(step: Step) -> list[str]:
    """Return the verbs that take hold of a conductor: those that make something, and those with one as their object."""
    return [
        *makes(step),
        *(v for v in verbs_of(step) if v in words("takes_hold") and has_object(step, v, "conductors")),
    ]


def has_object(step: Step, verb: str, kind: str) -> bool:
    """Return whether one of the words of a list stands close after a verb of a step."""
    said = _WORD.findall(step.action.lower())
    return any(not words(kind).isdisjoint(said[at + 1 : at + 1 + OBJECT]) for at, v in enumerate(said) if v == verb)


def speaks_of(step: Step, kind: str) -> bool:
    """Return whether the action of a step has a word of a list."""
    return not words(kind).isdisjoint(_WORD.findall(step.action.lower()))


@cache
def _lists() -> Mapping[str, object]:
    return tomllib.loads(Path(__file__).with_name("hands.toml").read_text(encoding="utf-8"))


@cache
def words(kind: str) -> frozenset[str]:
    """Return a list of words by its name."""
    return frozenset(str(_lists()[kind]).split())


@cache
def hazards() -> Mapping[str, str]:
    """Return what each verb of a tool can hurt."""
    rows = _lists()["warns"]
    return {
        verb: str(row["hazard"]) for row in (rows if isinstance(rows, list) else []) for verb in row["verbs"].split()
    }
