"""The shopping list of a run."""

from hypothesis import given
from hypothesis import strategies as st

from engine.trade.shopping import what_to_buy, wire_to_buy_m


def test_the_shopping_list_has_the_spare_for_another_termination() -> None:
    """Worked by hand: 5.2 x 1.03 + 0.08 = 5.436, so 5.5 m of each colour."""
    found = [(item.what, item.amount, item.unit) for item in what_to_buy("6 AWG", 5.2, 5.2)]
    assert found == [
        ("6 AWG wire, red", 5.5, "m"),
        ("6 AWG wire, black or yellow", 5.5, "m"),
        ("ring terminal for 6 AWG", 4, "pieces"),
        ("adhesive-lined heat-shrink tube for 6 AWG", 0.2, "m"),
    ]


def test_a_list_without_lugs_is_wire_only() -> None:
    assert len(what_to_buy("6 AWG", 1, 1, lugs=0)) == 2


@given(run=st.floats(0.01, 100))
def test_the_wire_bought_always_reaches(run: float) -> None:
    """Common practice, no source: 3 % for bends and 40 mm at each end."""
    bought = wire_to_buy_m(run)
    assert 0 <= bought - (1.03 * run + 0.08) + 1e-9 < 0.1001
