"""The forward sums of a run: more of what heats or lengthens never makes its drop or its wire better."""

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from engine.trade.ampacity import table_allowable_a, table_sizes
from engine.trade.conductor import area_mm2
from engine.trade.drop import run_drop


@given(
    load=st.floats(0.1, 200),
    more=st.floats(1, 3),
    out=st.floats(0, 20),
    longer=st.floats(0, 10),
    size=st.sampled_from(table_sizes()),
)
@settings(max_examples=150, deadline=None)
def test_more_current_or_length_never_lowers_the_drop(
    load: float, more: float, out: float, longer: float, size: str
) -> None:
    small, big = run_drop(load, size, out, out), run_drop(load * more, size, out + longer, out)
    assert big.drop_v >= small.drop_v
    if small.hot_drop_v is not None and big.hot_drop_v is not None:
        assert big.hot_drop_v >= small.hot_drop_v


@given(
    load=st.floats(0.1, 60), cool=st.floats(-40, 100), warmer=st.floats(0, 20), size=st.sampled_from(table_sizes()[2:])
)
@settings(max_examples=150, deadline=None)
def test_warmer_air_never_lowers_the_hot_drop(load: float, cool: float, warmer: float, size: str) -> None:
    here, there = (run_drop(load, size, 5, 5, ambient_c=c) for c in (cool, cool + warmer))
    if here.hot_drop_v is not None and there.hot_drop_v is not None:
        assert there.hot_drop_v >= here.hot_drop_v


@given(load=st.floats(0.1, 200), out=st.floats(0, 20), insulation=st.sampled_from([60, 75, 80, 90, 105, 125, 200]))
@settings(max_examples=80, deadline=None)
def test_a_larger_wire_never_raises_the_drop(load: float, out: float, insulation: float) -> None:
    runs = [run_drop(load, size, out, out, insulation) for size in table_sizes()]
    cold = [found.drop_v for found in runs]
    hot = [found.hot_drop_v for found in runs if found.hot_drop_v is not None]
    assert cold == sorted(cold, reverse=True)
    assert hot == sorted(hot, reverse=True)


@given(thousandths=st.integers(830, 107200))
def test_a_metric_size_never_carries_more_than_the_gauge_above_it(thousandths: int) -> None:
    size = f"{thousandths / 1000:g} mm2"
    larger = [awg for awg in table_sizes() if area_mm2(awg) >= area_mm2(size)]
    assume(larger)
    assert table_allowable_a(size, 105) <= table_allowable_a(larger[0], 105)
