"""The usual instruments and what each can tell."""

import pytest

from engine.published.instruments import instrument, instrument_ids
from engine.published.tables import NotPrinted
from engine.source import Seen

NEEDED = ("dmm_v", "dmm_mv", "dmm_r", "clamp", "ir", "tc", "cal", "tape", "torq", "scale", "hand")


@pytest.mark.parametrize("id", NEEDED)
def test_each_instrument_of_the_job_is_known(id: str) -> None:
    assert instrument(id).id == id


@pytest.mark.parametrize(
    ("id", "percent", "counts", "resolution", "unit"),
    [
        ("dmm_v", 0.5, 2, 0.01, "V"),
        ("dmm_mv", 0.5, 3, 0.0001, "V"),
        ("dmm_r", 1.0, 3, 0.1, "ohm"),
        ("clamp", 2.0, 5, 0.1, "A"),
        ("torq", 6.0, 0, 0.1, "N m"),
    ],
)
def test_percent_and_digits(id: str, percent: float, counts: float, resolution: float, unit: str) -> None:
    # Source: common practice, accuracy lines of ordinary hand tools (volts and ohms quoted, the rest memory).
    found = instrument(id)
    assert (found.percent, found.counts, found.resolution, found.unit) == (percent, counts, resolution, unit)


@pytest.mark.parametrize(("id", "half_width"), [("ir", 2.0), ("tc", 2.2), ("cal", 0.00003), ("scale", 1.0)])
def test_fixed_half_width_in_base_units(id: str, half_width: float) -> None:
    # Source: common practice (memory): 2 degC, 2.2 degC, 0.03 mm, about 0.1 kg of pull.
    assert instrument(id).fixed == half_width


def test_a_tug_by_hand_has_no_numbers() -> None:
    # Source: this project's rule: an outcome in words, never newtons.
    found = instrument("hand")
    assert (found.unit, found.percent, found.counts, found.resolution, found.fixed) == ("", 0, 0, 0, 0)


@pytest.mark.parametrize(("id", "seen"), [("dmm_v", Seen.QUOTED), ("clamp", Seen.MEMORY)])
def test_each_says_how_its_figure_was_seen(id: str, seen: Seen) -> None:
    assert instrument(id).source.seen is seen


def test_unknown_instrument_names_those_there_are() -> None:
    with pytest.raises(NotPrinted, match=r'^there is no instrument "wet finger"; there are dmm_v, dmm_mv, '):
        instrument("wet finger")


def test_ids_are_unlike_each_other() -> None:
    assert len(set(instrument_ids())) == len(instrument_ids())
