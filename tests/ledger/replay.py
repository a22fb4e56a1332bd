"""Replay sequences that were dishonest once, and say what the ledger finds now.

    python tests/ledger/replay.py [FILE ...]

Exit 1 if it finds anything.
"""

import sys
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(TOP))

from engine.session.outcome import Asked, Outcome  # noqa: E402
from tests.ledger.sequence import clean_offences, files, in_words, load_sequence, play  # noqa: E402
from tests.ledger.world import WORLDS  # noqa: E402


def main(paths: list[Path]) -> int:
    """Print a few lines for each file."""
    bad = 0
    for name in () if paths else sorted(path.stem for path in WORLDS.glob("*.toml")):
        for offence in clean_offences(name).values():
            bad = 1
            print(f"{name}, the clean job itself: {offence.kind}: {offence.sentence}")
    for path in paths or files():
        sequence = load_sequence(path)
        known = clean_offences(sequence.procedure)
        desk, stopped = play(sequence)
        found = [o for key, o in desk.ledger.offences.items() if key not in known]
        bad |= bool(found)
        ended = "closed clean" if desk.state.clean else "closed" if desk.state.closed else "not closed"
        print(f"{path.stem}: {'FOUND' if found else 'nothing found'}, {ended}. {sequence.says}")
        for offence in found:
            print(f"  {offence.kind}: {offence.sentence}")
        if stopped:
            print(f"  refused: {in_words(stopped[0])}: {_words(stopped[1])}")
    return bad


def _words(outcome: Outcome) -> str:
    return outcome.question.sentence if isinstance(outcome, Asked) else getattr(outcome, "sentence", "")


if __name__ == "__main__":
    sys.exit(main([Path(name) for name in sys.argv[1:]]))
