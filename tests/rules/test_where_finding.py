"""What is said of the place of an extra resistance."""

from engine.finding import Verdict
from engine.rules.where import where
from engine.trade.locate import Across, LoopPart

LOOP = (
    LoopPart("wire out", "wire", "out", 0.0107),
    LoopPart("contact 2", "joint", "out", 0.0006),
    LoopPart("contact 1", "joint", "back", 0.0006),
    LoopPart("wire back", "wire", "back", 0.0107),
)
RUN = frozenset(part.name for part in LOOP)


def test_a_joint_is_named_with_ohm_volts_and_watts() -> None:
    # Source: worked by hand: 0.21 V / 44 A = 4.77 mohm, 0.6 due: 4.2 mohm, 0.2 V and 9.6 W at 48 A.
    found = where(LOOP, [Across(RUN, 1.18, 0.005), Across(frozenset({"contact 2"}), 0.21, 0.001)], 44, 0.0, 48)
    assert found.sentence == "4.2 mohm too much in contact 2: 0.2 V, 9.6 W at 48 A"
    assert found.verdict is Verdict.MARGINAL


def test_more_than_one_part_asks_for_one_further_reading() -> None:
    # Source: one equation cannot tell four parts apart.
    found = where(LOOP, [Across(RUN, 1.18, 0.005)], 44, 0.0, 48)
    assert found.remedy == "next: millivolts across wire out + contact 2, same current, same minute"


def test_nothing_stands_out() -> None:
    # Source: 44 A x 22.6 mohm = 0.9944 V.
    assert where(LOOP, [Across(RUN, 0.9944, 0.005)], 44, 0.0, 48).verdict is Verdict.PASS


def test_no_reading_says_nothing() -> None:
    assert where(LOOP, [], 44, 0.0, 48).verdict is Verdict.MISSING
