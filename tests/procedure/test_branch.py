"""The share of jobs that walk a branch: by hand, each answer of a choice as likely as the others."""

import pytest

from engine.procedure.branch import share
from engine.procedure.limit import parse
from engine.procedure.model import Entry, Procedure, Step

UNITS = {"kind": "choice", "seal": "yes/no", "amps": "A", "glue": "choice"}
CHOICES = {"kind": ("crimp", "screw", "solder"), "glue": ("hot", "cold")}


def job(**when: str) -> Procedure:
    """A step that asks the kind, one that asks the rest, and there the glue only under a condition."""
    return Procedure(
        id="p",
        title="t",
        revision="1",
        summary="s",
        scope="s",
        steps=(
            Step(id="a", section="s", title="t", action="x", why="y", readings=(entry("kind"), entry("amps"))),
            Step(
                id="b",
                section="s",
                title="t",
                action="x",
                why="y",
                readings=(entry("seal"), entry("glue", when.get("glue"))),
                when=parse(when["b"], UNITS, CHOICES) if "b" in when else None,
            ),
        ),
    )


def entry(name: str, when: str | None = None) -> Entry:
    condition = parse(when, UNITS, CHOICES) if when else None
    return Entry(id=name, ask=name, unit=UNITS[name], choices=CHOICES.get(name, ()), when=condition)


@pytest.mark.parametrize(
    ("when", "wanted"),
    [
        ('kind == "screw"', 1 / 3),
        ('kind != "screw"', 2 / 3),
        ('seal == "yes"', 1 / 2),
        ("amps > 5 A", 1 / 2),
        ('kind == "screw" and amps > 5 A', 1 / 6),
        ('kind == "screw" or amps > 5 A', 2 / 3),
        ('not (kind == "screw")', 2 / 3),
    ],
)
def test_a_condition_has_the_share_of_its_answers(when: str, wanted: float) -> None:
    assert share(job(), parse(when, UNITS, CHOICES)) == pytest.approx(wanted)


def test_what_is_asked_only_in_a_branch_divides_that_branch() -> None:
    branched = job(b='kind == "screw"', glue='seal == "yes"')
    assert share(branched, parse('glue == "hot"', UNITS, CHOICES)) == pytest.approx(1 / 3 * 1 / 2 * 1 / 2)


def test_the_condition_of_an_entry_divides_its_own_step() -> None:
    branched = job(b='kind == "screw"')
    assert share(branched, parse('glue == "hot"', UNITS, CHOICES), branched.steps[1]) == pytest.approx(1 / 2)
