"""One part of a verdict, and the worst of several."""

from collections.abc import Sequence
from dataclasses import dataclass

from engine.finding import Verdict


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a verdict: what it says, what to do about it, and what the hands do now if it can hurt.

    ``at_worst`` says of an undecided part what it can be at worst: a doubt between pass and marginal is no doubt any
    more where another part is marginal for certain.
    """

    verdict: Verdict
    sentence: str
    remedy: str = ""
    firm: bool = False
    hands: str = ""
    at_worst: Verdict = Verdict.FAIL


def worst_part(parts: Sequence[Part]) -> Part:
    """Return the first part of the worst verdict, a certain marginal before a doubt that cannot be worse."""
    worst = parts[0]
    for part in parts[1:]:
        if part.verdict is not worst.verdict and part.verdict.severity > worst.verdict.severity:
            worst = part
    if worst.verdict is not Verdict.UNDECIDED:
        return worst
    doubts = [part for part in parts if part.verdict is Verdict.UNDECIDED]
    if any(part.at_worst is not Verdict.MARGINAL for part in doubts):
        return worst
    return next((part for part in parts if part.verdict is Verdict.MARGINAL), worst)


def at_worst(surely_bearable: Verdict) -> Verdict:
    """Return what a doubt can be at worst: marginal where the bearable limit is surely kept."""
    return Verdict.MARGINAL if surely_bearable is Verdict.PASS else Verdict.FAIL
