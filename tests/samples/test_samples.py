"""The shipped sample logs are what the program writes for the answers beside them, and the audit says what each is."""

import importlib.util
import shutil
from pathlib import Path

import pytest

from engine.review.audit import audit, audit_file

TOP = Path(__file__).resolve().parents[2]
SAMPLES = TOP / "sample_sessions"

_spec = importlib.util.spec_from_file_location("remake", Path(__file__).with_name("remake.py"))
assert _spec is not None
assert _spec.loader is not None
remake = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(remake)

ANSWERS = [p for p in sorted(SAMPLES.glob("*.answers.toml")) if p.name.removesuffix(".answers.toml") not in remake.OPEN]


def log_of(answers: Path) -> Path:
    return answers.with_name(answers.name.replace(".answers.toml", ".toml"))


@pytest.mark.parametrize("answers", ANSWERS, ids=lambda p: p.name.removesuffix(".answers.toml"))
def test_each_log_is_byte_for_byte_what_its_answers_give(answers: Path, tmp_path: Path) -> None:
    assert remake.replayed(answers, tmp_path).read_bytes() == log_of(answers).read_bytes()


@pytest.mark.parametrize("answers", ANSWERS, ids=lambda p: p.name.removesuffix(".answers.toml"))
def test_each_log_is_whole_and_every_verdict_comes_out_again(answers: Path) -> None:
    found = audit_file(log_of(answers))
    assert found.chain == "whole"
    assert found.replay is not None
    assert found.replay.problems == []
    assert found.replay.findings > 5


@pytest.mark.parametrize("answers", [p for p in ANSWERS if "-clean" in p.name], ids=lambda p: p.name.split(".")[0])
def test_each_clean_job_closed_clean(answers: Path) -> None:
    found = audit_file(log_of(answers))
    assert found.ended == "closed, clean"
    assert found.exit_status == 0


def test_the_mended_job_failed_its_plan_first_and_was_corrected_before_the_first_cut() -> None:
    found = audit_file(SAMPLES / "marsh-tern-mended.toml")
    assert found.replay is not None
    assert [line.split(", ")[1].split(":")[0] for line in found.replay.corrections] == ["new_breaker", "new_wire"]
    assert found.ended == "closed, clean"


def test_the_altered_job_is_caught_at_the_event_that_was_changed() -> None:
    clean, bad = (SAMPLES / "grey-heron-clean.toml").read_bytes(), (SAMPLES / "grey-heron-altered.toml").read_bytes()
    assert remake.altered(clean) == bad
    before = clean[: clean.index(remake.ALTERED[2])].count(b"\n[[event]]")
    found = audit(bad, "altered")
    assert found.chain == "altered"
    assert f"event {before}" in found.sentence
    assert found.exit_status == 2


def test_an_audit_leaves_the_file_as_it_was(tmp_path: Path) -> None:
    log = Path(shutil.copy(SAMPLES / "grey-heron-clean.toml", tmp_path))
    stood = (log.read_bytes(), log.stat().st_mtime_ns)
    audit_file(log)
    assert (log.read_bytes(), log.stat().st_mtime_ns) == stood
    assert [p.name for p in tmp_path.iterdir()] == [log.name]
