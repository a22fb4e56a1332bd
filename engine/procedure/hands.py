"""What the words of a step say of hands and tools: its verbs, and what they take hold of. From ``hands.toml`` here."""

import re
import tomllib
from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path

from engine.procedure.lint_doubts import orders
from engine.procedure.model import Step

OBJECT = 6
"""Words after a verb among which its object is looked for (project rule)."""

_WORD = re.compile(r"[a-z]+(?:'[a-z]+)?")


def verbs_of(step: Step) -> list[str]:
    """Return the verbs of a step: those of its action, and the one that cannot be undone."""
    return list(dict.fromkeys((*orders(step.action), *([step.irreversible] if step.irreversible else []))))


def makes(step: Step) -> list[str]:
    """Return the verbs of a step that make a piece."""
    return [verb for verb in verbs_of(step) if verb in words("makes")]


def holds(step: Step, *, dead: bool = False) -> list[str]:
    """Return the verbs that take hold of a conductor: those that make something, and those with one as their object."""
    kinds = words("takes_hold") | (words("takes_hold_dead") if dead else frozenset())
    return [*makes(step), *(verb for verb in holds_of(step) if verb in kinds)]


def holds_of(step: Step) -> list[str]:
    """Return the verbs of a step that have a conductor as their object."""
    return [verb for verb in verbs_of(step) if has_object(step, verb, words("conductors"))]


def has_object(step: Step, verb: str, objects: Iterable[str]) -> bool:
    """Return whether one of some words stands close after a verb of a step."""
    said = _WORD.findall(step.action.lower())
    near = {word for at, v in enumerate(said) if v == verb for word in said[at + 1 : at + 1 + OBJECT]}
    return not near.isdisjoint(objects)


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
def stages() -> tuple[frozenset[str], ...]:
    """Return the verbs of each stage of the work on a wire, the first first."""
    found = _lists()["stages"]
    return tuple(frozenset(verbs.split()) for verbs in found) if isinstance(found, list) else ()


def hazard(step: Step) -> str:
    """Return the verb of a step that wants a warning, and what it can hurt; empty if there is none."""
    for verb in verbs_of(step):
        for row in _warns():
            near = str(row.get("with", "")).split()
            if verb in str(row["verbs"]).split() and (not near or has_object(step, verb, near)):
                return f'"{verb}" has no warning: {row["hazard"]}'
    return ""


def _warns() -> list[Mapping[str, object]]:
    found = _lists()["warns"]
    return found if isinstance(found, list) else []
