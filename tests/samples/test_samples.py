"""The samples: what is kept of each is what its answers give now, and the audit says what each is."""

import shutil
import tomllib
from pathlib import Path

import pytest

from engine.review.audit import audit, audit_file
from tests.samples import remake
from tests.samples.remake import Sample

WRITTEN = tomllib.loads(remake.HEADS.read_text(encoding="utf-8"))


def test_every_sample_has_its_head_written_and_nothing_else_has() -> None:
    assert tuple(WRITTEN) == remake.NAMES


@pytest.mark.parametrize("name", remake.NAMES)
def test_playing_gives_the_head_and_the_ending_that_are_written(name: str, sample: Sample) -> None:
    assert remake.told(sample(name)) == WRITTEN[name]


@pytest.mark.parametrize("name", remake.KEPT)
def test_a_log_that_is_kept_is_byte_for_byte_what_its_answers_give(name: str, sample: Sample) -> None:
    assert sample(name).read_bytes() == (remake.SAMPLES / f"{name}.toml").read_bytes()


@pytest.mark.parametrize("name", remake.NAMES)
def test_each_log_is_whole_and_every_verdict_comes_out_again(name: str, sample: Sample) -> None:
    found = audit_file(sample(name))
    assert found.chain == "whole"
    assert found.replay is not None
    assert found.replay.problems == []
    assert found.replay.findings > 5
    assert "-clean" not in name or found.ended == "closed, clean"
    assert {doubt.kind for doubt in found.doubts} <= {"demo", "played", "sample"}


def test_the_mended_job_failed_its_plan_first_and_was_corrected_before_the_first_cut(sample: Sample) -> None:
    found = audit_file(sample("marsh-tern-mended"))
    assert found.replay is not None
    assert [line.split(", ")[1].split(":")[0] for line in found.replay.corrections] == ["new_breaker", "new_wire"]
    assert found.ended == "closed, clean"


def test_the_altered_job_is_caught_at_the_event_that_was_changed() -> None:
    clean, bad = ((remake.SAMPLES / f"{name}.toml").read_bytes() for name in remake.ALTERED[:2])
    assert remake.altered(clean) == bad
    before = clean[: clean.index(remake.ALTERED[2])].count(b"\n[[event]]")
    found = audit(bad, "altered")
    assert found.chain == "altered"
    assert f"event {before}" in found.sentence
    assert found.exit_status == 2


def test_an_audit_leaves_the_file_as_it_was(tmp_path: Path) -> None:
    log = Path(shutil.copy(remake.SAMPLES / "grey-heron-clean.toml", tmp_path))
    stood = (log.read_bytes(), log.stat().st_mtime_ns)
    audit_file(log)
    assert (log.read_bytes(), log.stat().st_mtime_ns) == stood
    assert [p.name for p in tmp_path.iterdir()] == [log.name]
