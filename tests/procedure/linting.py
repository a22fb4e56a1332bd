"""Lints the small procedure of this folder with one place changed; what it says of the unchanged one is left out."""

from dataclasses import replace
from functools import cache

from engine.procedure.lint import LintReport, lint_text
from tests.procedure.small import SMALL, blocks


def linted(text: str = SMALL, **others: str) -> LintReport:
    """Return the report on a text, less what is said of the small procedure as it is: it is there to be read."""
    report = _linted(text, **others)
    faults, doubts = (
        tuple(line for line in lines if _known(line) not in _always()) for lines in (report.faults, report.doubts)
    )
    return replace(report, faults=faults, doubts=doubts)


def faults(text: str, **others: str) -> list[str]:
    """Return the faults as lines."""
    return [str(line) for line in linted(text, **others).faults]


def doubts(text: str, **others: str) -> list[str]:
    """Return the doubts as lines."""
    return [str(line) for line in linted(text, **others).doubts]


def _linted(text: str, **others: str) -> LintReport:
    return lint_text(text, "small.toml", lambda name: blocks(name, **others))


@cache
def _always() -> frozenset[tuple[str, str]]:
    report = _linted(SMALL)
    return frozenset(map(_known, (*report.faults, *report.doubts)))


def _known(line: object) -> tuple[str, str]:
    return getattr(line, "where", ""), getattr(line, "sentence", "")
