"""Where extra resistance sits in a loop, by the readings that were taken, and what to read next."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.trade.locate import Across, LoopPart, locate
from engine.trade.ranges import OutOfRange

LOOP = (
    LoopPart("bank", "bank", "bank", 0.012),
    LoopPart("post +", "joint", "out", 0.0003),
    LoopPart("breaker", "device", "out", 0.0015),
    LoopPart("wire out", "wire", "out", 0.0107),
    LoopPart("contact 2", "joint", "out", 0.0006),
    LoopPart("contact 1", "joint", "back", 0.0006),
    LoopPart("wire back", "wire", "back", 0.0107),
    LoopPart("post -", "joint", "back", 0.0003),
)
RUN = frozenset(part.name for part in LOOP if part.leg != "bank")
CURRENT_A, RATED_A = 44.0, 48.0


def drop(names: frozenset[str], extra: dict[str, float]) -> float:
    """Return what a perfect meter would read across parts, some with extra ohm."""
    return CURRENT_A * sum(part.predicted_ohm + extra.get(part.name, 0) for part in LOOP if part.name in names)


def located(*across: frozenset[str], extra: dict[str, float] | None = None, u_v: float = 0.0005):
    readings = [Across(names, drop(names, extra or {}), u_v) for names in across]
    return locate(LOOP, readings, CURRENT_A, 0.0, RATED_A)


def test_one_reading_of_the_run_cannot_tell_its_parts_apart() -> None:
    # Source: Kirchhoff's law of volts: one equation.
    found = located(RUN, extra={"contact 2": 0.004})
    assert found.suspect is not None
    assert frozenset(found.suspect.parts) == RUN


def test_excess_is_said_in_ohm_volts_and_watts() -> None:
    # Source: Ohm's and Joule's laws, worked by hand: 4 mohm at 48 A is 0.192 V and 9.216 W.
    suspect = located(RUN, extra={"contact 2": 0.004}).suspect
    assert suspect is not None
    assert (suspect.excess_ohm, suspect.excess_v, suspect.excess_w) == pytest.approx((0.004, 0.192, 9.216))


def test_a_reading_inside_takes_its_part_out_of_the_run() -> None:
    # Source: Kirchhoff's law of volts.
    found = located(RUN, frozenset({"contact 2"}), extra={"contact 2": 0.004})
    assert found.suspect is not None
    assert found.suspect.parts == ("contact 2",)


def test_what_is_left_of_the_run_is_then_as_predicted() -> None:
    # Source: Kirchhoff's law of volts.
    found = located(RUN, frozenset({"contact 2"}), extra={"contact 2": 0.004})
    rest = next(s for s in found.stretches if "wire out" in s.parts)
    assert rest.excess_ohm == pytest.approx(0, abs=1e-12)


def test_doubts_add_in_squares_where_readings_are_subtracted() -> None:
    # Source: JCGM 100:2008, 5.1.2: 2 x root(2) x 0.5 mV / 44 A.
    found = located(RUN, frozenset({"contact 2"}))
    rest = next(s for s in found.stretches if "wire out" in s.parts)
    assert rest.uncertainty_ohm == pytest.approx(2 * 2**0.5 * 0.0005 / CURRENT_A)


def test_excess_under_its_uncertainty_is_no_suspect() -> None:
    # Source: JCGM 106:2012, 8.3.2: 0.1 mohm of excess, U = 2 x 16.6 mV / 44 A = 0.75 mohm.
    assert located(RUN, extra={"contact 2": 0.0001}, u_v=0.0166).suspect is None


def test_next_reading_halves_what_is_in_doubt() -> None:
    # Source: worked by hand: joints 4, device 2, wires 1 each: 20 in all; contact 1, wire back, post - have 9.
    assert located(RUN, extra={"post -": 0.004}).next_across == ("contact 1", "wire back", "post -")


def test_next_reading_never_spans_the_load() -> None:
    # Source: between contact 2 and contact 1 stands the load, with all its volts.
    found = located(RUN, extra={"wire out": 0.004})
    legs = {part.leg for part in LOOP if part.name in found.next_across}
    assert len(legs) == 1


def test_nothing_more_is_asked_once_one_part_is_named() -> None:
    # Source: one part cannot be parted further.
    assert located(RUN, frozenset({"contact 2"}), extra={"contact 2": 0.004}).next_across == ()


def test_parts_in_no_reading_are_named_and_asked_for() -> None:
    # Source: what was not measured is said first.
    found = located(RUN)
    assert (found.unread, found.next_across) == (("bank",), ("bank",))


def test_surer_of_two_readings_of_one_stretch_is_taken() -> None:
    # Source: JCGM 100:2008: the smaller uncertainty.
    coarse, fine = Across(RUN, 1.5, 0.1), Across(RUN, drop(RUN, {}), 0.001)
    found = locate(LOOP, [coarse, fine], CURRENT_A, 0.0, RATED_A)
    assert found.stretches[0].uncertainty_ohm == pytest.approx(0.002 / CURRENT_A)


@given(st.sampled_from([part.name for part in LOOP if part.leg != "bank"]), st.floats(0.002, 0.05))
def test_following_its_own_advice_always_ends_at_the_faulty_part(faulty: str, ohm: float) -> None:
    # Source: halving ends; a simulated meter answers each reading that is asked for.
    asked = [RUN]
    for _ in range(len(LOOP)):
        found = located(*asked, extra={faulty: ohm})
        if found.suspect is not None and len(found.suspect.parts) == 1:
            break
        asked.append(frozenset(found.next_across))
    assert found.suspect is not None
    assert found.suspect.parts == (faulty,)


@pytest.mark.parametrize(
    ("readings", "sentence"),
    [
        ([Across(frozenset({"keel"}), 1, 0)], "a reading is across ['keel']; it must be across parts of the loop"),
        ([Across(frozenset(), 1, 0)], "a reading is across nothing; it must be across parts of the loop"),
        (
            [Across(frozenset({"post +", "breaker"}), 1, 0), Across(frozenset({"breaker", "wire out"}), 1, 0)],
            "readings across breaker, post + and across breaker, wire out overlap in part; read one inside",
        ),
    ],
)
def test_readings_that_cannot_be_used_are_refused(readings, sentence) -> None:
    with pytest.raises(OutOfRange) as refused:
        locate(LOOP, readings, CURRENT_A, 0, RATED_A)
    assert str(refused.value) == sentence


def test_two_parts_of_one_name_are_refused() -> None:
    with pytest.raises(OutOfRange, match=r"^two parts of the loop have one name; each must have its own$"):
        locate((LOOP[1], LOOP[1]), [], CURRENT_A, 0, RATED_A)
