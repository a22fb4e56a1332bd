"""Time carrying events into a state: 10,000 events may cost at most 11 times 1,000. Run: bench_apply.py [ROUNDS]."""

import sys
import time
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(TOP))

from engine.session.apply import fold  # noqa: E402
from engine.session.codec import from_flat  # noqa: E402
from engine.session.events import Stamped  # noqa: E402
from engine.session.scan import read_log  # noqa: E402

MOST = 11.0


def events(count: int) -> list[Stamped]:
    """Return the middle of a real job again and again, numbered through."""
    found = read_log(TOP / "sample_sessions" / "grey-heron-clean.toml")
    one = [from_flat(event) for event in found.events]
    opened, middle = one[0], one[1:-3]
    repeated = (middle[n % len(middle)] for n in range(count - 1))
    return [opened, *(Stamped(n, s.at, s.mono, s.event) for n, s in enumerate(repeated, start=2))]


def least_s(stamped: list[Stamped], rounds: int) -> float:
    """Return the shortest time of several folds [s]."""
    times = []
    for _ in range(rounds):
        began = time.perf_counter()
        fold(stamped)
        times.append(time.perf_counter() - began)
    return min(times)


def main() -> int:
    """Print both times and their ratio; 1 if it is more than it may be."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 20
    small, large = least_s(events(1_000), rounds), least_s(events(10_000), rounds)
    print(f"1,000 events {small * 1e3:.2f} ms, 10,000 events {large * 1e3:.2f} ms, {large / small:.2f} times")
    return int(large / small > MOST)


if __name__ == "__main__":
    sys.exit(main())
