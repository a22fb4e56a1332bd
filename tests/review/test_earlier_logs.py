"""Logs of earlier versions: a record is read, and every verdict comes out again, however the program has changed since.

The folder ``earlier`` keeps clean jobs as earlier versions wrote them, packed with xz. A check may gain inputs and a
procedure may change; an input that a log names, an event and a field stay readable.
"""

import lzma
from pathlib import Path

import pytest

from engine.review.audit import audit

EARLIER = sorted(Path(__file__).with_name("earlier").glob("*.toml.xz"))


@pytest.mark.parametrize("packed", EARLIER, ids=lambda path: path.name.removesuffix(".toml.xz"))
def test_a_log_of_an_earlier_version_is_whole_and_its_verdicts_come_out_again(packed: Path) -> None:
    found = audit(lzma.decompress(packed.read_bytes()), packed.name)
    assert (found.chain, found.ended) == ("whole", "closed, clean")
    assert found.replay is not None
    assert found.replay.findings > 5
    assert found.replay.problems == []


def test_there_are_such_logs_of_every_kind_of_job() -> None:
    assert len(EARLIER) >= 10
