"""The whole circuit: several sizes, joints, devices and loads, hot and cold, and what is weakest."""

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from engine.trade.circuit import BANK_MINUS, BANK_PLUS, Bank, Circuit, Draws, Load, Part, Wire, single_run
from engine.trade.drop import run_drop
from engine.trade.ranges import OutOfRange
from engine.trade.solver import Solution, solve, solve_hot
from tests.trade.circuits_at_random import random_circuit


def pair(size: str, length_m: float) -> tuple[list[Wire], list[Wire]]:
    return [Wire(name="red", size=size, length_m=length_m)], [Wire(name="black", size=size, length_m=length_m)]


def bow_motor(size: str = "8 AWG", internal_ohm: float = 0.0) -> Circuit:
    return single_run(24, Bank(25.0, internal_ohm), *pair(size, 5.2), "motor", 48.0)


def hidden_pigtail() -> Circuit:
    """A run of 8 AWG that ends behind the panel in half a metre of 14 AWG and an old plug."""
    out = [
        Part(name="breaker", ohm=0.001, rated_a=60),
        Wire(name="red run", size="8 AWG", length_m=5.2),
        Wire(name="red pigtail", size="14 AWG", length_m=0.5),
        Part(name="plug", ohm=0.002, rated_a=30),
    ]
    back = [Wire(name="black run", size="8 AWG", length_m=5.0)]
    return single_run(24, Bank(25.0, 0.012), out, back, "motor", 48.0)


@pytest.mark.parametrize(("size", "cold", "hot"), [("8 AWG", 4.44, 4.91), ("6 AWG", 2.79, 2.93), ("4 AWG", 1.76, 1.81)])
def test_the_worked_run_is_hit_cold_and_hot(size: str, cold: float, hot: float) -> None:
    """48 A, 24 V, 5.2 m each way; worked by hand."""
    assert solve(bow_motor(size)).drop_percent() == pytest.approx(cold, abs=0.005)
    assert solve_hot(bow_motor(size)).drop_percent() == pytest.approx(hot, abs=0.005)


def test_the_solver_and_the_plain_sum_agree_on_a_plain_run() -> None:
    plain = run_drop(48, "8 AWG", 5.2, 5.2)
    assert solve(bow_motor()).loads[0].drop_v == pytest.approx(plain.drop_v, rel=1e-12)
    assert solve_hot(bow_motor()).loads[0].drop_v == pytest.approx(plain.hot_drop_v, rel=1e-12)


def test_a_hidden_pigtail_carries_the_most_heat_for_its_rating_after_the_plug() -> None:
    """48 A on a 30 A plug is 2.56 times its heat; on 14 AWG of 35 A 1.88 times."""
    solution = solve(hidden_pigtail())
    weakest = solution.weakest_by_heat
    assert weakest is not None
    assert (weakest.piece.name, weakest.heat_ratio) == ("plug", pytest.approx(2.56))
    loading = {part.piece.name: part.loading for part in solution.parts}
    assert loading["red pigtail"] == pytest.approx(48 / 35)


def test_the_part_that_loses_most_volts_is_named() -> None:
    weakest = solve(hidden_pigtail()).weakest_by_drop
    assert weakest is not None
    assert weakest.piece.name == "red run"


def test_every_point_has_its_volts_counted_from_the_banks_minus() -> None:
    """25 V less 12 mohm x 48 A at the post; then the drops of breaker and run."""
    volts = solve(hidden_pigtail()).volts
    assert volts[BANK_MINUS] == 0
    assert volts[BANK_PLUS] == pytest.approx(25 - 0.576)
    assert volts["after breaker"] == pytest.approx(25 - 0.576 - 0.048)


def test_a_hot_wire_is_as_hot_as_its_own_current_makes_it() -> None:
    """30 + 75 (48 / 80)^2 = 57 degC in the run, 30 + 75 (48 / 35)^2 = 171 degC in the pigtail; worked by hand."""
    found = {part.piece.name: part.temperature_c for part in solve_hot(hidden_pigtail()).parts}
    assert found["red run"] == pytest.approx(57)
    assert found["red pigtail"] == pytest.approx(171.06, abs=0.01)
    assert found["plug"] is None


def test_a_wire_with_a_temperature_of_its_own_keeps_it() -> None:
    out = [Wire(name="red", size="8 AWG", length_m=5.2, temperature_c=20)]
    solution = solve_hot(single_run(24, Bank(25.0), out, [], "motor", 48.0))
    assert solution.parts[0].temperature_c == 20


def test_two_loads_share_a_return() -> None:
    """Each red carries its own lamp, the black both: 2 A + 3 A through 10 mohm is 50 mV."""
    pieces = (
        Part(name="red a", start=BANK_PLUS, end="a", ohm=0.02),
        Part(name="red b", start=BANK_PLUS, end="b", ohm=0.03),
        Part(name="black", start="joint", end=BANK_MINUS, ohm=0.01),
    )
    loads = (
        Load(name="lamp a", plus="a", minus="joint", amount=2.0),
        Load(name="lamp b", plus="b", minus="joint", amount=3.0),
    )
    solution = solve(Circuit(12, Bank(12.6), pieces, loads))
    drops = {found.load.name: found.drop_v for found in solution.loads}
    assert solution.volts["joint"] == pytest.approx(0.05)
    assert drops == {"lamp a": pytest.approx(0.09), "lamp b": pytest.approx(0.14)}
    assert solution.bank_current_a == pytest.approx(5)


def test_the_worst_load_is_the_one_that_counts() -> None:
    solution = solve(random_circuit(3))
    assert solution.drop_percent() == max(solution.drop_percent(found.load.name) for found in solution.loads)


def test_a_steady_power_draws_more_as_its_volts_sag() -> None:
    """V = (E + sqrt(E^2 - 4 P R)) / 2; worked by hand for 24 V, 480 W, 50 mohm: 22.954 V, 20.91 A."""
    circuit = single_run(24, Bank(24.0), [Part(name="run", ohm=0.05)], [], "pump", 480.0, Draws.POWER)
    found = solve(circuit).loads[0]
    volts = (24 + (24**2 - 4 * 480 * 0.05) ** 0.5) / 2
    assert (found.volts, found.current_a) == (pytest.approx(volts, rel=1e-12), pytest.approx(480 / volts, rel=1e-12))


def test_more_power_than_the_run_can_deliver_is_refused() -> None:
    """At most E^2 / 4 R = 2880 W through 50 mohm from 24 V; worked by hand."""
    circuit = single_run(24, Bank(24.0), [Part(name="run", ohm=0.05)], [], "pump", 2900.0, Draws.POWER)
    with pytest.raises(OutOfRange, match="power is pump 2900 W; it must be less than the bank and the run can deliver"):
        solve(circuit)


def test_a_resistance_draws_by_ohms_law() -> None:
    circuit = single_run(12, Bank(12.0, 0.5), [Part(name="run", ohm=0.5)], [], "heater", 5.0, Draws.RESISTANCE)
    assert solve(circuit).loads[0].current_a == pytest.approx(2.0)


def test_a_joint_without_resistance_still_shows_its_current() -> None:
    out = [Part(name="lug", ohm=0.0, rated_a=60), Part(name="run", ohm=0.1)]
    lug = solve(single_run(12, Bank(12.0), out, [], "lamp", 6.0)).parts[0]
    assert (lug.current_a, lug.drop_v, lug.loading) == (pytest.approx(6), 0, pytest.approx(0.1))


def test_a_part_that_hangs_in_the_air_is_named() -> None:
    loose = (Part(name="a", start=BANK_PLUS, end="x", ohm=1), Part(name="b", start="y", end="z", ohm=1))
    with pytest.raises(OutOfRange, match="point y has no way to the bank"):
        solve(Circuit(12, Bank(12), loose, ()))


def test_a_load_without_a_way_back_is_named() -> None:
    out = (Part(name="red", start=BANK_PLUS, end="lamp +", ohm=1),)
    lamp = Load(name="lamp", plus="lamp +", minus="lamp -", amount=1)
    with pytest.raises(OutOfRange, match="point lamp - has no way to the bank"):
        solve(Circuit(12, Bank(12), out, (lamp,)))


def test_a_ring_of_parts_without_resistance_is_refused() -> None:
    ring = (Part(name="a", start=BANK_PLUS, end="x", ohm=0), Part(name="b", start=BANK_PLUS, end="x", ohm=0))
    with pytest.raises(OutOfRange, match="parts without resistance form a ring"):
        solve(Circuit(12, Bank(12), ring, ()))


def test_two_pieces_of_one_name_are_refused() -> None:
    twice = [Part(name="lug", ohm=0.1), Part(name="lug", ohm=0.1)]
    with pytest.raises(OutOfRange, match="two pieces are named lug"):
        single_run(12, Bank(12), twice, [], "lamp", 1.0)


def test_an_unknown_load_is_named_with_those_there_are() -> None:
    with pytest.raises(OutOfRange, match='load is "lamp"; there are motor'):
        solve(bow_motor()).drop_percent("lamp")


@pytest.mark.parametrize(
    ("bank", "said"),
    [
        (Bank(0), "open_circuit_v is 0 V; it must be from 0.001 to 1000 V"),
        (Bank(12, -1), "internal_ohm is -1 ohm; it must be from 0 to 1000 ohm"),
    ],
)
def test_a_bank_outside_its_range_is_refused(bank: Bank, said: str) -> None:
    with pytest.raises(OutOfRange) as refused:
        solve(single_run(12, bank, [Part(name="run", ohm=1)], [], "lamp", 1.0))
    assert str(refused.value) == said


def test_aluminium_wire_has_no_row_in_the_table() -> None:
    """33 CFR 183.425(a): stranded copper."""
    wire = Wire(name="x", size="8 AWG", length_m=1, material="aluminium")
    assert wire.rating_a() is None


def test_copper_clad_wire_loses_about_three_fifths_more() -> None:
    """About 62 % of copper's conductivity, from memory."""
    copper, clad = (
        Wire(name="x", size="8 AWG", length_m=1, temperature_c=20, material=m)
        for m in ("copper", "copper-clad aluminium")
    )
    assert copper.resistance_ohm() / clad.resistance_ohm() == pytest.approx(0.62, rel=1e-9)


def solved(seed: int) -> Solution:
    """Return a random circuit solved, leaving aside those that ask for more power than they can deliver."""
    try:
        return solve(random_circuit(seed))
    except OutOfRange:
        assume(condition=False)
        raise


@given(seed=st.integers(1000, 100000))
@settings(max_examples=60, deadline=None)
def test_currents_balance_at_every_point(seed: int) -> None:
    """Kirchhoff's current law, whatever the circuit."""
    solution = solved(seed)
    circuit = solution.circuit
    sums = dict.fromkeys(circuit.points(), 0.0)
    sums[BANK_MINUS] = 0.0
    sums[BANK_PLUS] += solution.bank_current_a
    sums[BANK_MINUS] -= solution.bank_current_a
    for part in solution.parts:
        sums[part.piece.start] -= part.current_a
        sums[part.piece.end] += part.current_a
    for found in solution.loads:
        sums[found.load.plus] -= found.current_a
        sums[found.load.minus] += found.current_a
    assert max(abs(amperes) for amperes in sums.values()) < 1e-7 * max(1.0, solution.bank_current_a)


@given(seed=st.integers(1000, 100000))
@settings(max_examples=60, deadline=None)
def test_what_the_bank_gives_is_what_parts_and_loads_take(seed: int) -> None:
    """Power balance: nothing is lost and nothing appears."""
    solution = solved(seed)
    given_w = solution.bank_v * solution.bank_current_a
    taken_w = sum(part.power_w for part in solution.parts) + sum(x.volts * x.current_a for x in solution.loads)
    assert taken_w == pytest.approx(given_w, rel=1e-8)
