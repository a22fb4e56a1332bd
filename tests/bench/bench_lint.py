"""How fast limits and the linter are, as ratios in one run: against Python's own sum, and against importing Textual.

Run it with ``python tests/bench/bench_lint.py``. It prints ratios, and ends with 1 if a goal is missed.
"""

import subprocess
import sys
import tempfile
import timeit
from collections.abc import Callable
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).parents[2]))

from engine.procedure.limit import parse
from tests.procedure.small import BLOCK, SMALL

ROOT = Path(__file__).resolve().parents[2]

LIMIT_GOAL, LINT_GOAL = 10.0, 1.0
STEPS = 60
ROUNDS = 7

UNITS = {"strip": "mm", "depth": "mm", "before": "V", "after": "V", "load": "A", "taps": "yes/no"}
VALUES = {"strip": 0.0115, "depth": 0.012, "before": 24.9, "after": 23.9, "load": 48.0, "taps": True}

LIMITS: tuple[tuple[str, Callable[[dict[str, float]], bool]], ...] = (
    ("strip >= depth - 1 mm", lambda v: v["strip"] >= v["depth"] - 0.001),
    ("load <= 60 A", lambda v: v["load"] <= 60.0),
    ("(before - after) / load <= 21 mohm", lambda v: (v["before"] - v["after"]) / v["load"] <= 0.021),
    ("abs(before - after) <= 1.1 V", lambda v: abs(v["before"] - v["after"]) <= 1.1),
    ('taps == "no" or load > 5 A and load < 60 A', lambda v: v["taps"] is False or (v["load"] > 5 and v["load"] < 60)),
)

STEP = """
[[section.step]]
id = "strip-NUMBER"
title = "Strip"
do = "Strip the end."
why = "Copper must reach the end."
needs = ["prove-dead"]
read.strip_NUMBER = { ask = "Bare length", mm = [0, 8, 20, 60] }
limit.length = { is = "strip_NUMBER >= barrel_depth - 1 mm", says = "copper must reach the end of the barrel" }
"""


def limit_ratio() -> float:
    """Return the largest cost of a limit over that of the same sum in Python."""
    worst = 0.0
    for text, plain in LIMITS:
        limit = parse(text, UNITS)
        assert limit.holds(VALUES) is plain(VALUES)
        ours, theirs = (min(timeit.repeat(run, number=20_000, repeat=7)) for run in (_held(limit), _plain(plain)))
        worst = max(worst, ours / theirs)
        sys.stdout.write(f"  {ours / theirs:5.1f}  {text}\n")
    return worst


def _held(limit: object) -> Callable[[], object]:
    return lambda: limit.holds(VALUES)  # type: ignore[attr-defined]


def _plain(plain: Callable[[dict[str, float]], bool]) -> Callable[[], object]:
    return lambda: plain(VALUES)


def lint_ratio() -> float:
    """Return the time of a fresh Python that lints 60 steps over that of one that imports Textual."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "blocks").mkdir()
        (folder / "blocks" / "prove-dead.toml").write_text(BLOCK, encoding="utf-8")
        steps = "".join(
            STEP.replace("NUMBER", str(number)) for number in range(STEPS - SMALL.count("[[section.step]]"))
        )
        (folder / "long.toml").write_text(SMALL + steps, encoding="utf-8")
        path = str(folder / "long.toml")
        lint = f"from pathlib import Path; from engine.procedure.lint import lint; lint(Path({path!r}))"
        times = [(_fresh(lint), _fresh("import textual.app")) for _ in range(ROUNDS)]
    ours, theirs = (median(column) for column in zip(*times, strict=True))
    sys.stdout.write(f"  lint {ours * 1000:.0f} ms, textual.app {theirs * 1000:.0f} ms\n")
    return ours / theirs


def _fresh(code: str) -> float:
    return timeit.timeit(lambda: subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=True), number=1)


def main() -> int:
    """Print both ratios with their goals."""
    sys.stdout.write("cost of a limit over the same sum in Python\n")
    limits = limit_ratio()
    sys.stdout.write("time to lint 60 steps over time to import Textual, both in a fresh Python\n")
    lints = lint_ratio()
    sys.stdout.write(
        f"worst limit {limits:.1f} (goal {LIMIT_GOAL:g} or less), lint {lints:.2f} (goal below {LINT_GOAL:g})\n"
    )
    return 0 if limits <= LIMIT_GOAL and lints < LINT_GOAL else 1


if __name__ == "__main__":
    sys.exit(main())
