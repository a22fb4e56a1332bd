"""Worse is never better, tried at length: python tests/bench/worse_never_better.py [EXAMPLES FOR EACH INPUT]."""

import sys
from collections.abc import Callable
from pathlib import Path

from hypothesis import HealthCheck, given, seed, settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.rules.test_worse_is_never_better import COARSER, WORSE, holds, two


def tried(name: str, worse: str, examples: int) -> Callable[[], int]:
    """Return what tries one input of one check, and counts the pairs that held."""
    held = 0

    @seed(1)
    @settings(max_examples=examples, deadline=None, database=None, suppress_health_check=list(HealthCheck))
    @given(st.data())
    def each(data: st.DataObject) -> None:
        nonlocal held
        better, worsened, rules = data.draw(two(name, worse))
        holds(name, better, worsened, rules, exact=(name, worse) in COARSER or data.draw(st.booleans()))
        held += 1

    def run() -> int:
        each()
        return held

    return run


def main(examples: int) -> int:
    """Try every input that has a worse way; print how many pairs held, and each input where one did not."""
    held, broken = 0, 0
    for name, worse in WORSE:
        try:
            held += tried(name, worse, examples)()
        except AssertionError as found:
            broken += 1
            print(f"{name} {worse}: {found}")
    print(
        f"{len(WORSE)} inputs of {len({name for name, _ in WORSE})} checks, {held} pairs held, {broken} inputs broken"
    )
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 100))
