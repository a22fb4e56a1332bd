"""Thousands of random and disturbed walks through every shipped procedure: walk_sessions.py [WALKS]."""

import sys
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(TOP), str(TOP / "tests" / "session")]

import test_small_walks as small  # noqa: E402
from test_random_walks import disturbed, prove_honest, walk  # noqa: E402

from engine.shipped import shipped  # noqa: E402


def main() -> None:
    """Walk, and print how many closed; the first dishonest session stops it."""
    walks = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    for path in shipped():
        closed = 0
        for seed in range(walks):
            session = walk(path.stem, seed)
            prove_honest(session)
            closed += session.state.closed
        print(f"{path.stem}: {walks} random walks, {closed} closed, none dishonest")
    closed = 0
    for seed in range(walks):
        session = small.walk(seed)
        small.prove(session)
        closed += session.state.closed
    print(f"small job: {walks} random walks, {closed} closed, none against the ledger")
    closed = 0
    for seed in range(walks // 10):
        session = disturbed("grey-heron-clean.answers.toml", seed, 0.02)
        prove_honest(session)
        closed += session.state.closed
    print(f"disturbed clean jobs: {walks // 10}, {closed} closed, none dishonest")


if __name__ == "__main__":
    main()
