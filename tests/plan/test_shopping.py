"""What to buy says of a part what the part can have: a breaker is reset by hand, a fuse is not reset at all."""

import pytest

from engine.plan.plan import make_plan
from engine.procedure.load import load
from engine.session.answers import facts_of, load_answers
from engine.shipped import find, folder


def to_buy(answers: str, **changed: float) -> tuple[str, ...]:
    played = load_answers(folder("sample_sessions") / f"{answers}.answers.toml")
    procedure = load(find(played.procedure))
    return make_plan(procedure, {**facts_of(procedure, played), **changed}, procedure.profile).buy


@pytest.mark.parametrize(
    ("answers", "changed", "line"),
    [
        ("grey-heron-facts", {}, "1 breaker, 60 A, manual reset, DC volts above the charging volts of a 24 V bank"),
        (
            "whimbrel-clean",
            {"new_fuse": 5.0},
            "1 fuse, 5 A, DC volts above the charging volts of a 12 V bank",
        ),
    ],
)
def test_only_a_breaker_is_reset_by_hand(answers: str, changed: dict[str, float], line: str) -> None:
    assert line in to_buy(answers, **changed)
