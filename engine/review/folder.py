"""Audits a folder of logs on all cores; what the index knows is not audited again; it can be stopped."""

import os
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor, Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass, replace
from hashlib import sha256
from multiprocessing import get_all_start_methods, get_context
from pathlib import Path

from engine.review.audit import audit_scan
from engine.review.index import Index
from engine.review.kept import Kept, keep
from engine.review.marks import FILE as MARKS
from engine.review.row import LogRow
from engine.session.attach import check_files
from engine.session.scan import not_a_log, read_plain_file, says, scan, short_head
from engine.session.state import State

CHUNK = 16
"""Logs that a worker gets at once."""

WORTH = 48
"""From this many logs on, more than one process is worth its start."""

Seen = tuple[str, str, int]
"""Digest, whole head and number of events of a file."""

Job = tuple[Path, Seen | None]

Letter = tuple[str, bytes | str, Seen | None]
"""All that an audit needs: name, bytes (or why they cannot be read), and what was seen of the file before."""

AHEAD = 64
"""Chunks that are on their way to workers elsewhere at once."""


@dataclass(frozen=True, slots=True)
class Look:
    """One look at a folder: a line a log, in the order of the names; how many were audited, and were known before."""

    rows: tuple[LogRow, ...]
    audited: int
    known: int
    stopped: bool = False


def logs_in(folder: Path) -> list[Path]:
    """Return the logs of a folder by name: its TOML files, apart from answers and marks.

    Raises:
        OSError: if the folder cannot be read.
    """
    named = (p for p in folder.iterdir() if p.suffix == ".toml" and not p.name.startswith("."))
    return sorted(p for p in named if not p.name.endswith(".answers.toml") and p.name != MARKS)


def look(
    folder: Path,
    index: Index,
    *,
    jobs: int = 0,
    workers: Executor | None = None,
    progress: Callable[[int, int], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> Look:
    """Return one line for each log of a folder.

    Args:
        folder: The folder.
        index: What is known already; it learns what is audited.
        jobs: Processes [count]; one for each core if 0.
        workers: Who audits instead of processes here; they are sent the bytes of the logs.
        progress: Is told how many logs are done, of how many.
        stop: Is asked between logs; True ends the look with what is there.

    Raises:
        OSError: if the folder cannot be read.
    """
    paths = logs_in(folder.resolve())
    found: dict[Path, LogRow] = {}
    told = _Telling(len(paths), progress, stop)
    todo = list(_unknown(paths, index, found, told))
    known = len(found)
    batches = _sent(todo, workers, told) if workers else _audited(todo, jobs or os.cpu_count() or 1, told)
    for batch in batches:
        index.keep([kept for _, kept in batch if not kept.row.rebuilt])
        index.see({path: (k.row.sha256, k.whole_head, k.row.events) for path, k in batch if not k.row.rebuilt})
        found |= {path: _with_files(path, kept.row, kept.files) for path, kept in batch}
    rows = tuple(found[path] for path in paths if path in found)
    return Look(rows, len(found) - known, known, stopped=told.stopped)


def _unknown(paths: list[Path], index: Index, found: dict[Path, LogRow], told: "_Telling") -> Iterator[Job]:
    """Fill ``found`` with what the index knows, and return the rest, with what was seen of each file before."""
    fresh: dict[Path, Seen] = {}
    for path in paths:
        if told.asked_to_stop():
            break
        digest, seen = _digest(path), index.seen(path)
        known = index.known(digest, path.name) if digest else None
        if known is None or (seen is not None and seen[0] != digest):
            yield path, seen
            continue
        found[path] = _with_files(path, known.row, known.files)
        if seen is None:
            fresh[path] = (digest, known.head, known.row.events)
        told.more(1)
    index.see(fresh)


def _audited(todo: list[Job], jobs: int, told: "_Telling") -> Iterator[list[tuple[Path, Kept]]]:
    chunks = [todo[at : at + CHUNK] for at in range(0, len(todo), CHUNK)]
    if jobs < 2 or len(todo) < WORTH:
        yield from _alone(chunks, told)
        return
    method = "forkserver" if "forkserver" in get_all_start_methods() else "spawn"
    waiting: deque[tuple[Future[list[Kept]], list[Job]]] = deque()
    with ProcessPoolExecutor(jobs, mp_context=get_context(method)) as pool:
        left = deque(chunks)
        try:
            while (left or waiting) and not told.asked_to_stop():
                while left and len(waiting) < 3 * jobs:
                    chunk = left.popleft()
                    waiting.append((pool.submit(audit_chunk, chunk), chunk))
                done, chunk = waiting[0]
                kept = done.result()
                waiting.popleft()
                told.more(len(chunk))
                yield _beside(chunk, kept)
        except BrokenProcessPool:
            yield from _alone([*(chunk for _, chunk in waiting), *left], told)
        finally:
            pool.shutdown(wait=True, cancel_futures=True)


def _sent(todo: list[Job], workers: Executor, told: "_Telling") -> Iterator[list[tuple[Path, Kept]]]:
    """Have logs audited elsewhere; what does not come back is audited here."""
    left = deque(todo[at : at + CHUNK] for at in range(0, len(todo), CHUNK))
    waiting: deque[tuple[Future[list[Kept]], list[Job]]] = deque()
    while (left or waiting) and not told.asked_to_stop():
        while left and len(waiting) < AHEAD:
            chunk = left.popleft()
            waiting.append((workers.submit(audit_sent, [_letter(job) for job in chunk]), chunk))
        done, chunk = waiting.popleft()
        try:
            kept = done.result()
        except Exception:  # whatever happened over there: the logs are here
            kept = audit_chunk(chunk)
        told.more(len(chunk))
        yield _beside(chunk, kept)
    for done, _ in waiting:
        done.cancel()


def _alone(chunks: list[list[Job]], told: "_Telling") -> Iterator[list[tuple[Path, Kept]]]:
    for chunk in chunks:
        done: list[tuple[Path, Kept]] = []
        for path, seen in chunk:
            if told.asked_to_stop():
                break
            done.append((path, audit_one(path, seen)))
            told.more(1)
        yield done
        if told.stopped:
            return


def audit_chunk(chunk: Sequence[Job]) -> list[Kept]:
    """Return what is kept of some logs; runs in a worker process."""
    return [audit_one(path, seen) for path, seen in chunk]


def audit_one(path: Path, seen: Seen | None = None) -> Kept:
    """Return what is kept of one log, with a word if it is not the log that was seen before."""
    return audit_letter(_letter((path, seen)))


def audit_sent(letters: Sequence[Letter]) -> list[Kept]:
    """Return what is kept of some logs from their bytes; runs anywhere."""
    return [audit_letter(letter) for letter in letters]


def audit_letter(letter: Letter) -> Kept:
    """Return what is kept of one log, from its bytes alone."""
    name, data, seen = letter
    if isinstance(data, str):
        return keep(audit_scan(not_a_log(data), name), "")
    found = scan(data)
    kept = keep(audit_scan(found, name), sha256(data).hexdigest())
    rebuilt = _rebuilt(found.heads, seen)
    return replace(kept, row=replace(kept.row, rebuilt=rebuilt, trusted=kept.row.trusted and not rebuilt))


def _letter(job: Job) -> Letter:
    path, seen = job
    try:
        return path.name, read_plain_file(path), seen
    except (OSError, ValueError) as problem:
        reason = says(problem) if isinstance(problem, OSError) else "no file has such a name"
        return path.name, f"it cannot be read: {reason}", seen


def _rebuilt(heads: list[str], seen: Seen | None) -> str:
    """Return a sentence if the chain does not go on from the head that was seen before."""
    if seen is None or not seen[1] or (len(heads) > seen[2] and heads[seen[2]] == seen[1]):
        return ""
    return f"not the log that was looked at before: that one had {seen[2]} events and the head {short_head(seen[1])}"


def _digest(path: Path) -> str:
    try:
        return sha256(read_plain_file(path)).hexdigest()
    except (OSError, ValueError):
        return ""


def _with_files(path: Path, row: LogRow, files: tuple[tuple[str, str], ...]) -> LogRow:
    if not files:
        return row
    checks = check_files(path, State(files=[(name, digest, 0) for name, digest in files]))
    return replace(row, files_wrong=sum(1 for check in checks if check.verdict != "whole"))


def _beside(chunk: list[Job], kept: list[Kept]) -> list[tuple[Path, Kept]]:
    return [(path, done) for (path, _), done in zip(chunk, kept, strict=True)]


class _Telling:
    """Counts what is done, tells it, and asks whether to stop."""

    def __init__(
        self, total: int, progress: Callable[[int, int], None] | None, stop: Callable[[], bool] | None
    ) -> None:
        self._total, self._progress, self._stop = total, progress, stop
        self._done = 0
        self.stopped = False

    def more(self, count: int) -> None:
        self._done += count
        if self._progress is not None:
            self._progress(self._done, self._total)

    def asked_to_stop(self) -> bool:
        self.stopped = self.stopped or (self._stop is not None and self._stop())
        return self.stopped
