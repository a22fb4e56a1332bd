"""The history of one boat: drift in a sentence, and what a swap changed; and what other rules would say of a log."""

import pytest

from engine.published.profiles import UnknownProfile
from engine.review.audit import Audit, audit, audit_file
from engine.review.history import before_after, history
from engine.review.other_rules import under_rules
from tests.review.forging import CLEAN, rebuilt


def later(entry: str, raw: str, number: float) -> Audit:
    def change(events: list[dict]) -> None:
        for event in events:
            event["at"] = event["at"].replace("2026-05", "2026-11")
            if event.get("entry") == entry:
                event.update(raw=raw, number=number)

    return audit(rebuilt(change, header={"began": "2026-11-02T08:30:00+00:00"}), "later.toml")


def test_a_joint_that_grew_worse_is_told_first_with_dates_and_share() -> None:
    """Worked by hand: the first screw reads 14 mV in the sample; 31 mV is up by 121 %."""
    first = history([later("mv_1", "31", 0.031), audit_file(CLEAN)])[0]
    assert first.entry == "mv_1"
    assert first.sentence.endswith("14 mV on 2026-05-02, 31 mV on 2026-11-02: up by 121%")


def test_a_reading_that_stayed_is_no_drift() -> None:
    told = {drift.entry: drift.sentence for drift in history([audit_file(CLEAN), later("mv_1", "31", 0.031)])}
    assert told["mv_2"].endswith(": no drift")


def test_one_session_has_no_history() -> None:
    assert history([audit_file(CLEAN)]) == ()


def test_a_swap_is_told_part_by_part_with_verdicts() -> None:
    assert "receptacle: 30.0 A (fail) before, 60.0 A (pass) after" in before_after(audit_file(CLEAN))


def test_a_log_without_events_has_nothing_swapped() -> None:
    assert before_after(audit(b"hello", "x")) == ()


def test_other_rules_are_shown_only_where_their_verdict_differs() -> None:
    """The federal rule allows 72 in without a sheath; the quoted industry rule asks for one beyond 7 in."""

    def bare(events: list[dict]) -> None:
        for event in events:
            if event.get("entry") in ("breaker_sheathed", "fitted_sheathed"):
                event.update(raw="no", yes=False)

    log = audit(rebuilt(bare), "x")
    changed = {(verdict.step, verdict.key): verdict for verdict in under_rules(log, "federal")}
    assert changed
    assert all(verdict.own != verdict.other for verdict in changed.values())


def test_the_same_rules_change_nothing() -> None:
    assert under_rules(audit_file(CLEAN), "industry") == ()


def test_an_unknown_profile_is_refused() -> None:
    with pytest.raises(UnknownProfile):
        under_rules(audit_file(CLEAN), "local")
