"""Measures the review of many logs against its bases: ``python tests/bench/bench_review.py [COUNT [FOLDER]]``.

Makes COUNT logs (10,000 is the full size; 2,000 if left out) with planted faults, and a tenth of it as whole jobs for
the likeness. Held to a limit are ratios and counts; plain times are only shown.
"""

import os
import random
import resource
import sys
import tempfile
import time
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

import tomli

from engine.review.alike import MOST, with_likeness
from engine.review.audit import audit
from engine.review.folder import look
from engine.review.index import Index
from engine.review.row import LogRow
from tests.bench.review_logs import Planted, make, rebuilt

MOST_PARSING = 3.0
"""Most time of an audit over merely parsing the TOML [no unit]; a project goal."""

LEAST_SHARE = 0.8
"""Least gain of all cores over one process, as a share of what work without any data gains just then [no unit]."""

LEAST_FASTER = 20.0
"""Least gain of a second look at an unchanged folder [no unit]; a project goal."""

COUNTED = 20_000_000

MOST_MEMORY_MB = 200.0
"""Most memory of a process [MB]; a project goal."""


def main() -> int:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 2_000
    with tempfile.TemporaryDirectory() as place:
        folder = Path(sys.argv[2]) if len(sys.argv) > 2 else Path(place) / "logs"
        return max(_many(folder / "short", count, Path(place)), _whole(folder / "whole", max(60, count // 10)))


def _many(folder: Path, count: int, place: Path) -> int:
    took, planted = _timed(lambda: make(folder, count, os.cpu_count() or 1))
    print(f"{count} logs made in {took:.0f} s; cores {os.cpu_count()}")
    parsing, auditing = _one_by_one(folder)
    with Index(place / "one.sqlite") as index:
        alone, _ = _timed(lambda: look(folder, index, jobs=1))
    bare = _bare_gain()
    with Index(place / "two.sqlite") as index:
        both, first = _timed(lambda: look(folder, index))
        second, again = _timed(lambda: look(folder, index))
        _forge(folder, planted)
        _, third = _timed(lambda: look(folder, index))
    forged = {name for name in planted.rebuilt if _by_name(third.rows)[name].rebuilt}
    memory_mb = (
        max(resource.getrusage(who).ru_maxrss for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)) / 1024
    )
    good = [
        _shown("audit over parsing its TOML", auditing / parsing, most=MOST_PARSING),
        _shown("one process over all cores, against what bare work gains", alone / both / bare, least=LEAST_SHARE),
        _shown("first look over second look", both / second, least=LEAST_FASTER),
        _shown("logs audited in the second look", again.audited, most=0),
        _shown(
            "logs audited after some changed, over those changed", third.audited / max(1, len(planted.rebuilt)), most=1
        ),
        _shown("largest memory of a process [MB]", memory_mb, most=MOST_MEMORY_MB),
        *_found(_by_name(first.rows), planted),
        _shown("chains built anew and not found", len(planted.rebuilt - forged), most=0),
    ]
    print(
        f"first look {both:.1f} s, {count / both:.0f} logs/s; second {second:.2f} s; one audit {auditing * 1000:.1f} ms"
    )
    return int(not all(good))


def _one_by_one(folder: Path) -> tuple[float, float]:
    """Return the times of parsing and of auditing one log [s], interleaved, the least of five rounds."""
    logs = [path.read_bytes() for path in sorted(folder.glob("*.toml"))[:100]]
    audit(logs[0], "warm")
    parsing, auditing = [], []
    for _ in range(5):
        parsing.append(_timed(lambda: [tomli.loads(data.decode()) for data in logs if data.endswith(b"\n\n")])[0])
        auditing.append(_timed(lambda: [audit(data, "x") for data in logs if data.endswith(b"\n\n")])[0])
    return min(parsing) / len(logs), min(auditing) / len(logs)


def _bare_gain() -> float:
    """Return how much faster all cores count than one process does, on this machine, with what else it has to do."""
    jobs = os.cpu_count() or 1
    with ProcessPoolExecutor(jobs) as pool:
        list(pool.map(_count, [1] * jobs))
        alone, _ = _timed(lambda: [_count(COUNTED) for _ in range(jobs)])
        both, _ = _timed(lambda: list(pool.map(_count, [COUNTED] * jobs)))
    return alone / both


def _count(to: int) -> int:
    return sum(number & 7 for number in range(to))


def _forge(folder: Path, planted: Planted) -> None:
    for name in planted.rebuilt:
        path = folder / name
        path.write_bytes(rebuilt(path.read_bytes(), random.Random(name)))


def _found(rows: dict[str, LogRow], planted: Planted) -> list[bool]:
    return [
        _shown("torn logs not found", sum(rows[n].chain != "torn" for n in planted.torn), most=0),
        _shown("altered logs not found", sum(rows[n].chain != "altered" for n in planted.altered), most=0),
        _shown("honest logs called altered", sum(not rows[n].trusted for n in planted.honest), most=0),
        _shown("honest logs with a difference", sum(rows[n].differs + rows[n].order for n in planted.honest), most=0),
    ]


def _whole(folder: Path, count: int) -> int:
    planted = make(folder, count, os.cpu_count() or 1, whole=1.0)
    with Index() as index:
        first, looked = _timed(lambda: look(folder, index))
        took, (_, alike) = _timed(lambda: with_likeness(looked.rows, index, MOST))
    named = {frozenset((pair.one, pair.other)) for pair in alike}
    wanted = {frozenset(pair) for pair in planted.alike if not (set(pair) & (planted.torn | planted.altered))}
    print(f"{count} whole jobs, {len(planted.alike)} copied: likeness {took:.2f} s, first look {first:.2f} s")
    good = [
        _shown("copied logs not named", len(wanted - named), most=0),
        _shown("honest pairs named", len(named - {frozenset(pair) for pair in planted.alike}), most=0),
        _shown("likeness over the first audit", took / first, most=1),
    ]
    return int(not all(good))


def _by_name(rows: tuple[LogRow, ...]) -> dict[str, LogRow]:
    return {row.name: row for row in rows}


def _shown(what: str, found: float, *, most: float | None = None, least: float | None = None) -> bool:
    good = (most is None or found <= most) and (least is None or found >= least)
    limit = f"at most {most:g}" if most is not None else f"at least {least:g}"
    print(f"{'  ' if good else 'x '}{what}: {found:.2f} ({limit})")
    return good


def _timed(work: Callable[[], Any]) -> tuple[float, Any]:
    start = time.perf_counter()
    done = work()
    return time.perf_counter() - start, done


if __name__ == "__main__":
    sys.exit(main())
