"""Audits on other machines: the same result as alone, with workers that die, and a sentence where there are none."""

import shutil
import sys
from concurrent.futures import Future
from importlib import import_module
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import pytest

from engine.review import folder as folder_room
from engine.review.folder import look
from engine.review.index import Index
from engine.review.scheduler import NoScheduler, workers_at
from tests.review.forging import CLEAN, MENDED
from tests.samples.remake import Sample
from tests.tools import absent


@pytest.fixture
def logs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, sample: Sample) -> Path:
    """Return a folder of nine logs, sent two at a time."""
    monkeypatch.setattr(folder_room, "CHUNK", 2)
    for n in range(8):
        shutil.copy(CLEAN if n % 3 else sample(MENDED), tmp_path / f"log-{n}.toml")
    (tmp_path / "no.toml").mkdir()
    return tmp_path


class Elsewhere:
    """Workers that answer in order, or fail from some letter on."""

    def __init__(self, good: int) -> None:
        self._good = good

    def submit(self, work: Any, *told: Any) -> Future[Any]:
        answer: Future[Any] = Future()
        self._good -= 1
        if self._good >= 0:
            answer.set_result(work(*told))
        else:
            answer.set_exception(RuntimeError("the worker is gone"))
        return answer


@pytest.mark.parametrize("good", [99, 2, 0])
def test_workers_elsewhere_say_the_same_as_one_here_even_if_they_fail(logs: Path, good: int) -> None:
    alone = look(logs, Index(), jobs=1)
    assert look(logs, Index(), workers=Elsewhere(good)).rows == alone.rows  # type: ignore[arg-type]


def test_only_bytes_are_sent_never_a_path(logs: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    sent: list[Any] = []
    workers = Elsewhere(99)
    plain = workers.submit
    monkeypatch.setattr(workers, "submit", lambda work, letters: sent.extend(letters) or plain(work, letters))
    look(logs, Index(), workers=workers)  # type: ignore[arg-type]
    assert len(sent) == 9
    assert all(isinstance(part, str | bytes | None) and str(logs) not in str(part) for one in sent for part in one)


def test_without_the_extra_a_sentence_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(NoScheduler, match=r"pip install '\.\[distributed\]'"), workers_at("tcp://127.0.0.1:9"):
        pass


CLUSTER = pytest.mark.skipif(
    absent("distributed", there=find_spec("distributed") is not None), reason="the extra is not installed"
)


def two_workers() -> Any:
    distributed = import_module("distributed")
    return distributed.LocalCluster(n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None)


@CLUSTER
@pytest.mark.filterwarnings("ignore")
def test_a_cluster_of_two_says_the_same_as_one_here(logs: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    alone = look(logs, Index(), jobs=1)
    monkeypatch.setattr(folder_room, "audit_chunk", None)  # nothing can be audited here
    with two_workers() as cluster, workers_at(cluster.scheduler_address) as workers:
        assert look(logs, Index(), workers=workers).rows == alone.rows


@CLUSTER
@pytest.mark.filterwarnings("ignore")
def test_a_worker_that_is_killed_costs_no_log(logs: Path) -> None:
    alone = look(logs, Index(), jobs=1)
    cluster = two_workers()

    def kill_one(done: int, total: int) -> None:
        if done == 2:
            next(iter(cluster.workers.values())).process.process.kill()

    with cluster, workers_at(cluster.scheduler_address) as workers:
        found = look(logs, Index(), workers=workers, progress=kill_one)
    assert found.rows == alone.rows
