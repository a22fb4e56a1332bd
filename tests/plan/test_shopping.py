"""What to buy is told from the one set of changes under which the whole circuit passes."""

import pytest

from engine.finding import Value
from engine.plan.plan import make_plan
from engine.procedure.load import load
from engine.session.answers import facts_of, load_answers
from engine.shipped import find, folder
from tests.plan.bow import planned

WIRE = "5.5 m and 5.5 m of {} stranded copper, 105 degC jacket, spare counted in"
BREAKER = "1 breaker, {} A, manual reset, 32 V DC or more, interrupts 3000 A or more"
PARTS = ("1 receptacle, 60 A", "1 plug and motor lead, 60 A")


def wire(size: str) -> tuple[str, ...]:
    """Return the lines of a new pair of the demo's run."""
    tube = (f"4 x ring terminal for {size}", f"0.2 m of adhesive-lined heat-shrink tube for {size}")
    return (WIRE.format(size), *tube, "ends as the parts' makers ask, labels, chafe guards")


# Each case was bought wrong when part by part: a breaker for the wire that is thrown away, the largest size in place of
# the smallest, a receptacle under its own remedy, nothing at all, no interrupting figure.
CASES: list[tuple[dict[str, Value], tuple[str, ...]]] = [
    ({"new_wire": "14 AWG"}, (*wire("6 AWG"), *PARTS, BREAKER.format(60))),
    ({"motor_current": 20.0, "new_breaker": 80.0}, (*wire("6 AWG"), *PARTS, BREAKER.format(25))),
    ({"new_receptacle": 50.0}, (*wire("6 AWG"), *PARTS, BREAKER.format(60))),
    (
        {"motor_current": 40.0, "new_wire": "12 AWG", "new_breaker": 40.0},
        (*wire("6 AWG"), *PARTS, BREAKER.format(50)),
    ),
    ({"new_breaker_interrupting": 1500.0}, (*wire("6 AWG"), *PARTS, BREAKER.format(60))),
]


@pytest.mark.parametrize(
    ("changed", "lines"), CASES, ids=lambda each: ", ".join(each) if isinstance(each, dict) else ""
)
def test_the_list_is_that_of_one_circuit_that_passes(changed: dict[str, Value], lines: tuple[str, ...]) -> None:
    assert planned(**changed).buy == lines


def test_what_the_circuit_has_already_is_not_on_the_list() -> None:
    plan = planned(old_receptacle=60.0, old_plug=60.0, old_breaker=60.0, wire_size="6 AWG")
    assert plan.buy == ()


def test_a_size_that_few_shops_carry_is_said_to_be_one() -> None:
    plan = planned(nominal=12.0, batteries=1.0)
    assert plan.remedy == "3 AWG (few shops carry it; 2 AWG does too) brings 5.6 % to 2.8 %, 2.9 % warm: passes"


def test_a_fuse_has_no_reset() -> None:
    played = load_answers(folder("sample_sessions") / "whimbrel-clean.answers.toml")
    procedure = load(find(played.procedure))
    plan = make_plan(procedure, {**facts_of(procedure, played), "new_fuse": 5.0}, procedure.profile)
    assert plan.buy[-1] == "1 fuse, 5 A, DC volts above the charging volts of a 12 V bank"


def test_a_way_back_that_needs_no_wire_is_not_bought() -> None:
    assert planned(run_back=0.0).buy[0] == "5.5 m of 6 AWG stranded copper, 105 degC jacket, spare counted in"
