"""Audits a folder of logs on all cores; what the index knows is not audited again; it can be stopped."""

import os
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import Executor, Future, ProcessPoolExecutor, ThreadPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass, replace
from hashlib import sha256
from itertools import chain, islice
from pathlib import Path

from engine.review.audit import audit_scan
from engine.review.goes_on import with_goes_on
from engine.review.index import Index, Seen
from engine.review.kept import HEAD_DIGITS, Packed, files_from, keep, pack, row_from
from engine.review.row import LogRow
from engine.review.spared import spared
from engine.review.workers import context
from engine.session.attach import check_files
from engine.session.beside import lies_beside
from engine.session.folder import logs_in
from engine.session.scan import not_a_log, read_plain_file, says, scan, short_head
from engine.session.state import State

CHUNK = 16
"""Logs that a worker gets at once."""

HANDFUL = 256
"""Logs that the index is asked about at once."""

WORTH = 48
"""From this many logs on, more than one process is worth its start."""

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


def look(
    folder: Path,
    index: Index,
    *,
    only: str = "",
    jobs: int = 0,
    workers: Executor | None = None,
    progress: Callable[[int, int], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> Look:
    """Return one line for each log of a folder.

    Args:
        folder: The folder.
        index: What is known already; it learns what is audited.
        only: The name of the one file to look at; all logs of the folder if empty.
        jobs: Processes [count]; one for each core if 0.
        workers: Who audits instead of processes here; they are sent the bytes of the logs.
        progress: Is told how many logs are done, of how many.
        stop: Is asked between logs; True ends the look with what is there.

    Raises:
        OSError: if the folder cannot be read.
    """
    paths = [folder.resolve() / only] if only else logs_in(folder.resolve())
    found: dict[Path, LogRow] = {}
    told = _Telling(len(paths), progress, stop)
    jobs, audited = jobs or os.cpu_count() or 1, 0
    unknown = _unknown(paths, index, found, told, jobs)
    for batch in _sent(unknown, workers, told) if workers else _audited(unknown, jobs, told):
        index.keep([done for _, done in batch if not done.doubted])
        index.see({path: Seen(p.sha256, p.head, p.events, p.heads) for path, p in batch if not p.doubted})
        found |= {path: _with_files(path, row_from(p.row), files_from(p.files)) for path, p in batch}
        audited += len(batch)
    rows = with_goes_on(folder, tuple(found[path] for path in paths if path in found and _is_line(path, found[path])))
    return Look(rows, audited, len(found) - audited, stopped=told.stopped)


def _unknown(paths: list[Path], index: Index, found: dict[Path, LogRow], told: "_Telling", jobs: int) -> Iterator[Job]:
    """Fill ``found`` with what the index knows, and yield the rest, with what was seen of each file before."""
    with ThreadPoolExecutor(jobs) as threads:
        for at in range(0, len(paths), HANDFUL):
            if told.asked_to_stop():
                break
            some = paths[at : at + HANDFUL]
            left = _unknown_of(_digests(some, threads, jobs), index, found)
            if len(left) < len(some):
                told.more(len(some) - len(left))
            yield from left


def _unknown_of(digests: dict[Path, str], index: Index, found: dict[Path, LogRow]) -> list[Job]:
    """Do the same for a handful of files."""
    known, seen = index.known(digests), index.seen(digests)
    fresh: dict[Path, Seen] = {}
    left: list[Job] = []
    for path, digest in digests.items():
        here, before = known.get(path), seen.get(str(path))
        if here is None or (before is not None and before[0] != digest):
            left.append((path, before))
            continue
        found[path] = _with_files(path, here.row, here.files)
        if before is None:
            fresh[path] = Seen(digest, here.head, here.row.events, here.heads)
    index.see(fresh)
    return left


def _digests(paths: list[Path], threads: Executor, jobs: int) -> dict[Path, str]:
    """Return the digest of each file; reading and hashing let other threads go on meanwhile."""
    share = -(-len(paths) // jobs)
    parts = [paths[at : at + share] for at in range(0, len(paths), share)]
    listed = threads.map(lambda part: [_digest(path) for path in part], parts)
    return dict(zip(paths, chain.from_iterable(listed), strict=True))


def _audited(unknown: Iterator[Job], jobs: int, told: "_Telling") -> Iterator[list[tuple[Path, Packed]]]:
    first = list(islice(unknown, WORTH))
    left = _chunks(chain(first, unknown))
    if jobs < 2 or len(first) < WORTH:
        yield from _alone(left, told)
        return
    waiting: deque[tuple[Future[list[Packed]], list[Job]]] = deque()
    with ProcessPoolExecutor(jobs, mp_context=context()) as pool:
        try:
            while not told.asked_to_stop():
                for chunk in islice(left, 3 * jobs - len(waiting)):
                    waiting.append((_submitted(pool, chunk), chunk))
                if not waiting:
                    break
                done, chunk = waiting[0]
                kept = done.result()
                waiting.popleft()
                told.more(len(chunk))
                yield _beside(chunk, kept)
        except BrokenProcessPool:
            yield from _alone(chain([chunk for _, chunk in waiting], left), told)
        finally:
            pool.shutdown(wait=True, cancel_futures=True)


def _submitted(pool: Executor, chunk: list[Job]) -> Future[list[Packed]]:
    """Hand a chunk to the workers; if they are gone already, its result says so."""
    try:
        return pool.submit(audit_chunk, chunk)
    except BrokenProcessPool as gone:
        failed: Future[list[Packed]] = Future()
        failed.set_exception(gone)
        return failed


def _chunks(jobs: Iterator[Job]) -> Iterator[list[Job]]:
    return iter(lambda: list(islice(jobs, CHUNK)), [])


def _sent(unknown: Iterator[Job], workers: Executor, told: "_Telling") -> Iterator[list[tuple[Path, Packed]]]:
    """Have logs audited elsewhere; what does not come back is audited here."""
    left = _chunks(unknown)
    waiting: deque[tuple[Future[list[Packed]], list[Job]]] = deque()
    while not told.asked_to_stop():
        for chunk in islice(left, AHEAD - len(waiting)):
            waiting.append((workers.submit(audit_sent, [_letter(job) for job in chunk]), chunk))
        if not waiting:
            break
        done, chunk = waiting.popleft()
        try:
            kept = done.result()
        except Exception:  # whatever happened over there: the logs are here
            kept = audit_chunk(chunk)
        told.more(len(chunk))
        yield _beside(chunk, kept)
    for done, _ in waiting:
        done.cancel()


def _alone(chunks: Iterable[list[Job]], told: "_Telling") -> Iterator[list[tuple[Path, Packed]]]:
    for chunk in chunks:
        done: list[tuple[Path, Packed]] = []
        for path, seen in chunk:
            if told.asked_to_stop():
                break
            done.append((path, audit_one(path, seen)))
            told.more(1)
        yield done
        if told.stopped:
            return


def audit_chunk(chunk: Sequence[Job]) -> list[Packed]:
    """Return what is kept of some logs; runs in a worker process."""
    return [audit_one(path, seen) for path, seen in chunk]


def audit_one(path: Path, seen: Seen | None = None) -> Packed:
    """Return what is kept of one log, with a word if it is not the log that was seen before."""
    return audit_letter(_letter((path, seen)))


def audit_sent(letters: Sequence[Letter]) -> list[Packed]:
    """Return what is kept of some logs from their bytes; runs anywhere."""
    return [audit_letter(letter) for letter in letters]


def audit_letter(letter: Letter) -> Packed:
    """Return what is kept of one log, from its bytes alone."""
    name, data, seen = letter
    if isinstance(data, str):
        return pack(keep(audit_scan(not_a_log(data), name), ""))
    found, digest = scan(data), sha256(data).hexdigest()
    kept, why = spared(lambda: keep(audit_scan(found, name), digest))
    kept = kept or keep(audit_scan(not_a_log(f"it cannot be looked at: {why}"), name), digest)
    return pack(replace(kept, row=_with_before(kept.row, found.heads, seen)), found.heads)


def _letter(job: Job) -> Letter:
    path, seen = job
    try:
        return path.name, read_plain_file(path), seen
    except (OSError, ValueError) as problem:
        reason = says(problem) if isinstance(problem, OSError) else "no file has such a name"
        return path.name, f"it cannot be read: {reason}", seen


def _with_before(row: LogRow, heads: list[str], seen: Seen | None) -> LogRow:
    """Return the line with a word if the file is not what was seen before: less of the same chain, or another."""
    if seen is None or not seen.head or (len(heads) > seen.events and heads[seen.events] == seen.head):
        return row
    had = f"that one had {seen.events} events and the head {short_head(seen.head)}"
    last, kept = len(heads) - 1, [seen.heads[at : at + HEAD_DIGITS] for at in range(0, len(seen.heads), HEAD_DIGITS)]
    if 0 <= last < len(kept) and heads[last].startswith(kept[last]):
        return replace(row, earlier=f"an earlier copy of the log that was looked at before: {had}")
    return replace(row, rebuilt=f"not the log that was looked at before: {had}", trusted=False)


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


def _is_line(path: Path, row: LogRow) -> bool:
    """Return whether a file has a line: a reviewer's own paper has none, unless it stands where a log was seen."""
    return row.chain != "not a log" or bool(row.rebuilt) or not lies_beside(path)


def _beside(chunk: list[Job], kept: list[Packed]) -> list[tuple[Path, Packed]]:
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
