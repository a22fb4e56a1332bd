"""Thousands of random jobs through the shipped procedures, held against the ledger of what is physically so.

    python tests/bench/walk_ledger.py [--sequences 10000] [--jobs 2] [--most 10] [--into FOLDER] [PROCEDURE ...]

A line for each procedure: how many sequences, how many closed clean, how many of these dishonestly, in how many hands
were on an unproved stretch. Then each kind of offence, how often, and the shortest sequence that shows it, as a file
that ``tests/ledger/replay.py`` takes; with ``--into`` it is written there. Exit 1 if anything was found.
"""

import argparse
import sys
import time
from collections import Counter
from concurrent.futures import ProcessPoolExecutor, as_completed
from dataclasses import dataclass, field
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(TOP))

from engine.shipped import shipped  # noqa: E402
from tests.ledger.sequence import clean_offences, written  # noqa: E402
from tests.ledger.walk import Key, shortest, walk  # noqa: E402

PIECE = 250
"""Sequences that one process tries in one go."""

HANDS = ("live", "unproved", "old")


@dataclass(slots=True)
class Tally:
    """What a number of sequences came to; ``first`` is the seed of the shortest sequence with an offence."""

    tried: int = 0
    clean: int = 0
    dishonest: int = 0
    hands: int = 0
    found: Counter[Key] = field(default_factory=Counter)
    first: dict[Key, tuple[int, int]] = field(default_factory=dict)

    def add(self, other: "Tally") -> None:
        self.tried += other.tried
        self.clean += other.clean
        self.dishonest += other.dishonest
        self.hands += other.hands
        self.found += other.found
        for key, seen in other.first.items():
            self.first[key] = min(seen, self.first.get(key, seen))


def piece(name: str, first: int, count: int) -> tuple[str, Tally]:
    """Try ``count`` sequences."""
    tally = Tally()
    for seed in range(first, first + count):
        one = walk(name, seed)
        kinds = {kind for kind, _, _ in one.offences()}
        tally.tried += 1
        tally.clean += one.desk.state.clean
        tally.dishonest += bool(kinds - set(HANDS))
        tally.hands += bool(kinds & set(HANDS))
        for key in one.offences():
            seen = len(one.sequence().do), seed
            tally.found[key] += 1
            tally.first[key] = min(seen, tally.first.get(key, seen))
    return name, tally


def told(name: str, tally: Tally, most: int, into: Path | None) -> None:
    """Print what was found in one procedure: each kind of offence on each thing once."""
    for offence in clean_offences(name).values():
        print(f"  the clean job itself: {offence.kind}: {offence.sentence}")
    shown = set[tuple[str, str]]()
    for number, (key, times) in enumerate(tally.found.most_common(), start=1):
        if key[:2] in shown or len(shown) >= most:
            continue
        shown.add(key[:2])
        sequence = shortest(walk(name, tally.first[key][1]), key)
        print(f"  {times} times: {sequence.offence}\n" + written(sequence))
        if into is not None:
            (into / f"{name}-{number}.toml").write_text(written(sequence), "utf-8")


def main() -> int:
    """Print a line for each procedure, and what was found; 1 if anything was."""
    names = [path.stem for path in shipped()]
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--sequences", type=int, default=10_000, help="a procedure")
    parser.add_argument("--jobs", type=int, default=2, help="processes")
    parser.add_argument("--most", type=int, default=10, help="offences of a procedure that are shown with a sequence")
    parser.add_argument("--into", type=Path, help="folder for the shortest sequences")
    parser.add_argument("procedures", nargs="*", metavar="PROCEDURE", help=f"all are: {', '.join(names)}")
    asked = parser.parse_args()
    if unknown := [name for name in asked.procedures if name not in names]:
        parser.error(f"there is no procedure {unknown[0]}")
    bad = 0
    with ProcessPoolExecutor(asked.jobs) as pool:
        for name in asked.procedures or names:
            began, total = time.monotonic(), Tally()
            firsts = range(0, asked.sequences, PIECE)
            running = [pool.submit(piece, name, first, min(PIECE, asked.sequences - first)) for first in firsts]
            for future in as_completed(running):
                total.add(future.result()[1])
            pace = total.tried / (time.monotonic() - began)
            bad |= bool(total.found)
            print(
                f"{name}: {total.tried} sequences ({pace:.0f} a second), {total.clean} closed clean, "
                f"{total.dishonest} of these dishonestly; hands on an unproved stretch in {total.hands}",
                flush=True,
            )
            told(name, total, asked.most, asked.into)
    return bad


if __name__ == "__main__":
    sys.exit(main())
