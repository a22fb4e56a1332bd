"""Lints the small procedure of this folder with one place changed."""

from engine.procedure.lint import LintReport, lint_text
from tests.procedure.small import SMALL, blocks


def linted(text: str = SMALL, **others: str) -> LintReport:
    """Return the report on a text."""
    return lint_text(text, "small.toml", lambda name: blocks(name, **others))


def faults(text: str, **others: str) -> list[str]:
    """Return the faults as lines."""
    return [str(line) for line in linted(text, **others).faults]


def doubts(text: str, **others: str) -> list[str]:
    """Return the doubts as lines."""
    return [str(line) for line in linted(text, **others).doubts]
