"""A small job made of zones and pieces, built by hand: two zones, a cut end, a joint, a circuit."""

from engine.procedure.model import Hold, Mend, Piece, Procedure, Section, Step, Zone

ZONES = (Zone("feed", "the feed", "live"), Zone("run", "the run", "live"))
PIECES = (
    Piece("ends", "the cut ends"),
    Piece("joint", "the joint", ("ends",)),
    Piece("posts", "the posts"),
    Piece("circuit", "the circuit", ("joint", "posts")),
)


def step(name: str, **keys: object) -> Step:
    return Step(id=name, section="all", title=name.title(), action="Do it.", why="So.", **keys)


def job(*steps: Step) -> Procedure:
    return Procedure(
        id="small",
        title="Small",
        revision="1",
        summary="s",
        scope="s",
        zones=ZONES,
        pieces=PIECES,
        sections=(Section("all", "All"),),
        steps=steps,
    )


STEPS = (
    step("lift", isolates=("feed", "run")),
    step("known", proves_dead=("feed", "run")),
    step("dead-feed", proves_dead=("feed",)),
    step("dead-run", proves_dead=("run",)),
    step("cut", works=("ends",), hands_on=("run",)),
    step("strip", proves=("ends",), hands_on=("run",)),
    step("clamp", works=("joint",), hands_on=("run",), takes_s=2400.0),
    step("pull", proves=("joint",), hands_on=("run",)),
    step("breaker-in", works=("posts",), hands_on=("feed",)),
    step("connect", works=("posts",), feeds=("feed", "run")),
    step(
        "polarity",
        proves=("circuit",),
        hold=Hold.FIRM,
        mends=(Mend("Change the two wires over", ("joint",)),),
    ),
    step("load", proves=("circuit", "posts")),
)

SMALL = job(*STEPS)
