"""Thousands of command sequences through shipped procedures, each watched by a ledger that trusts no gate.

    python tests/bench/walk_sessions.py [--sequences 10000] [--walks 0] [--small 0] [--jobs 2] [PROCEDURE ...]

A sequence is one example of the hypothesis state machine; a walk is made with plain dice, and is brought to its end
every tenth time. One line a procedure. The first dishonest session of a procedure ends it and is printed.
"""

import argparse
import sys
import time
from concurrent.futures import ProcessPoolExecutor, as_completed
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(TOP), str(TOP / "tests" / "session")]

from engine.shipped import shipped  # noqa: E402

STEPS = 20
"""Steps of one sequence; a step is one command, or several sensible ones."""

PIECE = 500
"""Sequences that one process tries in one go; each piece has its own seed."""


def piece(kind: str, name: str, first: int, count: int) -> tuple[int, int, str]:
    """Try ``count`` sequences; return how many were tried, how many closed, and what was wrong."""
    try:
        return count, {"sequences": _machine, "walks": _walks, "small": _small}[kind](name, first, count), ""
    except AssertionError as failed:
        return count, 0, f"{kind} from {first}: {failed}\n" + "\n".join(getattr(failed, "__notes__", ()))


def _machine(name: str, first: int, count: int) -> int:
    from job_machine import CLOSED, run_machine

    CLOSED.clear()
    run_machine(name, count, STEPS, seed=first)
    return CLOSED.get(name, 0)


def _walks(name: str, first: int, count: int) -> int:
    from walking import walk

    return sum(walk(name, seed, to_the_end=seed % 10 == 0).state.closed for seed in range(first, first + count))


def _small(name: str, first: int, count: int) -> int:
    import test_small_walks as small

    closed = 0
    for seed in range(first, first + count):
        session = small.walk(seed)
        small.prove(session)
        closed += session.state.closed
    return closed


def pieces(asked: argparse.Namespace) -> list[tuple[str, str, int, int]]:
    """Return what is to be tried, the pieces of one procedure together."""
    wanted = [("sequences", n, asked.sequences) for n in asked.procedures]
    wanted += [("walks", n, asked.walks) for n in asked.procedures] + [("small", "small job", asked.small)]
    return [
        (kind, name, first, min(PIECE, count - first))
        for kind, name, count in wanted
        for first in range(0, count, PIECE)
    ]


def main() -> int:
    """Print a line for each procedure; 1 if any session was dishonest."""
    names = [path.stem for path in shipped()]
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--sequences", type=int, default=10_000, help="of the state machine, a procedure")
    parser.add_argument("--walks", type=int, default=0, help="with plain dice, a procedure")
    parser.add_argument("--small", type=int, default=0, help="with plain dice, on the small job full of traps")
    parser.add_argument("--jobs", type=int, default=2, help="processes")
    parser.add_argument("procedures", nargs="*", metavar="PROCEDURE", help=f"all are: {', '.join(names)}")
    asked = parser.parse_args()
    if unknown := [name for name in asked.procedures if name not in names]:
        parser.error(f"there is no procedure {unknown[0]}")
    asked.procedures = asked.procedures or names
    began, bad = time.monotonic(), 0
    left, sums = pieces(asked), dict[tuple[str, str], list[int]]()
    with ProcessPoolExecutor(asked.jobs) as pool:
        running = {pool.submit(piece, *one): one for one in left}
        open_pieces = {(kind, name): 0 for kind, name, _, _ in left}
        for kind, name, _, _ in left:
            open_pieces[kind, name] += 1
        for future in as_completed(running):
            kind, name, _, _ = running[future]
            tried, closed, wrong = future.result()
            total = sums.setdefault((kind, name), [0, 0, 0])
            total[0], total[1], total[2] = total[0] + tried, total[1] + closed, total[2] + bool(wrong)
            if wrong:
                print(f"{name}: DISHONEST: {wrong}", flush=True)
                bad = 1
            open_pieces[kind, name] -= 1
            if not open_pieces[kind, name]:
                said = "none dishonest" if not total[2] else "DISHONEST"
                minutes = (time.monotonic() - began) / 60
                print(f"{name}: {total[0]} {kind}, {total[1]} closed, {said} ({minutes:.0f} min)", flush=True)
    return bad


if __name__ == "__main__":
    sys.exit(main())
