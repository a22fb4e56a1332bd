"""A cohort: steps that go wrong, spreads with their outliers, a rig's known values, planted faults found or not."""

from pathlib import Path

import pytest

from engine.review.audit import audit_file
from engine.review.cohort import planted, spreads, step_troubles, strip
from engine.review.paper import BadPaper
from engine.review.rig import Fault, KnownValue, Rig, load_rig
from engine.review.row import LogRow
from engine.review.values import Measured
from tests.review.forging import CLEAN


def row(name: str, bad: tuple[str, ...] = (), flagged: tuple[str, ...] = (), *, trusted: bool = True) -> LogRow:
    return LogRow(name=name, sha256=name, chain="whole", trusted=trusted, bad_steps=bad, flagged=flagged)


def logs(**numbers: float) -> dict[str, list[Measured]]:
    return {name: [Measured("v_bank", number, 0.01, "V")] for name, number in numbers.items()}


def test_the_step_that_most_logs_get_wrong_stands_first() -> None:
    rows = [row("a", ("strip",)), row("b", ("strip", "heat")), row("c"), row("d", ("heat", "strip"), trusted=False)]
    assert [(t.step, t.wrong, t.of) for t in step_troubles(rows)] == [("strip", 2, 3), ("heat", 1, 3)]


def test_a_spread_has_median_and_median_absolute_deviation() -> None:
    """Worked by hand: 1 2 3 4 9 has median 3; the deviations 0 1 1 2 6 have median 1."""
    (spread,) = spreads(logs(a=1, b=2, c=3, d=4, e=9))
    assert (spread.median, spread.mad, spread.low, spread.high, spread.count) == (3, 1, 1, 9, 5)


def test_a_reading_far_from_its_cohort_is_named() -> None:
    """Modified z-score over 3.5 (Iglewicz and Hoaglin): 0.6745 x 6 / 1 = 4.05 is, 0.6745 x 5 / 1 = 3.37 is not."""
    assert spreads(logs(a=1, b=2, c=3, d=4, e=9))[0].far == ("e",)
    assert spreads(logs(a=1, b=2, c=3, d=4, e=8))[0].far == ()


def test_a_last_digit_more_or_less_is_never_far() -> None:
    assert spreads(logs(a=25.0, b=25.0, c=25.0, d=25.0, e=25.01))[0].far == ()


def test_a_rig_that_is_known_judges_instead_of_the_cohort() -> None:
    rig = Rig({"v_bank": KnownValue(25.3, 0.2)}, ())
    (spread,) = spreads(logs(a=24.0, b=24.0, c=24.0, d=25.4, e=25.3), rig)
    assert (spread.known, spread.far) == (25.3, ("a", "b", "c"))


def test_four_readings_are_too_few_to_tell_a_spread() -> None:
    assert spreads(logs(a=1, b=2, c=3, d=4)) == ()


def test_a_strip_has_a_sign_for_each_heap_and_the_median() -> None:
    assert strip([0, 0, 10, 10, 10, 20, 30, 30, 30, 30, 30], 0, 30, 16) == ":    +    .    #"
    assert strip([0, 10], 0, 10, 11) == ".    |    ."


def test_a_planted_fault_is_found_by_whoever_had_a_finding_there() -> None:
    rig = Rig({}, (Fault("screw 2 is loose", ("load-test", "heat-test")),))
    (fault,) = planted([row("a", flagged=("heat-test",)), row("b", flagged=("strip",)), row("c")], rig)
    assert (fault.found, fault.missed) == (("a",), ("b", "c"))


GOOD = """
schema = 1
title = "Rig 2"
[[value]]
entry = "v_bank"
is = "25.4 V"
within = "200 mV"
[[planted]]
says = "screw 2 is loose"
steps = ["load-test", "heat-test"]
"""


def rig_from(tmp_path: Path, text: str) -> Rig:
    procedure = audit_file(CLEAN).procedure
    assert procedure is not None
    (tmp_path / "rig.toml").write_text(text)
    return load_rig(tmp_path / "rig.toml", procedure)


def test_a_rig_file_gives_known_values_in_base_units_and_faults(tmp_path: Path) -> None:
    rig = rig_from(tmp_path, GOOD)
    assert rig.known == {"v_bank": KnownValue(25.4, 0.2)}
    assert rig.planted == (Fault("screw 2 is loose", ("load-test", "heat-test")),)


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        ('"v_bank"', '"v_bunk"', 'rig.toml: value[1].entry: "v_bunk" is not asked for by bow-receptacle'),
        ('"25.4 V"', '"25.4 kg"', 'rig.toml: value[1].is: must be a text such as "1 V"'),
        ('"200 mV"', "0.2", 'rig.toml: value[1].within: must be a text such as "1 V"'),
        ('"heat-test"', '"hot-test"', 'rig.toml: planted[1].steps: "hot-test" is no step of bow-receptacle'),
        ("says =", "said =", "rig.toml: planted[1].said: unknown key, the keys are says, steps"),
        ('says = "screw 2 is loose"', "says = 2", "rig.toml: planted[1]: must have a text says and a list steps"),
        ("within =", "witin =", "rig.toml: value[1].witin: unknown key, the keys are entry, is, within"),
        ('"heat-test"', '["heat-test"]', "rig.toml: planted[1].steps: \"['heat-test']\" is no step of bow-receptacle"),
        (
            '"v_bank"',
            '"fuel_vapour"',
            "rig.toml: value[1].entry: fuel_vapour is no number (yes/no); only a measured number has a known value",
        ),
        ("schema = 1", "schema = 2", "rig.toml: schema: must be 1"),
        ("title =", "tittle =", "rig.toml: tittle: unknown key, the keys are schema, title, value, planted"),
    ],
)
def test_a_rig_file_that_cannot_be_used_says_where_and_what(tmp_path: Path, old: str, new: str, sentence: str) -> None:
    with pytest.raises(BadPaper) as refused:
        rig_from(tmp_path, GOOD.replace(old, new))
    assert str(refused.value) == sentence
