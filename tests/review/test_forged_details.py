"""Forgeries under a chain that was built anew: what a log says beside its verdicts must come out again as well."""

import pytest

from engine.review.audit import audit
from tests.review.forging import first, rebuilt, setting


def problems(data: bytes) -> list[str]:
    found = audit(data, "forged.toml")
    assert found.replay is not None, found.problem
    return found.replay.problems


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"limits": ["drop at most 9 %"]}, "measured-drop: recorded limits drop at most 9 %; recomputed limits excess"),
        ({"profile": "house 1"}, "measured-drop: recorded profile house 1; recomputed profile industry 1"),
        ({"remedy": "turn the screw"}, "recorded remedy turn the screw; recomputed remedy nothing"),
        ({"firm": True}, "measured-drop: recorded firm True; recomputed firm False"),
    ],
)
def test_a_limit_rule_or_remedy_that_was_changed_does_not_come_out_again(change: dict, sentence: str) -> None:
    found = problems(rebuilt(setting(change, event="finding", key="measured-drop")))
    assert any(sentence in problem for problem in found), found


@pytest.mark.parametrize(
    ("header", "sentence"),
    [
        ({"began": "2026-04-01T08:30:00+00:00"}, 'header: began says "2026-04-01T08:30:00+00:00"'),
        ({"profile": "federal 1"}, 'header: profile says "federal", the log holds "industry"'),
        ({"demo": True}, 'header: demo says "True", the log holds "False"'),
        ({"asset": "Reed Wren"}, 'header: asset says "Reed Wren", the log holds "Grey Heron"'),
    ],
)
def test_a_header_that_says_other_than_the_events_is_told(header: dict, sentence: str) -> None:
    assert [p for p in problems(rebuilt(lambda events: None, header=header)) if p.startswith(sentence)]


def test_a_time_before_the_one_before_it_needs_a_note_of_the_clock() -> None:
    def earlier(events: list[dict]) -> None:
        first(events, event="reading", entry="v_bank")["at"] = "2026-05-02T08:31:00+00:00"

    assert [p for p in problems(rebuilt(earlier)) if "its time is before that of the event before it" in p]


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"known": "told by owner"}, "v_bank: recorded known told by owner; recomputed known measured"),
        ({"digit": 0.1}, "v_bank: recorded digit 0.1; recomputed digit 0.01"),
        ({"number": 25.83}, 'v_bank: recorded "25.38" as 25.83 V; recomputed "25.38" as 25.38 V'),
    ],
)
def test_how_a_value_is_known_must_come_out_of_its_text_again(change: dict, sentence: str) -> None:
    found = problems(rebuilt(setting(change, event="reading", entry="v_bank")))
    assert any(sentence in problem for problem in found), found


def test_a_hold_that_was_opened_and_then_made_void_is_not_shown_as_opened() -> None:
    def redone(events: list[dict]) -> list[dict]:
        last = {key: events[-3][key] for key in ("at", "mono")}
        return [*events[:-1], {"event": "redone", "n": 0, **last, "step": "load-test", "voided": ["load-test"]}]

    found = audit(rebuilt(redone), "x")
    assert {hold.step: hold.by for hold in found.holds}["load-test"] == ""
