"""Plans with their remedy, on circuits at random: what is left, what is needless, and how long it takes.

``python tests/bench/bench_plan.py [CIRCUITS]`` judges 10,000 circuits under every rule profile in turn and counts those
whose list leaves a fail, leaves what a listed size could cure, or names what is not needed. Then it times the plan of a
run of ten wires against one judgement of it. It ends with 1 if a circuit is wrong or ``GOAL`` is missed.
"""

import sys
import time
import timeit
from collections import Counter
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).parents[2]))

from engine.finding import Verdict
from engine.plan.cheapest import cheapest
from engine.plan.circuit import Circuit
from engine.plan.judged import Judged, judge_circuit
from engine.published.profiles import profile_names
from tests.plan.circuits import circuit

GOAL = 20.0
"""Largest time of a plan with remedy over one judgement of its circuit."""

SEGMENTS = 10


def what_of(now: Circuit, rules: str) -> str:
    """Return what is wrong with the list of one circuit, or how its verdict changed."""
    planned = judge_circuit(now, rules)
    bought = cheapest(planned, rules)
    if any(finding.verdict is Verdict.FAIL for _, finding in bought.stands):
        return f"nothing listed helps: {bought.stands[0][1].check}"
    left, borne = severities(bought.judged), {(part.id, f.check) for part, f in bought.stands}
    if bought.judged.verdict is Verdict.FAIL:
        return "WRONG: a fail is left"
    if left.keys() - borne:
        return "WRONG: what a size could cure is left"
    for part in bought.changed(now):
        without = severities(judge_circuit(bought.judged.circuit.with_parts(now.part(part.id)), rules))
        if all(severity <= left.get(key, 0) for key, severity in without.items()):
            return "WRONG: a change is needless"
    return f"{planned.verdict} -> {bought.judged.verdict}"


def severities(judged: Judged) -> dict[tuple[str, str], int]:
    """Return how bad each finding is that is no pass."""
    return {(part.id, finding.check): finding.verdict.severity for part, finding in judged.not_passed()}


def ratio(seed: int) -> tuple[float, float]:
    """Return how long the plan of a long run takes [ms], and over one judgement of it."""
    now = circuit(Random(seed), SEGMENTS)
    planned = judge_circuit(now, "industry")
    one, whole = (
        min(timeit.repeat(work, timer=time.process_time, number=2, repeat=5)) / 2
        for work in (lambda: judge_circuit(now, "industry"), lambda: cheapest(planned, "industry"))
    )
    return 1e3 * (one + whole), (one + whole) / one


def main() -> int:
    """Print the counts and the times."""
    many = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    rules = profile_names()
    counts = Counter(what_of(circuit(Random(seed)), rules[seed % len(rules)]) for seed in range(many))
    for said, times in counts.most_common():
        print(f"{times:6}  {said}")
    found = [ratio(seed) for seed in range(40)]
    middle, worst = sorted(r for _, r in found)[len(found) // 2], max(r for _, r in found)
    print(
        f"ten wires: {max(ms for ms, _ in found):.0f} ms at most; {middle:.1f} x one judgement, at most {worst:.1f} x"
    )
    return int(worst > GOAL or any(said.startswith("WRONG") for said in counts))


if __name__ == "__main__":
    raise SystemExit(main())
