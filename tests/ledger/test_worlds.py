"""The worlds are of these procedures: each step and entry that a world names is there, none is unknown to it."""

import pytest

from engine.shipped import shipped
from tests.ledger.desk import shipped_procedure
from tests.ledger.world import WORLDS, UnknownInWorld, World, world_of

NAMES = [path.stem for path in shipped()]

SMALL = {
    "procedure": "small",
    "source": {"bank": "the bank"},
    "stretch": {"run": "the run"},
    "switch": {"ring": "the ring"},
    "wire": [["bank", "run", "ring"]],
    "proof": [],
    "step": {"cut": {"touches": ["run"]}},
    "plain": ["look"],
}


def test_each_procedure_has_a_world_and_each_world_a_procedure() -> None:
    assert {path.stem for path in WORLDS.glob("*.toml")} == set(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_a_world_knows_each_step_and_no_other(name: str) -> None:
    assert set(world_of(name).steps) == set(shipped_procedure(name).step_by_id)


@pytest.mark.parametrize("name", NAMES)
def test_a_world_names_only_entries_that_are_asked(name: str) -> None:
    world = world_of(name)
    named = {*world.proving, *world.asked, *world.bad, *world.firm, *world.turned} - {""}
    assert named <= set(shipped_procedure(name).entry_by_id)


@pytest.mark.parametrize("name", NAMES)
def test_each_thing_is_made_or_shown_and_each_stretch_can_be_live(name: str) -> None:
    world = world_of(name)
    assert all(world.showers[thing] or world.makers[thing] for thing in world.thing)
    assert set(world.stretch) <= {end for wire in world.wires for end in wire.ends}


def test_an_unknown_step_is_named() -> None:
    with pytest.raises(UnknownInWorld, match='no step "feed-dead"'):
        World(SMALL).act("feed-dead")


@pytest.mark.parametrize(
    ("step", "what"),
    [
        ({"touches": ["taps"]}, 'no stretch "taps"'),
        ({"opens": ["link"]}, 'no switch "link"'),
        ({"makes": ["joint"]}, 'no thing "joint"'),
        ({"feeds": ["run"]}, "does not do"),
    ],
)
def test_a_row_that_names_what_is_not_there_is_refused(step: dict[str, list[str]], what: str) -> None:
    with pytest.raises(UnknownInWorld, match=what):
        World(SMALL | {"step": {"cut": step}})
