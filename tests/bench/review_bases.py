"""What the review of many logs is measured against: parsing alone, a plain loop, what bare work gains, memory.

A plain loop is the audit of one log as ``tugtest audit LOG`` does it, for one file after the other in one process that
is already warm: nothing that was read or worked out for one log is kept for the next, so that each reads its own
procedure. The start of the program, which a shell's loop would pay for each log, is not counted.
"""

import os
import threading
import time
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from typing import Any, Self

import tomli

from engine.plan import plan
from engine.procedure.load import read_logged
from engine.review import audit as auditing
from engine.review import replay
from engine.review.audit import audit, audit_file
from engine.review.row import row_of
from engine.session import simple_lines

COUNTED = 20_000_000
"""Numbers added up by work without any data [count]."""

TOGETHER = 10
"""Logs parsed, then as many others audited, in turn [count]."""


def timed(work: Callable[[], Any]) -> tuple[float, Any]:
    """Return how long something took [s], and what came of it."""
    start = time.perf_counter()
    done = work()
    return time.perf_counter() - start, done


def forget() -> None:
    """Forget everything that was kept from one log for the next."""
    auditing.procedure_of.cache_clear()
    read_logged.cache_clear()
    simple_lines.raw_text.cache_clear()
    replay._READ.clear()
    plan._LAST.clear()


def one_by_one(paths: list[Path]) -> tuple[float, float]:
    """Return the times of parsing the TOML of a log and of auditing it [s], in turn, each log audited once only.

    No log is audited twice: what is kept from one to the next helps as much as it does in a folder, and no more.
    """
    logs = [data for data in (path.read_bytes() for path in paths) if data.endswith(b"\n\n")]
    forget()
    audit(logs.pop(), "the procedure is read")
    parsing = working = 0.0
    for at in range(0, len(logs), TOGETHER):
        some = logs[at : at + TOGETHER]
        parsing += timed(lambda some=some: [tomli.loads(data.decode()) for data in some])[0]
        working += timed(lambda some=some: [audit(data, "x") for data in some])[0]
    return parsing / len(logs), working / len(logs)


def plain_loop(paths: list[Path]) -> float:
    """Return the time of one log in a plain loop [s]."""
    row_of(audit_file(paths[0]))
    took = 0.0
    for path in paths:
        forget()
        took += timed(lambda path=path: row_of(audit_file(path)))[0]
    return took / len(paths)


def bare_gain() -> float:
    """Return how much faster all cores count than one process does, on this machine, with what else it has to do."""
    jobs = os.cpu_count() or 1
    with ProcessPoolExecutor(jobs) as pool:
        list(pool.map(_count, [1] * jobs))
        alone, _ = timed(lambda: [_count(COUNTED) for _ in range(jobs)])
        both, _ = timed(lambda: list(pool.map(_count, [COUNTED] * jobs)))
    return alone / both


class Memory:
    """Watches the resident memory of this process and of those under it, twenty times a second [MB]."""

    def __init__(self) -> None:
        self.own_mb = 0.0
        self.worker_mb = 0.0
        self._stop = threading.Event()
        self._watch = threading.Thread(target=self._look, daemon=True)

    def __enter__(self) -> Self:
        self._watch.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._stop.set()
        self._watch.join()

    def _look(self) -> None:
        while not self._stop.wait(0.05):
            own = os.getpid()
            self.own_mb = max(self.own_mb, _resident_mb(own))
            self.worker_mb = max([self.worker_mb, *(_resident_mb(pid) for pid in _under(own))])


def _under(pid: int) -> list[int]:
    found = list[int]()
    for listed in Path(f"/proc/{pid}/task").glob("*/children"):
        try:
            for child in map(int, listed.read_text(encoding="ascii").split()):
                found += [child, *_under(child)]
        except OSError:
            continue  # it ended meanwhile
    return found


def _resident_mb(pid: int) -> float:
    try:
        pages = Path(f"/proc/{pid}/statm").read_text(encoding="ascii").split()[1]
    except (OSError, IndexError):
        return 0.0
    return int(pages) * os.sysconf("SC_PAGE_SIZE") / 1024 / 1024


def _count(to: int) -> int:
    return sum(number & 7 for number in range(to))
