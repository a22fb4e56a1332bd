"""What a verdict allows on a plain step, a hold and a firm hold: the one table that all faces obey."""

from engine.finding import Verdict
from engine.procedure.model import Hold

ON = ""
ACCEPT = "accept"
DEVIATE = "deviate"
EVIDENCE = "evidence"

_TABLE = {
    Verdict.PASS: (ON, ON, ON),
    Verdict.MARGINAL: (ACCEPT, ACCEPT, ACCEPT),
    Verdict.UNDECIDED: (ACCEPT, DEVIATE, EVIDENCE),
    Verdict.MISSING: (ON, DEVIATE, EVIDENCE),
    Verdict.FAIL: (DEVIATE, DEVIATE, EVIDENCE),
}


def needed(verdict: Verdict, hold: Hold, *, firm: bool) -> str:
    """Return what lets work go on: nothing, ``accept``, ``deviate``, or ``evidence`` (only a better finding).

    A missing finding on a plain step needs nothing more: the reason stands with the reading that was not taken.
    """
    column = 2 if firm or hold is Hold.FIRM else 1 if hold is Hold.HOLD else 0
    return _TABLE[verdict][column]
