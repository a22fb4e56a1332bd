"""A folder of logs: the same alone, on many processes and from the index; logs are only read; it can be stopped."""

import os
import shutil
import sqlite3
import subprocess
import sys
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from engine import program
from engine.review import folder as folder_room
from engine.review import index as index_room
from engine.review.audit import audit_file
from engine.review.desk import Desk
from engine.review.folder import Look, audit_chunk, look
from engine.review.index import Index
from engine.review.kept import keep, row_from, row_json, values_from, values_json
from engine.review.marks import Mark, write_marks
from engine.review.row import LogRow, digest_of
from engine.review.rubric import SHIPPED, propose, shipped_rubric
from engine.review.values import measured
from engine.session.clock import GivenClock
from engine.session.due import answer
from engine.session.outcome import Recorded
from engine.view.review_lines import cohort_lines
from tests.review.forging import CLEAN, EVENTS, HEAD, MENDED, rebuilt, setting
from tests.review.sober import sober


@pytest.fixture
def logs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a folder with a clean, a mended, a torn and an altered log, and what is no log."""
    monkeypatch.setattr("engine.review.desk.index_path", lambda: tmp_path / "cache.sqlite")
    made = tmp_path / "logs"
    made.mkdir()
    shutil.copy(CLEAN, made / "clean.toml")
    shutil.copy(sober(MENDED), made / "mended.toml")
    (made / "torn.toml").write_bytes(CLEAN.read_bytes()[:-40])
    (made / "altered.toml").write_bytes(CLEAN.read_bytes().replace(b'raw = "24.36"', b'raw = "24.06"'))
    (made / "no.toml").write_text("hello = 1")
    (made / "plan.answers.toml").write_text("")
    (made / "notes.txt").write_text("")
    return made


def looked(folder: Path, index: Index | None = None, **options) -> Look:
    return look(folder, index or Index(), **options)


def by_name(found: Look) -> dict[str, LogRow]:
    return {row.name: row for row in found.rows}


def test_every_log_has_its_line_and_nothing_else_does(logs: Path) -> None:
    chains = {name: row.chain for name, row in by_name(looked(logs)).items()}
    assert chains == {
        "altered.toml": "altered", "clean.toml": "whole", "mended.toml": "whole", "no.toml": "not a log",
        "torn.toml": "torn",
    }  # fmt: skip


def test_the_marks_of_a_folder_are_no_log(logs: Path) -> None:
    write_marks(logs, [Mark("clean.toml", "1", 90.0)])
    assert len(looked(logs).rows) == 5


def test_a_rig_or_a_rubric_of_the_reviewer_has_no_line(logs: Path, tmp_path: Path) -> None:
    (logs / "class.toml").write_bytes(SHIPPED.read_bytes())
    (logs / "rig.toml").write_text('schema = 1\n[[planted]]\nsays = "screw 2 is loose"\nsteps = ["load-test"]\n')
    with Index(tmp_path / "index.sqlite") as index:
        assert [sorted(by_name(looked(logs, index))) for _ in range(2)] == [
            ["altered.toml", "clean.toml", "mended.toml", "no.toml", "torn.toml"]
        ] * 2


def test_a_rig_in_the_place_of_a_log_that_was_seen_is_listed(logs: Path, tmp_path: Path) -> None:
    with Index(tmp_path / "index.sqlite") as index:
        looked(logs, index)
        (logs / "clean.toml").write_text("schema = 1\nvalue = []\n")
        row = by_name(looked(logs, index))["clean.toml"]
    assert (row.chain, row.trusted) == ("not a log", False)
    assert row.rebuilt.startswith("not the log that was looked at before")


def test_what_is_kept_comes_back_from_json_as_it_was() -> None:
    audit = audit_file(sober(MENDED))
    kept = keep(audit, "00")
    assert row_from(row_json(kept.row)) == kept.row
    assert values_from(values_json(kept.values)) == measured(audit)


def test_a_second_look_audits_nothing_and_says_the_same(logs: Path, tmp_path: Path) -> None:
    with Index(tmp_path / "index.sqlite") as index:
        first = looked(logs, index)
    with Index(tmp_path / "index.sqlite") as index:
        second = looked(logs, index)
    assert (first.audited, first.known, second.audited, second.known) == (5, 0, 0, 5)
    assert first.rows == second.rows


def test_only_what_changed_is_audited_again(logs: Path, tmp_path: Path) -> None:
    with Index(tmp_path / "index.sqlite") as index:
        looked(logs, index)
        shutil.copy(sober(MENDED), logs / "torn.toml")
        again = looked(logs, index)
    assert again.audited == 1


def test_a_renamed_log_keeps_its_line_under_its_new_name(logs: Path, tmp_path: Path) -> None:
    with Index(tmp_path / "index.sqlite") as index:
        looked(logs, index)
        (logs / "clean.toml").rename(logs / "tidy.toml")
        again = looked(logs, index)
    assert again.audited == 0
    assert by_name(again)["tidy.toml"].clean


def test_deleting_the_index_loses_nothing(logs: Path, tmp_path: Path) -> None:
    with Index(tmp_path / "index.sqlite") as index:
        first = looked(logs, index)
    (tmp_path / "index.sqlite").unlink()
    with Index(tmp_path / "index.sqlite") as index:
        assert looked(logs, index).rows == first.rows


@pytest.mark.parametrize("damage", [b"not a database at all, whatever it was", b"SQLite format 3\x00" + bytes(100)])
def test_an_index_that_cannot_be_read_is_made_anew(logs: Path, tmp_path: Path, damage: bytes) -> None:
    (tmp_path / "index.sqlite").write_bytes(damage)
    with Index(tmp_path / "index.sqlite") as index:
        looked(logs, index)
    with Index(tmp_path / "index.sqlite") as index:
        assert looked(logs, index).known == 5


def test_lines_kept_in_another_form_are_audited_anew(logs: Path, tmp_path: Path) -> None:
    with Index(tmp_path / "index.sqlite") as index:
        looked(logs, index)
    with sqlite3.connect(tmp_path / "index.sqlite") as db:
        db.execute("update audited set row = '{}'")
    db.close()
    with Index(tmp_path / "index.sqlite") as index:
        assert looked(logs, index).audited == 5


def test_where_no_index_can_be_written_the_look_is_as_good(logs: Path, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with Index(tmp_path / "file" / "index.sqlite") as index:
        assert len(looked(logs, index).rows) == 5


def test_a_chain_built_anew_is_found_where_its_head_was_seen(logs: Path, tmp_path: Path) -> None:
    with Index(tmp_path / "index.sqlite") as index:
        looked(logs, index)
        forged = rebuilt(setting({"raw": "25.40", "number": 25.4}, event="reading", entry="v_bank"))
        (logs / "clean.toml").write_bytes(forged)
        row = by_name(looked(logs, index))["clean.toml"]
    assert row.chain == "whole"
    assert not row.trusted
    assert row.rebuilt.startswith(
        f"not the log that was looked at before: that one had {EVENTS} events and the head {HEAD}"
    )


def test_a_chain_built_anew_stays_found_at_the_next_look(logs: Path, tmp_path: Path) -> None:
    with Index(tmp_path / "index.sqlite") as index:
        looked(logs, index)
        (logs / "clean.toml").write_bytes(rebuilt(setting({"place": "elsewhere"}, event="opened")))
        looked(logs, index)
        assert by_name(looked(logs, index))["clean.toml"].rebuilt


def test_a_log_that_went_on_is_the_same_log(logs: Path, tmp_path: Path) -> None:
    whole = CLEAN.read_bytes()
    shorter = whole[: whole.rindex(b"\n[[event]]") + 1]
    with Index(tmp_path / "index.sqlite") as index:
        (logs / "clean.toml").write_bytes(shorter)
        assert not by_name(looked(logs, index))["clean.toml"].clean
        (logs / "clean.toml").write_bytes(whole)
        row = by_name(looked(logs, index))["clean.toml"]
    assert (row.rebuilt, row.clean) == ("", True)


def test_a_log_put_back_as_it_was_is_an_earlier_copy_and_is_trusted(logs: Path, tmp_path: Path) -> None:
    shorter = CLEAN.read_bytes()
    answered = with_answer(logs / "clean.toml")
    with Index(tmp_path / "index.sqlite") as index:
        looked(logs, index)
        for data in (shorter, shorter[: shorter.rindex(b"\n[[event]]") + 1]):
            (logs / "clean.toml").write_bytes(data)
            row = by_name(looked(logs, index))["clean.toml"]
            assert (row.trusted, row.rebuilt, row.looks_clean) == (True, "", False)
            assert row.earlier.startswith(
                f"an earlier copy of the log that was looked at before: that one had {EVENTS + 1} events and the head "
            )
        (logs / "clean.toml").write_bytes(answered)
        assert by_name(looked(logs, index))["clean.toml"].looks_clean


def with_answer(log: Path) -> bytes:
    """Answer a dated look of a log months later, and return its bytes."""
    log.write_bytes(CLEAN.read_bytes())
    item = next(iter(audit_file(log).state.due))
    outcome = answer(log, item, "all cool", "D. Fen", GivenClock(datetime(2027, 1, 2, tzinfo=UTC)))
    assert isinstance(outcome, Recorded)
    return log.read_bytes()


def test_the_answer_to_a_dated_look_is_no_time_on_the_job_and_is_not_late(logs: Path) -> None:
    before = by_name(looked(logs))["clean.toml"]
    with_answer(logs / "clean.toml")
    after = by_name(looked(logs))["clean.toml"]
    deadline = replace(shipped_rubric(), deadline=datetime(2026, 6, 1, tzinfo=UTC))
    assert after.events == before.events + 1
    assert after.on_task_s == before.on_task_s
    assert propose(after, deadline).mark == 100.0


def test_what_another_program_judged_is_judged_again(
    logs: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with Index(tmp_path / "index.sqlite") as index:
        looked(logs, index)
        monkeypatch.setattr(index_room, "program_digest", lambda: "another")
        assert (looked(logs, index).audited, looked(logs, index).audited) == (5, 0)


def test_any_file_that_decides_a_verdict_makes_another_program(tmp_path: Path) -> None:
    copy = shutil.copytree(Path(program.__file__).parent, tmp_path / "engine", ignore=shutil.ignore_patterns("*.pyc"))
    told = [digest_in(tmp_path)]
    for kind in ("rules/*.py", "published/*.toml", "quantity/*.py", "session/*.py"):
        path = sorted(copy.glob(kind))[-1]
        path.write_bytes(path.read_bytes() + b"\n")
        told.append(digest_in(tmp_path))
    assert len(set(told)) == 5
    assert digest_in(tmp_path) == told[-1]


def digest_in(folder: Path) -> str:
    code = "from engine.program import program_digest; print(program_digest())"
    told = subprocess.run([sys.executable, "-c", code], cwd=folder, capture_output=True, text=True, check=True)
    return told.stdout


BIG = [
    {"number": 1e308}, {"number": 1e18}, {"number": -1e300, "digit": 5e-324}, {"number": 1e308, "raw": "9" * 300},
    {"raw": "10 AWG", "label": "10 AWG"}, {"raw": "", "label": "\x1b[31m"},
]  # fmt: skip


@pytest.mark.parametrize("changed", BIG, ids=str)
@pytest.mark.parametrize("entry", ["run_out", "mv_1"])
def test_a_forged_value_costs_its_own_line_alone(logs: Path, tmp_path: Path, entry: str, changed: dict) -> None:
    for n in range(6):
        shutil.copy(CLEAN, logs / f"honest-{n}.toml")
    (logs / "forged.toml").write_bytes(rebuilt(setting(changed, event="reading", entry=entry)))
    desk = Desk(logs)
    desk.look()
    desk.compare()
    rows = {row.name: row for row in desk.rows}
    assert rows["forged.toml"].differs or not rows["forged.toml"].trusted
    assert [rows[f"honest-{n}.toml"].fails for n in range(6)] == [0] * 6
    assert ": 11 logs" in next(line for cohort in desk.cohorts() for line in list(cohort_lines(cohort)))
    assert {row.log for row in desk.readings()} == set(rows)
    assert list(desk.pages(tmp_path / "pages")) == []
    assert len(list((tmp_path / "pages").iterdir())) == len(rows) + 1


@pytest.fixture
def few(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """Return a folder of seven logs, for which workers are started all the same, two logs each."""
    monkeypatch.setattr(folder_room, "WORTH", 2)
    monkeypatch.setattr(folder_room, "CHUNK", 2)
    for n in range(7):
        shutil.copy(CLEAN if n % 3 else sober(MENDED), tmp_path / f"log-{n}.toml")
    return tmp_path


def test_many_processes_say_the_same_as_one(few: Path) -> None:
    assert looked(few, jobs=2).rows == looked(few, jobs=1).rows


def killed(chunk: list) -> list:
    """Die as a worker that the system kills does, once a little was done."""
    Path(chunk[0][0]).with_suffix(".begun").touch()
    if chunk[0][0].name == "log-2.toml":
        os._exit(9)
    return audit_chunk(chunk)


def test_a_killed_worker_costs_no_log(few: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(folder_room, "audit_chunk", killed)
    found = looked(few, jobs=2)
    assert (few / "log-2.begun").exists()
    assert [row.clean for row in found.rows] == [True] * 7


def test_a_look_can_be_stopped_and_keeps_what_is_done(logs: Path) -> None:
    done: list[int] = []
    found = looked(logs, progress=lambda n, total: done.append(n), stop=lambda: len(done) >= 2)
    assert found.stopped
    assert len(found.rows) == 2


def test_progress_is_told_up_to_the_last_log(logs: Path) -> None:
    told: list[tuple[int, int]] = []
    looked(logs, progress=lambda n, total: told.append((n, total)))
    assert told == [(n, 5) for n in range(1, 6)]


def test_no_log_is_touched_by_a_look(logs: Path) -> None:
    def stands() -> dict[str, tuple[str, int]]:
        return {p.name: (digest_of(p.read_bytes()), p.stat().st_mtime_ns) for p in logs.iterdir()}

    before = stands()
    for path in logs.iterdir():
        path.chmod(0o400)
    looked(logs)
    assert stands() == before


def test_logs_are_opened_for_reading_only(logs: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    flags: list[int] = []
    plain = os.open
    monkeypatch.setattr(os, "open", lambda path, flag, *rest: flags.append(flag) or plain(path, flag, *rest))
    looked(logs)
    assert flags
    assert not any(flag & (os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC) for flag in flags)


def test_a_missing_file_of_a_log_is_found_even_when_the_log_is_known(logs: Path, tmp_path: Path) -> None:
    picture = b"\x89PNG\r\n\x1a\nxx"

    def attach(events: list[dict]) -> list[dict]:
        last = events[-1]
        attached = {"event": "file_attached", "n": 0, "at": last["at"], "mono": last["mono"], "step": "label",
                    "name": "a.png", "sha256": digest_of(picture), "size": len(picture)}  # fmt: skip
        return [*events[:-1], attached, last]

    (logs / "clean.toml").write_bytes(rebuilt(attach))
    (logs / "clean").mkdir()
    (logs / "clean" / "a.png").write_bytes(picture)
    with Index(tmp_path / "index.sqlite") as index:
        assert by_name(looked(logs, index))["clean.toml"].files_wrong == 0
        (logs / "clean" / "a.png").write_bytes(picture + b"!")
        again = looked(logs, index)
    assert (again.audited, by_name(again)["clean.toml"].files_wrong) == (0, 1)


def test_a_folder_that_is_not_there_is_said(tmp_path: Path) -> None:
    with pytest.raises(OSError, match="no such"):
        looked(tmp_path / "no such")
