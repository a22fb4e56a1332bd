"""Fault current at the points of a circuit."""

import pytest

from engine.trade.circuit import BANK_MINUS, BANK_PLUS, Bank, Circuit, Load, Part, Wire, single_run
from engine.trade.fault import fault_current_a, fault_currents_a
from engine.trade.protection import internal_from_cranking_ohm, loop_fault_a
from engine.trade.ranges import OutOfRange

LOOP = [Part(name="red", ohm=0.010715)], [Part(name="black", ohm=0.010715)]


def bow() -> Circuit:
    """24.9 V and 12 mohm behind an 8 AWG loop of 21.43 mohm."""
    return single_run(24, Bank(24.9, 0.012), *LOOP, "motor", 48.0)


def test_a_short_at_the_bow_draws_what_was_worked() -> None:
    """24.9 V / 33.43 mohm = 745 A, 15 times a 50 A breaker; worked by hand."""
    assert fault_current_a(bow(), "motor +", "motor -") == pytest.approx(744.84, abs=0.005)


def test_a_short_at_the_posts_draws_what_the_bank_can_give() -> None:
    """24.9 V / 12 mohm = 2075 A; worked by hand."""
    assert fault_current_a(bow(), BANK_PLUS) == pytest.approx(2075)


def test_the_worked_loop_is_eight_gauge_of_the_bow() -> None:
    """5.2 m each way of 8 AWG at 20 degC."""
    wire = Wire(name="run", size="8 AWG", length_m=10.4, temperature_c=20)
    assert wire.resistance_ohm() == pytest.approx(0.02143, abs=0.000005)


def test_a_fault_grows_smaller_with_every_metre() -> None:
    out = [Wire(name=f"red {i}", size="8 AWG", length_m=1) for i in range(5)]
    found = list(fault_currents_a(single_run(24, Bank(24.9, 0.012), out, LOOP[1], "motor", 48.0)).values())
    assert found == sorted(found, reverse=True)
    assert len(found) == 7


def test_points_that_are_not_live_have_no_fault() -> None:
    assert "motor -" not in fault_currents_a(bow())


def test_loads_do_not_change_the_fault() -> None:
    heavy = Circuit(24, bow().bank, bow().pieces, (Load(name="motor", plus="motor +", minus="motor -", amount=480.0),))
    assert fault_currents_a(heavy) == fault_currents_a(bow())


def test_nothing_that_resists_means_no_end_of_current() -> None:
    assert fault_current_a(single_run(24, Bank(24.9), *LOOP, "motor", 48.0), BANK_PLUS) == float("inf")


@pytest.mark.parametrize(
    ("points", "said"),
    [
        (("bow",), 'point is "bow"; there are bank -, bank +, motor +, motor -'),
        ((BANK_MINUS,), "point is bank - twice; a short needs two points"),
    ],
)
def test_a_short_needs_two_points_of_the_circuit(points: tuple[str, ...], said: str) -> None:
    with pytest.raises(OutOfRange) as refused:
        fault_current_a(bow(), *points)
    assert str(refused.value) == said


def test_the_plain_sum_is_the_same() -> None:
    assert loop_fault_a(24.9, 0.012, 0.02143) == pytest.approx(fault_current_a(bow(), "motor +", "motor -"))


def test_a_short_through_nothing_is_refused() -> None:
    with pytest.raises(OutOfRange, match="internal and loop are 0 ohm together"):
        loop_fault_a(12, 0, 0)


def test_cranking_amperes_give_an_upper_estimate_of_the_inner_resistance() -> None:
    """(12.45 - 7.2) V / 800 A = 6.56 mohm, from memory; two in series: 13 mohm, near the 12 of the worked bank."""
    assert 2 * internal_from_cranking_ohm(12.45, 800) == pytest.approx(0.0131, abs=0.0001)
