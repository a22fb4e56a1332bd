"""Engine space, bundle and warm air reach the copper's temperature and with it the hot drop."""

import pytest

from engine.finding import Value, Verdict
from tests.plan.bow import finding, planned
from tests.rules.judging import judged

# By hand, heat balance T = air + 75 K (48 A / I_allow)^2 for a 105 degC jacket, copper 1 + 0.00393 (T - 20):
# 6 AWG (120 A, 13.30 mm2, 10.4 m of it, 24 V): 42 degC 2.93 %, in 50 degC air 62 degC 3.14 %, bundled (72 A) 63.3 degC
# 3.15 %; 8 AWG (80 A): in an engine space and bundled by three (56 A) 50 + 75 x 0.7347 = 105.1 degC.
LYING: list[tuple[dict[str, Value], float, float]] = [
    ({}, 42.0, 2.93),
    ({"engine_space": True}, 62.0, 3.14),
    ({"bundled": 6.0}, 63.3, 3.15),
]


@pytest.mark.parametrize(("changed", "copper_c", "hot_percent"), LYING)
def test_the_plan_s_hot_drop_goes_by_where_the_wire_lies(changed, copper_c, hot_percent) -> None:
    values = finding(planned(**changed), "run", "voltage-drop").values
    assert values["hot_temperature_c"] == pytest.approx(copper_c, abs=0.05)
    assert values["hot_drop_percent"] == pytest.approx(hot_percent, abs=0.01)


def test_three_in_a_bundle_in_an_engine_space_heat_8_awg_to_105_degrees() -> None:
    values = finding(planned(engine_space=True, bundled=3.0, new_wire="8 AWG"), "run", "voltage-drop").values
    assert values["hot_temperature_c"] == pytest.approx(105.1, abs=0.05)


def test_the_first_size_that_passes_in_an_engine_space_is_4_awg() -> None:
    assert planned(engine_space=True).verdict is Verdict.MARGINAL
    assert planned(engine_space=True, new_wire="4 AWG").verdict is Verdict.PASS


@pytest.mark.parametrize(
    ("told", "copper_c"), [({"ambient": "40"}, 52.0), ({"engine_space": "yes", "ambient": "40"}, 62.0)]
)
def test_an_engine_space_is_never_taken_cooler_than_50_degrees(told: dict[str, str], copper_c: float) -> None:
    run = {"load": "48", "size": "6 AWG", "out": "5.2", "back": "5.2", "nominal": "24", "class": "bow-motor"}
    assert judged("voltage-drop", **run, **told).values["hot_temperature_c"] == pytest.approx(copper_c)
