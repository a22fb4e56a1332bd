"""The commands of the reviewer: review, page and export; what they say, their status, and that no log is touched."""

import csv
import io
import json
import os
import re
import shutil
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

import pytest

from engine.review.listed import SORTS
from engine.review.marks import FILE, read_marks
from engine.review.put import put
from engine.view.review import SHOWS
from tests.cli.running import Tugtest
from tests.review.forging import ALTERED, ALTERED_AT, CLEAN, GIVEN, MENDED, REVISION
from tests.review.sober import sober
from tests.review.test_texts import weakened
from tui.commands import review as command

TOP = Path(__file__).resolve().parents[2]
LOGS = ("grey-heron-clean.toml", "grey-heron-altered.toml", "marsh-tern-mended.toml")


@pytest.fixture
def logs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a folder with the sample logs, and keep the index of the test out of the user's cache."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.setattr("engine.review.desk.index_path", lambda: tmp_path / "cache" / "review.sqlite")
    made = tmp_path / "logs"
    made.mkdir()
    for log in (CLEAN, ALTERED, sober(MENDED)):
        shutil.copy(log, made)
    return made


def digests(folder: Path) -> dict[str, str]:
    return {p.name: sha256(p.read_bytes()).hexdigest() for p in folder.iterdir() if p.name in LOGS}


def numbered(out: str) -> list[str]:
    return [line.split(" ", 2)[1].rstrip(",:") for line in out.splitlines() if line[:1].isdigit() and ". " in line[:4]]


def test_a_review_has_one_line_a_log_worst_first(tugtest: Tugtest, logs: Path) -> None:
    ran = tugtest("review", str(logs))
    assert ran.status == 2
    assert ran.out.splitlines()[0] == "3 logs: 2 clean, 0 to look at, 1 not to be trusted"
    assert numbered(ran.out) == ["grey-heron-altered.toml", "grey-heron-clean.toml", "marsh-tern-mended.toml"]
    assert f"look at: altered: event {ALTERED_AT}" in ran.out


def test_a_rubric_that_lies_beside_the_logs_is_none_of_them(tugtest: Tugtest, logs: Path) -> None:
    rubric = shutil.copy(TOP / "engine" / "review" / "rubric.toml", logs / "ours.toml")
    (logs / "grey-heron-altered.toml").unlink()
    for named in ((), ("--rubric", str(rubric))):
        ran = tugtest("review", str(logs), *named)
        assert (ran.status, ran.out.splitlines()[0]) == (0, "2 logs: 2 clean, 0 to look at, 0 not to be trusted")


def test_clean_logs_alone_have_status_zero(tugtest: Tugtest, logs: Path) -> None:
    (logs / "grey-heron-altered.toml").unlink()
    assert tugtest("review", str(logs)).status == 0


def test_a_job_that_is_still_open_has_status_one(tugtest: Tugtest, logs: Path) -> None:
    whole = (logs / "grey-heron-clean.toml").read_bytes()
    (logs / "grey-heron-altered.toml").write_bytes(whole[: whole.rindex(b"\n[[event]]") + 1])
    assert tugtest("review", str(logs)).status == 1


def test_hidden_names_are_nowhere_in_the_review(tugtest: Tugtest, logs: Path) -> None:
    ran = tugtest("review", str(logs), "--anonymous")
    assert not [word for word in ("Marsh", "Fen", "Heron", "heron", "tern") if word in ran.out]
    assert "log 001" in ran.out


def test_lines_can_be_searched_and_filtered(tugtest: Tugtest, logs: Path) -> None:
    assert numbered(tugtest("review", str(logs), "--search", "d. fen").out) == ["marsh-tern-mended.toml"]
    assert numbered(tugtest("review", str(logs), "--show", "not to be trusted").out) == ["grey-heron-altered.toml"]


def test_a_mark_and_a_note_go_to_their_own_file_and_come_back(tugtest: Tugtest, logs: Path) -> None:
    before = digests(logs)
    ran = tugtest("review", str(logs), "--mark", "grey-heron-clean.toml", "87.5", "well tugged", "--by", "L. Heath")
    assert ran.status == 0
    mark = read_marks(logs)["grey-heron-clean.toml"]
    assert (mark.mark, mark.note, mark.by) == (87.5, "well tugged", "L. Heath")
    assert "given: mark 87.5: well tugged" in tugtest("review", str(logs)).out
    assert digests(logs) == before


def test_the_same_log_handed_in_twice_is_said_to_be_like_the_other(tugtest: Tugtest, logs: Path) -> None:
    shutil.copy(logs / "grey-heron-clean.toml", logs / "mine.toml")
    ran = tugtest("review", str(logs), "--show", "like another")
    assert numbered(ran.out) == ["grey-heron-clean.toml", "mine.toml"]
    assert "look at: the same log as mine.toml, entry for entry" in ran.out


def test_clean_logs_are_accepted_in_bulk_and_no_other(tugtest: Tugtest, logs: Path) -> None:
    told = tugtest("review", str(logs), "--accept-clean").out.splitlines()
    assert told[:2] == ["accepted: grey-heron-clean.toml", "accepted: marsh-tern-mended.toml"]
    assert sorted(read_marks(logs)) == ["grey-heron-clean.toml", "marsh-tern-mended.toml"]


def test_a_mark_on_a_log_that_changed_since_says_so(tugtest: Tugtest, logs: Path) -> None:
    tugtest("review", str(logs), "--mark", "grey-heron-clean.toml", "90", "")
    shutil.copy(sober(MENDED), logs / "grey-heron-clean.toml")
    assert "mark 90, but the log has changed since" in tugtest("review", str(logs)).out


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("--mark", "none.toml", "5", ""), "there is no log none.toml"),
        (("--mark", LOGS[0], "good", ""), '"good" is no mark; a number such as 87.5 would be right'),
        (("--history", "Reed Wren"), 'there is no log of "Reed Wren"; there are Grey Heron, Marsh Tern'),
        (("--rules", "local"), 'there is no rule profile "local"; there are federal, house, industry'),
    ],
)
def test_what_cannot_be_done_is_said_in_a_sentence(
    tugtest: Tugtest, logs: Path, words: tuple[str, ...], sentence: str
) -> None:
    ran = tugtest("review", str(logs), *words)
    assert ran.status == 2
    assert sentence in ran.err


def test_marks_that_cannot_be_read_are_said_and_left_alone(tugtest: Tugtest, logs: Path) -> None:
    (logs / FILE).write_text("mark = [")
    ran = tugtest("review", str(logs))
    assert (ran.status, f"none can be given: {FILE}: " in ran.err) == (2, True)
    assert (logs / FILE).read_text() == "mark = ["


def test_the_history_of_a_boat_says_what_the_swap_changed(tugtest: Tugtest, logs: Path) -> None:
    ran = tugtest("review", str(logs), "--history", "marsh tern")
    assert ran.out.startswith("Marsh Tern: 1 session\n")
    assert "receptacle: 30.0 A (fail) before, 60.0 A (pass) after" in ran.out


def test_a_cohort_is_told_procedure_by_procedure(tugtest: Tugtest, logs: Path) -> None:
    ran = tugtest("review", str(logs), "--cohort")
    assert ran.out.startswith(f"bow-receptacle, revision {REVISION}: 3 logs\n")
    assert "No two logs are equal beyond chance." in ran.out


def test_the_lines_as_json_have_the_columns_of_the_export(tugtest: Tugtest, logs: Path) -> None:
    told = json.loads(tugtest("review", str(logs), "--json").out)
    assert [row["log"] for row in told] == ["grey-heron-altered.toml", *sorted(LOGS)[1:]]
    assert (told[1]["mark"], told[1]["proposed"]) == (None, 100.0)


def test_a_page_is_written_and_has_the_status_of_its_log(tugtest: Tugtest, logs: Path, tmp_path: Path) -> None:
    target = tmp_path / "page.html"
    assert tugtest("page", str(logs / "grey-heron-clean.toml"), "-o", str(target)).status == 0
    assert "Grey Heron" in target.read_text(encoding="utf-8")
    assert tugtest("page", str(logs / "grey-heron-altered.toml"), "-o", str(target)).status == 2
    assert "This file is not to be trusted" in target.read_text(encoding="utf-8")


def test_a_page_takes_the_place_of_an_earlier_page_alone(tugtest: Tugtest, logs: Path, tmp_path: Path) -> None:
    log, before = logs / LOGS[0], digests(logs)
    mine = tmp_path / "mine.html"
    mine.write_text("<!DOCTYPE html><p>written by hand")
    (tmp_path / "dangling.html").symlink_to(tmp_path / "elsewhere")
    for target in (log, logs / LOGS[2], mine, tmp_path, tmp_path / "dangling.html"):
        ran = tugtest("page", str(log), "-o", str(target))
        assert (ran.status, ran.out) == (2, "")
        assert "name another file" in ran.err
    assert (digests(logs), mine.read_text()) == (before, "<!DOCTYPE html><p>written by hand")
    (tmp_path / "empty.html").touch()
    for target in (tmp_path / "page.html", tmp_path / "page.html", tmp_path / "empty.html"):
        assert tugtest("page", str(log), "-o", str(target)).status == 0


def test_pages_of_a_folder_go_round_what_is_in_their_place(tugtest: Tugtest, logs: Path, tmp_path: Path) -> None:
    target = tmp_path / "pages"
    target.mkdir()
    (target / "grey-heron-clean.html").write_text("by hand")
    ran = tugtest("page", str(logs), "-o", str(target))
    assert (ran.status, (target / "grey-heron-clean.html").read_text()) == (2, "by hand")
    assert "grey-heron-clean.html is there, and this program did not write it" in ran.err
    assert "Marsh Tern" in (target / "marsh-tern-mended.html").read_text(encoding="utf-8")
    assert (target / "index.html").exists()


def test_a_page_that_cannot_be_written_leaves_the_earlier_one_and_nothing_else(tmp_path: Path) -> None:
    def broken() -> Iterator[str]:
        yield "half of it"
        raise OSError(28, "No space left on device")

    page = tmp_path / "page.html"
    page.write_text("as it was")
    with pytest.raises(OSError, match="No space"):
        put(page, broken(), b"as it")
    assert [(p.name, p.read_text()) for p in tmp_path.iterdir()] == [("page.html", "as it was")]


def test_a_log_called_index_does_not_take_the_place_of_the_index(tugtest: Tugtest, logs: Path, tmp_path: Path) -> None:
    (logs / LOGS[0]).rename(logs / "index.toml")
    tugtest("page", str(logs), "-o", str(tmp_path / "pages"))
    assert 'href="index-log.html"' in (tmp_path / "pages" / "index.html").read_text(encoding="utf-8")


def test_a_folder_becomes_pages_with_an_index_that_links_them(tugtest: Tugtest, logs: Path, tmp_path: Path) -> None:
    target = tmp_path / "pages"
    assert tugtest("page", str(logs), "-o", str(target)).status == 2
    told = (target / "index.html").read_text(encoding="utf-8")
    assert all(
        f'href="{Path(name).stem}.html"' in told and (target / f"{Path(name).stem}.html").exists() for name in LOGS
    )


def test_an_export_of_logs_is_csv_on_the_screen(tugtest: Tugtest, logs: Path) -> None:
    rows = list(csv.DictReader(io.StringIO(tugtest("export", str(logs)).out)))
    assert [(row["log"], row["chain"]) for row in rows] == [
        ("grey-heron-altered.toml", "altered"), ("grey-heron-clean.toml", "whole"), ("marsh-tern-mended.toml", "whole"),
    ]  # fmt: skip


def test_an_export_of_logs_has_the_mark_that_the_rubric_proposes(tugtest: Tugtest, logs: Path) -> None:
    rows = csv.DictReader(io.StringIO(tugtest("export", str(logs)).out))
    assert [row["proposed"] for row in rows] == ["", "100.0", "100.0"]


def test_an_export_has_the_mark_that_was_given_with_who_and_why(tugtest: Tugtest, logs: Path) -> None:
    tugtest("review", str(logs), "--mark", LOGS[0], "40", "too quick", "--by", "L. Heath")
    tugtest("review", str(logs), "--mark", LOGS[2], "0", "")
    told = [json.loads(line) for line in tugtest("export", str(logs), "--form", "jsonl").out.splitlines()]
    assert [(row["mark"], row["proposed"], row["note"], row["marked_by"], row["mark_fits"]) for row in told] == [
        (None, None, "", "", None), (40.0, 100.0, "too quick", "L. Heath", True), (0.0, 100.0, "", "", True),
    ]  # fmt: skip
    one = json.loads(tugtest("export", str(logs / LOGS[0]), "--form", "jsonl").out)
    assert (one["log"], one["mark"]) == (LOGS[0], 40.0)


def test_an_anonymous_export_names_nobody_who_marked(tugtest: Tugtest, logs: Path) -> None:
    tugtest("review", str(logs), "--mark", LOGS[0], "40", "", "--by", "L. Heath")
    assert "Heath" not in tugtest("export", str(logs), "--anonymous").out


@pytest.mark.parametrize("kind", ["logs", "readings"])
def test_an_export_without_names_has_none(tugtest: Tugtest, logs: Path, kind: str) -> None:
    out = tugtest("export", str(logs), "--rows", kind, "--anonymous").out
    assert not [word for word in ("R. Marsh", "Fen", "Heron", "heron", "tern") if word in out]


def test_an_export_to_a_file_takes_its_form_from_the_ending(tugtest: Tugtest, logs: Path, tmp_path: Path) -> None:
    target = tmp_path / "readings.jsonl"
    ran = tugtest("export", str(logs / LOGS[0]), "--rows", "readings", "-o", str(target))
    assert ran.status == 0
    rows = [json.loads(line) for line in target.read_text().splitlines()]
    assert len([row for row in rows if row["state"] != "computed"]) == GIVEN


def test_an_export_file_has_the_line_ends_of_csv(tugtest: Tugtest, logs: Path, tmp_path: Path) -> None:
    """RFC 4180, section 2."""
    tugtest("export", str(logs), "-o", str(tmp_path / "logs.csv"))
    assert (tmp_path / "logs.csv").read_bytes().count(b"\r\n") == 4


def test_the_columns_are_told_with_their_units(tugtest: Tugtest) -> None:
    ran = tugtest("export", "--columns", "--rows", "readings")
    assert ran.status == 0
    assert "when it was entered [ISO 8601, UTC]" in ran.out


def test_an_export_of_nothing_is_refused(tugtest: Tugtest) -> None:
    assert tugtest("export").status == 2


def test_the_audit_of_a_log_under_another_text_has_status_one(tugtest: Tugtest, tmp_path: Path) -> None:
    (tmp_path / "mine.toml").write_bytes(weakened())
    ran = tugtest("audit", str(tmp_path / "mine.toml"))
    assert (ran.status, "is not the text that is shipped" in ran.out) == (1, True)


def test_an_export_never_writes_over_a_log(tugtest: Tugtest, logs: Path) -> None:
    before = digests(logs)
    for target in (logs / LOGS[0], logs / LOGS[2]):
        ran = tugtest("export", str(logs / LOGS[0]), "-o", str(target))
        assert ran.status == 2
        assert "no export ends in .toml; the endings are .csv, .jsonl" in ran.err
        ran = tugtest("export", str(logs / LOGS[0]), "--form", "csv", "-o", str(target))
        assert (ran.status, "this program did not write it; name another file" in ran.err) == (2, True)
    assert digests(logs) == before


@pytest.mark.parametrize("kind", ["logs", "readings"])
@pytest.mark.parametrize("ending", ["csv", "jsonl"])
def test_an_export_takes_the_place_of_an_earlier_one_alone(
    tugtest: Tugtest, logs: Path, tmp_path: Path, kind: str, ending: str
) -> None:
    target = tmp_path / f"out.{ending}"
    for _ in range(2):
        assert tugtest("export", str(logs / LOGS[0]), "--rows", kind, "-o", str(target)).status == 0
    target.write_text("log;mine\n")
    ran = tugtest("export", str(logs / LOGS[0]), "--rows", kind, "-o", str(target))
    assert (ran.status, target.read_text()) == (2, "log;mine\n")


def test_readings_name_person_and_boat_and_what_was_computed(tugtest: Tugtest, logs: Path) -> None:
    out = tugtest("export", str(logs), "--rows", "readings", "--form", "jsonl").out
    rows = [json.loads(line) for line in out.splitlines()]
    drop = next(r for r in rows if r["log"] == LOGS[0] and r["entry"] == "drop_v" and r["step"] == "load-test")
    assert (drop["person"], drop["asset"], drop["state"], drop["verdict"]) == (
        "R. Marsh", "Grey Heron", "computed", "pass",
    )  # fmt: skip
    bank, load = (next(r["value"] for r in rows if r["log"] == LOGS[0] and r["entry"] == name)
                  for name in ("v_bank_load", "v_receptacle_load"))  # fmt: skip
    assert drop["value"] == pytest.approx(bank - load)
    assert [r["why"] for r in rows if r["replaced"]]
    assert all(r["why"] for r in rows if r["replaced"] and r["log"] == LOGS[2])
    lost = [r for r in rows if r["log"] == LOGS[1]]
    assert [(r["state"], r["reason"][:7]) for r in lost if r["state"] == "unreadable"] in (
        [],
        [("unreadable", "altered")],
    )


@pytest.mark.parametrize(
    "words", [("review", "none"), ("export", "none"), ("due", "none"), ("due", "--folder", "none")]
)
def test_a_folder_that_is_not_there_is_said_and_not_called_good(tugtest: Tugtest, words: tuple[str, ...]) -> None:
    ran = tugtest(*words)
    assert (ran.status, ran.out) == (2, "")
    assert "none: there is no such" in ran.err


@pytest.mark.skipif(os.name != "posix", reason="there are no such pipes")
@pytest.mark.parametrize("kind", ["pipe", "device"])
def test_marks_that_never_end_cost_the_marks_and_not_the_review(tugtest: Tugtest, logs: Path, kind: str) -> None:
    if kind == "pipe":
        os.mkfifo(logs / FILE)
    else:
        (logs / FILE).symlink_to("/dev/zero")
    ran = tugtest("review", str(logs))
    assert (ran.status, sorted(numbered(ran.out))) == (2, sorted((*LOGS, FILE)))
    assert f"No mark is shown, and none can be given: {FILE}: it is a folder, pipe or device" in ran.err
    assert tugtest("review", str(logs), "--accept-clean").status == 2


def test_the_command_knows_the_orders_and_filters_of_the_table() -> None:
    assert (tuple(SORTS), SHOWS) == (command.SORTS, command.FILTERS)


def test_a_log_that_is_open_says_why_it_is_looked_at(tugtest: Tugtest, logs: Path) -> None:
    whole = (logs / "grey-heron-clean.toml").read_bytes()
    for name in LOGS:
        (logs / name).unlink()
    (logs / "open.toml").write_bytes(whole[: whole.index(b"\n[[event]]", len(whole) * 6 // 10) + 1])
    ran = tugtest("review", str(logs))
    assert re.search(r"look at: open; \d of 7 holds opened; \d left to do", ran.out)
