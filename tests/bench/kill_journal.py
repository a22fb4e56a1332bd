"""Kill real writers with SIGKILL at random moments and count what is missing afterwards.

Run: ``python tests/bench/kill_journal.py --kills 1000``. Half of the writers hand their bytes to the system in small
pieces, so that half-written blocks really occur. A kill leaves the system's memory alive: this proves the order of our
own calls; what a power cut does is simulated in the tests.
"""

import argparse
import json
import os
import random
import signal
import struct
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from engine.session.disk_posix import PosixDisk
from engine.session.journal import Journal
from engine.session.scan import read_log

LONGEST_LIFE_S = 0.03
PIECE = 37


class PiecemealDisk(PosixDisk):
    """The real disk, with each write handed over in small pieces."""

    def write(self, handle: int, data: bytes) -> int:
        for start in range(0, len(data), PIECE):
            super().write(handle, data[start : start + PIECE])
        return len(data)


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--kills", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        counts = kill_writers(Path(folder), asked.kills, random.Random(asked.seed))
    sys.stdout.write(json.dumps(counts) + "\n")
    return 0 if counts["lost"] == counts["unreadable"] == counts["half_entries"] == 0 else 1


def kill_writers(folder: Path, kills: int, chance: random.Random) -> dict[str, int]:
    """Return what was found after each kill, summed up."""
    names = ("kills", "recorded", "lost", "unreadable", "half_entries", "torn_tails", "kept_unconfirmed", "not_begun")
    counts = dict.fromkeys(names, 0)
    log, recorded = folder / "boat.toml", 0
    for number in range(kills):
        if number % 25 == 0:
            log, recorded = folder / f"boat-{number}.toml", 0
        confirmed = confirmed_until_killed(log, recorded, chance.uniform(0, LONGEST_LIFE_S), piecemeal=number % 2 == 1)
        counts["kills"] += 1
        counts["recorded"] += max(confirmed - recorded, 0)
        recorded = look_after(log, max(confirmed, recorded), counts)
    return counts


def confirmed_until_killed(log: Path, recorded: int, life_s: float, *, piecemeal: bool) -> int:
    """Let a real process write, kill it after ``life_s`` [s], and return the number of the last confirmed event."""
    receiver, sender = os.pipe()
    writer = os.fork()
    if writer == 0:
        os.close(receiver)
        write_for_ever(log, recorded, sender, PiecemealDisk() if piecemeal else PosixDisk())
    os.close(sender)
    time.sleep(life_s)
    os.kill(writer, signal.SIGKILL)
    os.waitpid(writer, 0)
    with os.fdopen(receiver, "rb") as pipe:
        confirmed = pipe.read()
    whole = len(confirmed) // 4 * 4
    return struct.unpack("<I", confirmed[whole - 4 : whole])[0] if whole else 0


def write_for_ever(log: Path, recorded: int, sender: int, disk: PosixDisk) -> None:
    """The writer: entries of one event and of three, each confirmed down the pipe once it is recorded."""
    try:
        begun = log.exists()
        journal = Journal.open(log, disk=disk) if begun else Journal.create(log.parent, log.stem, {}, disk=disk)
        count = journal.count
        while True:
            size = 3 if count % 4 == 0 else 1
            journal.append([{"event": "note", "n": count + part, "text": "x" * 600} for part in range(1, size + 1)])
            count += size
            os.write(sender, struct.pack("<I", count))
    except BaseException as error:
        os.write(2, f"writer: {error!r}\n".encode())
    finally:
        os._exit(1)


def look_after(log: Path, recorded: int, counts: dict[str, int]) -> int:
    """Open what the killed writer left, as the next session would; return how many events it holds."""
    if not log.exists():
        counts["not_begun"] += 1
        return 0
    found = read_log(log)
    if found.header is None and not recorded:
        counts["not_begun"] += 1
        log.unlink()
        return 0
    counts["unreadable"] += found.state not in ("whole", "torn")
    counts["torn_tails"] += found.state == "torn"
    numbers = [event["n"] for event in found.events]
    counts["lost"] += max(recorded - len(numbers), 0)
    counts["kept_unconfirmed"] += max(len(numbers) - recorded, 0)
    counts["half_entries"] += numbers != list(range(1, len(numbers) + 1)) or len(numbers) % 4 in (1, 2)
    with Journal.open(log) as journal:
        return journal.count


if __name__ == "__main__":
    sys.exit(main())
