"""The desk: one line a log, worst first; names hidden; marks proposed in words and kept beside the logs."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from engine.review.audit import HoldLine, audit, audit_file
from engine.review.listed import NoSuchView, anonymous, arranged, marked
from engine.review.marks import FILE, Mark, read_marks, write_marks
from engine.review.paper import BadPaper
from engine.review.row import Like, LogRow, digest_of, row_of
from engine.review.rubric import SHIPPED, load_rubric, propose, shipped_rubric
from tests.review.forging import ALTERED_AT, CLEAN, GIVEN, MENDED, ON_TASK_S, rebuilt, setting, without
from tests.samples.remake import Sample

HOLDS = (
    HoldLine("dead", "Prove it dead", firm=True, by="evidence"),
    HoldLine("load", "Load test", firm=False, by="evidence"),
)


def row(name: str = "a.toml", **changed) -> LogRow:
    plain = LogRow(
        name=name, sha256=digest_of(name.encode()), chain="whole", trusted=True, ended="closed", complete=True,
        clean=True, holds=HOLDS, asked=10, given=10, person="R. Marsh",
        asset="Grey Heron", last_at="2026-05-02T09:00:00+00:00",
    )  # fmt: skip
    return replace(plain, **changed)


def opened(by: str, *, firm: bool) -> tuple[HoldLine, ...]:
    return tuple(replace(h, by=by) if h.firm is firm else h for h in HOLDS)


def test_a_clean_log_has_a_line_with_nothing_to_look_at() -> None:
    line = row_of(audit_file(CLEAN))
    assert (line.complete, line.holds_opened, line.first_bad, line.looks_clean) == (True, len(line.holds), "", True)
    assert line.holds
    assert (line.asked, line.given, line.on_task_s) == (GIVEN, GIVEN, ON_TASK_S)


def test_time_away_is_not_time_on_task(sample: Sample) -> None:
    line = row_of(audit_file(sample(MENDED)))
    assert (line.breaks, line.breaks_s) == (1, 7220.0)  # two hours and the 20 s that its given clock adds at each look
    assert line.on_task_s < 7200


def test_an_altered_log_is_not_trusted_and_says_where() -> None:
    line = row_of(audit(CLEAN.read_bytes().replace(b'raw = "24.36"', b'raw = "24.06"'), "bad"))
    assert not line.trusted
    assert line.first_bad.startswith(f"altered: event {ALTERED_AT}")


def test_a_closed_job_without_its_dead_proof_is_counted_as_unproved() -> None:
    line = row_of(audit(rebuilt(without(event="hold_cleared", step="prove-dead")), "x"))
    assert line.unproved == ("Prove it dead",)
    assert not line.looks_clean


WORSE = (
    row("a", trusted=False, chain="altered"), row("aa", other_text="x"), row("b", holds=opened("", firm=True)),
    row("c", differs=1), row("d", like=Like("z", 30, 60, 3600.0)),
    row("dd", doubts=("a demo",)), row("e", fails=1), row("f", holds=opened("deviation", firm=False)),
    row("g", undecided=1), row("h", chain="torn"),
    row("i", ended="open", clean=False), row("j", missing=1), row("k", marginals=1), row("l"),
)  # fmt: skip
"""One log each of the ranks, worst first."""


def test_the_worst_stand_first_in_the_stated_order() -> None:
    assert [r.name for r in arranged(reversed(WORSE))] == ["a", "aa", "b", "c", "d", "dd", *"efghijkl"]


def test_only_logs_with_nothing_to_look_at_count_as_clean() -> None:
    assert [r.name for r in arranged(WORSE, show="clean")] == ["j", "k", "l"]


def test_a_search_wants_every_word_somewhere_and_no_case() -> None:
    rows = [row("one", asset="Reed Wren"), row("two")]
    assert [r.name for r in arranged(rows, search="MARSH wren")] == ["one"]


def test_an_unknown_sort_is_refused_with_the_known_ones() -> None:
    with pytest.raises(NoSuchView, match='there is no "luck"; there are worst, name'):
        arranged([], sort="luck")


def test_hidden_names_stay_hidden_and_the_same_person_keeps_one_number() -> None:
    rows = [row("marsh.toml"), row("fen.toml", person="D. Fen", like=Like("marsh.toml", 30, 60)), row("again.toml")]
    hidden = anonymous(rows)
    text = " ".join(f"{r.name} {r.person} {r.asset} {r.like}" for r in hidden)
    assert not any(word in text for word in ("arsh", "Fen", "fen", "Heron", "again"))
    assert len({r.person for r in hidden}) == 2


def test_a_job_without_fault_gets_every_point_and_says_so() -> None:
    proposed = propose(row(), shipped_rubric())
    assert (proposed.mark, proposed.of, proposed.reasons) == (100.0, 100.0, ("nothing missing",))


def test_a_firm_hold_passed_without_evidence_gives_nothing_at_all() -> None:
    proposed = propose(row(holds=opened("", firm=True)), shipped_rubric())
    assert (proposed.mark, proposed.reasons) == (0.0, ("0: firm hold passed without evidence: Prove it dead",))


def test_a_file_not_to_be_trusted_gets_no_mark() -> None:
    assert propose(row(trusted=False, problem="altered: event 3"), shipped_rubric()).mark is None


@pytest.mark.parametrize(
    ("changed", "mark", "why"),
    [
        # worked by hand from the shipped rubric: weights firm 2, hold 1; 40 points / 3 for the plain hold, half kept
        ({"holds": opened("deviation", firm=False)}, 93.3, "-6.7: hold opened by deviation: Load test"),
        ({"given": 8}, 95.0, "-5.0: 2 of 10 values not taken"),
        ({"order": 2}, 90.0, "-10.0: 2 out of order"),
        ({"doubts": ("a demo",)}, 85.0, "-15.0: 1 to ask about"),
        ({"differs": 1}, None, "no mark: its verdicts do not follow from its readings"),
        (
            {"ended": "stopped", "stopped": "smell of petrol", "stopped_rightly": True, "given": 2},
            100.0,
            "stopped, as is right: smell of petrol",
        ),
        ({"ended": "stopped", "stopped": "lunch"}, None, "no mark: stopped: lunch"),
        ({"left_to_do": 1}, 97.0, "-3.0: 1 left to do"),
        ({"chain": "torn"}, 95.0, "-5.0: 1 entry half written"),
        ({"ended": "open"}, 95.0, "-5.0: not closed"),
    ],
)
def test_each_fault_takes_its_points_and_gives_its_reason(changed: dict, mark: float | None, why: str) -> None:
    proposed = propose(row(**changed), shipped_rubric())
    assert (proposed.mark, proposed.reasons) == (mark, (why,))


def test_each_day_begun_after_the_deadline_takes_its_points() -> None:
    late = replace(shipped_rubric(), deadline=datetime(2026, 5, 2, 9, tzinfo=UTC) - timedelta(hours=30))
    assert propose(row(), late).reasons == ("-2.0: 2 days late",)


def test_the_desk_carries_the_proposed_mark() -> None:
    assert [r.proposed for r in marked([row()], shipped_rubric())] == [100.0]


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        ("holds = 40.0", "holds = -1", "mine.toml: points.holds: must be a number, zero or above"),
        ("order = 15.0", "oder = 15.0", "mine.toml: points.oder: unknown key, the keys are holds, readings"),
        ('deadline = ""', 'deadline = "soon"', "mine.toml: rule.deadline: must be a time with its zone"),
        ("schema = 1", "schema = 7", "mine.toml: schema: must be 1"),
        (
            "deviation_share = 0.5",
            "deviation_share = 5",
            "mine.toml: rule.deviation_share: must be a number, from 0",
        ),
        ("schema = 1", "schema = ", "mine.toml: Invalid value"),
    ],
)
def test_a_rubric_that_cannot_be_used_says_where_and_what(tmp_path: Path, old: str, new: str, sentence: str) -> None:
    mine = tmp_path / "mine.toml"
    mine.write_text(SHIPPED.read_text().replace(old, new))
    with pytest.raises(BadPaper) as refused:
        load_rubric(mine)
    assert str(refused.value).startswith(sentence)


def test_a_step_of_a_rubric_may_weigh_more_than_the_others(tmp_path: Path) -> None:
    mine = tmp_path / "mine.toml"
    mine.write_text(SHIPPED.read_text().replace("firm = 2.0", "firm = 2.0\nload = 6.0"))
    assert propose(row(holds=opened("", firm=False)), load_rubric(mine)).mark == 70.0


def test_marks_are_kept_beside_the_logs_and_come_back(tmp_path: Path) -> None:
    given = Mark(
        "a.toml", "42ec-5cb5", 88.5, note='said "why" <b>\nat the bench', by="D. Fen", at="2026-06-01T10:00:00+00:00"
    )
    write_marks(tmp_path, [given])
    write_marks(tmp_path, [Mark("b.toml", "0000-0000", accepted=True)])
    assert read_marks(tmp_path)["a.toml"] == given
    assert sorted(p.name for p in tmp_path.iterdir()) == [FILE]


def test_marks_that_cannot_be_read_are_never_written_over(tmp_path: Path) -> None:
    (tmp_path / FILE).write_text("mark = [")
    with pytest.raises(BadPaper):
        write_marks(tmp_path, [Mark("a.toml", "1")])
    assert (tmp_path / FILE).read_text() == "mark = ["


@pytest.mark.parametrize("text", ["mark = true", "mark = nan", "mark = inf", 'mark = "90"', "accepted = 1"])
def test_a_mark_that_is_no_number_is_refused_with_its_place(tmp_path: Path, text: str) -> None:
    (tmp_path / FILE).write_text(f'schema = 1\n[[mark]]\nlog = "a.toml"\nhead = "1"\n{text}\n')
    with pytest.raises(
        BadPaper, match=rf"^{FILE}: mark\[1\]\.{text.split(' ', maxsplit=1)[0]}: is not a key of a mark, or"
    ):
        read_marks(tmp_path)


def test_marks_of_another_version_are_never_written_over(tmp_path: Path) -> None:
    (tmp_path / FILE).write_text("schema = 2\n")
    with pytest.raises(BadPaper, match="schema: must be 1"):
        write_marks(tmp_path, [Mark("a.toml", "1")])
    assert (tmp_path / FILE).read_text() == "schema = 2\n"


def test_a_note_that_is_too_long_is_refused_and_not_cut(tmp_path: Path) -> None:
    with pytest.raises(BadPaper, match="the note has 2001 characters; at most 2000 are kept"):
        write_marks(tmp_path, [Mark("a.toml", "1", note="x" * 2001)])
    assert list(tmp_path.iterdir()) == []


def test_setting_a_reading_that_was_typed_otherwise_shows_as_differing_in_the_line() -> None:
    assert row_of(audit(rebuilt(setting({"number": 99.0}, event="reading", entry="v_bank")), "x")).differs >= 1
