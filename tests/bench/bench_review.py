"""Measures the review of many logs against its bases: ``python tests/bench/bench_review.py [COUNT [FOLDER]]``.

Makes COUNT logs (10,000 is the full size; 2,000 if left out) with planted faults, and a tenth of it as whole jobs for
the cohort. Held to a limit are ratios and counts of one run; plain times are only shown. In a FOLDER the logs stay, and
a second run with the same COUNT uses them again.
"""

import os
import random
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from engine.review.alike import MOST, values_of, with_likeness
from engine.review.cohort import spreads, step_troubles
from engine.review.folder import Look, look
from engine.review.index import Index
from engine.review.likeness import FALSE_ALARMS
from engine.review.row import LogRow
from tests.bench.review_bases import Memory, bare_gain, one_by_one, plain_loop, timed
from tests.bench.review_logs import Planted, continued, make_once, rebuilt

MOST_PARSING = 3.0
"""Most time of an audit over merely parsing the TOML [no unit]; a project goal."""

LEAST_OVER_PLAIN = 2.0
"""Least gain of a look over a plain loop in one process [no unit]; a project goal."""

LEAST_SHARE = 0.8
"""Least gain of all cores over one process, as a share of what work without any data gains just then [no unit]."""

LEAST_FASTER = 20.0
"""Least gain of a second look at an unchanged folder [no unit]; a project goal."""

MOST_MEMORY_MB = 200.0
"""Most memory of the program, and of each of its workers [MB]; a project goal."""

SAMPLE = 200
"""Logs that the ratio to parsing is told from [count]."""

PLAIN = 60
"""Logs that go through the plain loop [count]."""

CHANGED = 10
"""Logs that go on by an entry between two looks [count]."""


def main() -> int:
    """Measure, print one line for each ratio, and return 0 if all are as they should be."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 2_000
    with tempfile.TemporaryDirectory() as place:
        folder = Path(sys.argv[2]) if len(sys.argv) > 2 else Path(place) / "logs"
        return max(_many(folder / "short", count, Path(place)), _whole(folder / "whole", max(60, count // 10)))


def _many(folder: Path, count: int, place: Path) -> int:
    took, planted = timed(lambda: make_once(folder, count, os.cpu_count() or 1))
    print(f"{count} logs made in {took:.0f} s; cores {os.cpu_count()}")
    honest = [folder / name for name in sorted(planted.honest)]
    plain = plain_loop(honest[:PLAIN])
    parsing, auditing = one_by_one(honest[PLAIN : PLAIN + SAMPLE])
    some = honest[: max(PLAIN, count // 5)]
    alone = _alone(some, place)
    bare = bare_gain()
    with Index(place / "index.sqlite") as index, Memory() as memory:
        both, first = timed(lambda: look(folder, index))
        second, again = timed(lambda: look(folder, index))
        ten = _go_on(honest[-CHANGED:])
        third, changed = timed(lambda: look(folder, index))
        kept = _forge(folder, planted)
        _, forged = timed(lambda: look(folder, index))
    _undo(kept | ten)
    found = {name for name in planted.rebuilt if _by_name(forged.rows)[name].rebuilt}
    print(f"plain loop {plain * 1000:.1f} ms a log, parsing {parsing * 1000:.1f} ms, audit {auditing * 1000:.1f} ms")
    print(f"first look {both:.1f} s, {count / both:.0f} logs/s; second {second:.2f} s; ten logs later {third:.2f} s")
    good = [
        _shown("audit over parsing its TOML", auditing / parsing, most=MOST_PARSING),
        _shown("plain loop over first look, a log", plain / (both / count), least=LEAST_OVER_PLAIN),
        _shown("one process over all cores, over bare work's", alone / (both / count) / bare, least=LEAST_SHARE),
        _shown("first look over second look", both / second, least=LEAST_FASTER),
        _shown("logs audited in the second look", again.audited, most=0),
        _shown(f"logs audited after {CHANGED} went on", changed.audited, most=CHANGED, least=CHANGED),
        _shown("of these, called altered or another log", _distrusted(changed, ten), most=0),
        _shown("memory of the program [MB]", memory.own_mb, most=MOST_MEMORY_MB),
        _shown("memory of a worker [MB]", memory.worker_mb, most=MOST_MEMORY_MB),
        *_found(_by_name(first.rows), planted),
        _shown("chains built anew and not found", len(planted.rebuilt - found), most=0),
    ]
    return int(not all(good))


def _alone(paths: list[Path], place: Path) -> float:
    """Return the time of a log in one process that keeps what it read [s]."""
    few = place / "few"
    few.mkdir()
    for path in paths:
        (few / path.name).symlink_to(path.resolve())
    with Index(place / "one.sqlite") as index:
        took, looked = timed(lambda: look(few, index, jobs=1))
    return took / looked.audited


def _go_on(paths: list[Path]) -> dict[Path, bytes]:
    kept = {path: path.read_bytes() for path in paths}
    for path, data in kept.items():
        path.write_bytes(continued(data))
    return kept


def _forge(folder: Path, planted: Planted) -> dict[Path, bytes]:
    kept = {folder / name: (folder / name).read_bytes() for name in planted.rebuilt}
    for path, data in kept.items():
        path.write_bytes(rebuilt(data, random.Random(path.name)))
    return kept


def _undo(kept: dict[Path, bytes]) -> None:
    for path, data in kept.items():
        path.write_bytes(data)


def _distrusted(changed: Look, ten: dict[Path, bytes]) -> int:
    names = {path.name for path in ten}
    return sum(1 for row in changed.rows if row.name in names and (row.rebuilt or not row.trusted))


def _found(rows: dict[str, LogRow], planted: Planted) -> list[bool]:
    return [
        _shown("torn logs not found", sum(rows[n].chain != "torn" for n in planted.torn), most=0),
        _shown("altered logs not found", sum(rows[n].chain != "altered" for n in planted.altered), most=0),
        _shown("honest logs called altered", sum(not rows[n].trusted for n in planted.honest), most=0),
        _shown("honest logs with a difference", sum(rows[n].differs + rows[n].order for n in planted.honest), most=0),
    ]


def _whole(folder: Path, count: int) -> int:
    planted = make_once(folder, count, os.cpu_count() or 1, whole=1.0)
    with Index() as index:
        first, looked = timed(lambda: look(folder, index))
        likeness_s, (_, alike) = timed(lambda: with_likeness(looked.rows, index, MOST))
        cohort_s, _ = timed(lambda: (step_troubles(looked.rows), spreads(values_of(looked.rows, index))))
    named = {frozenset((pair.one, pair.other)) for pair in alike}
    wanted = {frozenset(pair) for pair in planted.alike if not (set(pair) & (planted.torn | planted.altered))}
    print(f"{count} whole jobs, {len(planted.alike)} copied, {count * (count - 1) // 2} pairs")
    print(f"first look {first:.2f} s, likeness {likeness_s:.2f} s, cohort {cohort_s:.2f} s")
    good = [
        _shown("copied logs not named", len(wanted - named), most=0),
        _shown(
            f"honest pairs named (stated chance of any: {FALSE_ALARMS})",
            len(named - {frozenset(pair) for pair in planted.alike}),
            most=0,
        ),
        _shown("likeness and cohort over the first audit", (likeness_s + cohort_s) / first, most=1),
    ]
    return int(not all(good))


def _by_name(rows: tuple[LogRow, ...]) -> dict[str, LogRow]:
    return {row.name: row for row in rows}


def _shown(what: str, found: float, *, most: float | None = None, least: float | None = None) -> bool:
    good = (most is None or found <= most) and (least is None or found >= least)
    limits = [f"at least {least:g}"] if least is not None else []
    limits += [f"at most {most:g}"] if most is not None else []
    print(f"{'  ' if good else 'x '}{what}: {found:.2f} ({', '.join(limits)})")
    return good


if __name__ == "__main__":
    sys.exit(main())
