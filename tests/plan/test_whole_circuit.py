"""The circuit judged whole: parts in the loop, the volts that reach the motor, lithium, air, wires that differ."""

import pytest

from engine.finding import Value, Verdict
from engine.plan.circuit import Circuit, Part
from engine.plan.judged import judge_circuit, parts_ohm
from engine.plan.plan import planned_figures
from engine.plan.told import volts_along
from engine.procedure.model_circuit import PartKind
from tests.plan.bow import FACTS, PROCEDURE, finding, planned


def with_figures(part_id: str, **figures: Value) -> Circuit:
    """Return the demo's planned circuit with some figures put into one part."""
    circuit = planned().planned.circuit
    return circuit.with_parts(circuit.part(part_id).changed(**figures))


def found(circuit: Circuit, part: str, check: str):
    return judge_circuit(circuit, "industry").of(part).finding(check)


def test_breaker_receptacle_and_plug_of_60_a_have_4_milliohms() -> None:
    # 3 x 80 mV / 60 A: the 4 mohm that the load test of the same job takes for breaker, plug and lugs.
    assert parts_ohm(planned().planned.circuit) == pytest.approx(0.004)
    figures = planned_figures(PROCEDURE, FACTS, "industry")
    assert figures["plan.parts"] == pytest.approx(0.004)
    assert figures["plan.hot"] == pytest.approx(42.0)  # 30 + 75 x (48 / 120)^2


def test_a_resistance_that_was_read_takes_the_place_of_the_rating_s() -> None:
    assert parts_ohm(with_figures("receptacle", resistance=0.010)) == pytest.approx(0.010 + 2 * 0.08 / 60)


def test_the_plan_says_the_drop_with_the_parts_beside_the_wire_s() -> None:
    # By hand: 13.973 mohm cold, 14.64 mohm at 42 degC, 4 mohm of parts: 48 A x 18.64 mohm = 0.895 V, 3.73 % of 24 V.
    drop = finding(planned(), "run", "voltage-drop")
    assert drop.verdict is Verdict.PASS
    assert drop.values["whole_percent"] == pytest.approx(3.73, abs=0.005)


def test_the_volts_along_the_run_fall_in_every_part() -> None:
    # By hand: 24 V, 0.064 V in each device, 0.671 V in the wire: 23.14 V.
    volts = {after.name: after for after in volts_along(planned().planned)}
    assert volts["breaker"].lost_v == pytest.approx(0.064)
    assert volts["bow motor"].volts_v == pytest.approx(24 - 3 * 0.064 - 0.6707, abs=0.001)


def test_a_short_at_the_far_end_goes_through_the_parts_too() -> None:
    # By hand: 25.3 V / (13.625 + 13.973 + 4) mohm = 801 A; through an arc 240 A.
    values = finding(planned(), "breaker", "fault-current").values
    assert values["current_a"] == pytest.approx(801, abs=0.5)
    assert values["arcing_a"] == pytest.approx(240, abs=0.5)


@pytest.mark.parametrize(("least", "verdict"), [(22.0, "pass"), (23.0, "marginal"), (24.0, "fail")])
def test_the_volts_at_the_motor_count_the_bank_s_sag(least: float, verdict: str) -> None:
    # By hand: 24.48 V at half charge - 48 A x (13.625 bank + 14.64 wire + 4 parts) mohm = 22.93 V; full 23.75 V.
    reached = found(with_figures("motor", least_volts=least), "motor", "volts-at-load")
    assert reached.values["volts_v"] == pytest.approx(22.93, abs=0.005)
    assert reached.verdict == verdict


def test_without_the_maker_s_least_volts_they_are_not_judged() -> None:
    assert planned().planned.of("motor").findings == ()


def test_a_lithium_battery_s_electronics_are_held_against_what_trips_the_breaker() -> None:
    # Two strings of 140 A let go at 280 A together, under 5 x 60 A; three of them do not.
    facts: dict[str, Value] = {"chemistry": "lifepo4", "short_circuit": 3000.0, "cranking": None}
    for batteries, verdict in ((4.0, "marginal"), (6.0, "pass")):
        circuit = planned(batteries=batteries, new_breaker_interrupting=9000.0, **facts).planned.circuit
        circuit = circuit.with_parts(circuit.part("bank").changed(electronics=140.0))
        assert found(circuit, "breaker", "fault-current").verdict == verdict


def test_cranking_amps_tell_nothing_of_a_lithium_bank() -> None:
    assert finding(planned(chemistry="lifepo4"), "breaker", "fault-current").verdict is Verdict.MISSING


@pytest.mark.parametrize(("part", "check"), [("breaker", "protection-size"), ("plug", "weakest-part")])
def test_a_device_is_judged_in_its_own_air(part: str, check: str) -> None:
    # ANSI/IEEE C37.20.1 as quoted: 60 A x sqrt(40/65) = 47.1 A at 65 degC, under 48 A.
    assert found(with_figures(part, ambient=65.0), part, check).verdict is Verdict.FAIL


def test_of_two_wires_the_one_that_bears_a_short_least_is_judged() -> None:
    # 10 AWG in a bundle of seven has 30 + 75 x (40/30)^2 = 163 degC already and bears nothing; 12 AWG alone does.
    lying = {"out": 0.5, "back": 0.5, "insulation": 105.0}
    wires = (
        Part("thin", PartKind.WIRE, "thin", {**lying, "size": "12 AWG", "bundled": 2.0}),
        Part("hot", PartKind.WIRE, "hot", {**lying, "size": "10 AWG", "bundled": 7.0}),
    )
    bank = Part("bank", PartKind.BANK, "bank", {"nominal": 24.0, "cranking": 800.0})
    breaker = Part("breaker", PartKind.PROTECTION, "breaker", {"fitted": 30.0})
    motor = Part("motor", PartKind.LOAD, "motor", {"current": 40.0, "nominal": 24.0})
    values = found(Circuit((bank, breaker, *wires, motor)), "breaker", "fault-current").values
    assert values["withstand_s"] == 0


def test_the_federal_rule_goes_by_the_plain_table() -> None:
    # 33 CFR 183.455(c)(1): 150 % of the table's 35 A for 14 AWG, engine space or not: 52.5 A.
    plan = planned("federal", new_wire="14 AWG", engine_space=True, new_breaker=50.0)
    assert finding(plan, "breaker", "protection-size").values["window_high_a"] == pytest.approx(52.5)


def test_a_fuse_clears_a_short_that_a_breaker_lets_the_wire_burn_in() -> None:
    # 60 A before 14 AWG: the breaker's 1 s at six times its rating is too long for it, a fuse's 0.1 s is not.
    circuit = planned(new_wire="14 AWG", run_out=1.0, run_back=1.0, motor_current=20.0).planned.circuit
    for fuse, verdict in ((False, Verdict.FAIL), (True, Verdict.PASS)):
        with_it = circuit.with_parts(circuit.part("breaker").changed(fuse=fuse))
        assert found(with_it, "breaker", "fault-current").verdict is verdict
