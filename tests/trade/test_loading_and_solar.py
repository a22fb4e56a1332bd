"""Loading, strands and solar panels: worked by hand, and at the edges."""

import pytest

from engine.trade.loading import heat_ratio, loading, strand_area_mm2
from engine.trade.ranges import OutOfRange
from engine.trade.solar import cold_open_circuit_v, design_current_a


def test_a_fifty_six_ampere_motor_on_a_twenty_ampere_receptacle() -> None:
    """Common practice, no source: (56 / 20)^2 = 7.84 times its rated heat."""
    assert heat_ratio(56, 20) == pytest.approx(7.84)


def test_the_old_receptacle_of_the_bow_motor() -> None:
    """(48 / 30)^2 = 2.56; Joule's law."""
    assert (loading(48, 30), heat_ratio(48, 30)) == (pytest.approx(1.6), pytest.approx(2.56))


def test_the_counted_strands_of_six_gauge() -> None:
    """133 x pi / 4 x 0.361^2 = 13.6 mm2."""
    assert strand_area_mm2(133, 0.361) == pytest.approx(13.61, abs=0.005)


def test_the_panel_of_the_caravan() -> None:
    """8.6 A and 22.5 V with 0.305 % a kelvin: 13.44 A to design for, 24.9 V at -10 degC. NFPA 70 690.8, as quoted."""
    assert design_current_a(8.6, 1) == pytest.approx(13.4375)
    assert cold_open_circuit_v(22.5, -10, -0.305) == pytest.approx(24.9, abs=0.005)


def test_the_sign_of_the_coefficient_does_not_matter() -> None:
    assert cold_open_circuit_v(22.5, -10, 0.305) == cold_open_circuit_v(22.5, -10, -0.305)


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: loading(1, 0), "rating_a is 0 A; it must be from 0.001 to 100000 A"),
        (lambda: strand_area_mm2(0, 0.3), "strands is 0; it must be from 1 to 20000"),
        (lambda: strand_area_mm2(7, 25), "strand_diameter is 25 mm; it must be from 0.02 to 20 mm"),
        (lambda: design_current_a(101, 1), "isc is 101 A; it must be from 0.001 to 100 A"),
        (lambda: cold_open_circuit_v(20, -61, 0.3), "coldest is -61 degC; it must be from -60 to 60 degC"),
    ],
)
def test_what_can_not_be_is_refused(call: object, said: str) -> None:
    with pytest.raises(OutOfRange) as refused:
        call()  # type: ignore[operator]
    assert str(refused.value) == said
