"""What lies beside logs is told by what it holds; no name and no damage makes a log pass for it."""

import shutil
from pathlib import Path

import pytest

from engine.review.rubric import SHIPPED
from engine.session.beside import lies_beside
from engine.session.folder import logs_in
from engine.shipped import folder

CLEAN = folder("sample_sessions") / "grey-heron-clean.toml"
ANSWERS = folder("sample_sessions") / "grey-heron-clean.answers.toml"

RIG = b"""schema = 1
title = "Rig 3"
[[value]]
entry = "v_bank"
is = "25.4 V"
within = "0.2 V"
"""


def as_file(at: Path, data: bytes) -> Path:
    path = at / "paper.toml"
    path.write_bytes(data)
    return path


@pytest.mark.parametrize(
    "data",
    [
        RIG, b'schema = 1\n[[planted]]\nsays = "screw 2"\nsteps = ["a"]\n', SHIPPED.read_bytes(),
        RIG + b"[[value]]\nis = 3\n",
    ],
    ids=["rig", "faults", "rubric", "rig with a fault"],
)  # fmt: skip
def test_a_rig_and_a_rubric_lie_beside(tmp_path: Path, data: bytes) -> None:
    assert lies_beside(as_file(tmp_path, data))


@pytest.mark.parametrize(
    "data",
    [
        b"", b"\0" * 4096, b"schema = 1\n", b"hello = 1\n", RIG[:-12], RIG + b"note = 1\n[other]\n", b"\xff" + RIG,
        b"\n[[event]]\n" + RIG, RIG + b"\n[[event]]\nn = 3\n", RIG + b'digest = "00"\n',
        b"# Tugtest session log\n" + RIG, b"[session]\nformat = 2\n" + RIG, b"\r\n[session]\r\n" + RIG, b"[" * 100_000,
    ],
    ids=range(14),
)  # fmt: skip
def test_what_may_have_been_a_log_does_not(tmp_path: Path, data: bytes) -> None:
    assert not lies_beside(as_file(tmp_path, data))


def test_no_cut_of_a_log_and_none_with_a_part_of_a_rig_over_it_lies_beside(tmp_path: Path) -> None:
    whole = CLEAN.read_bytes()
    for at in range(0, len(whole), len(whole) // 40):
        for damaged in (whole[:at], whole[at:], RIG + whole[at:], whole[: at + 1] + RIG):
            assert not lies_beside(as_file(tmp_path, damaged)), at


def test_a_folder_or_nothing_does_not_lie_beside(tmp_path: Path) -> None:
    assert not lies_beside(tmp_path)
    assert not lies_beside(tmp_path / "gone.toml")


@pytest.mark.parametrize("name", ["boat.answers.toml", "review-marks.toml", "heads.toml"])
def test_a_log_is_listed_under_any_name(tmp_path: Path, name: str) -> None:
    shutil.copy(CLEAN, tmp_path / name)
    shutil.copy(ANSWERS, tmp_path / "plan.answers.toml")
    assert [path.name for path in logs_in(tmp_path)] == [name]


def test_of_the_shipped_samples_only_the_logs_are_listed() -> None:
    listed = [path.stem for path in logs_in(folder("sample_sessions"))]
    assert listed == ["grey-heron-altered", "grey-heron-clean", "sanderling-fault"]
