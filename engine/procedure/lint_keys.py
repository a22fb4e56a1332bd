"""Lint: how long the keyboard takes in one whole job, with cold fingers, by the keystroke-level model."""

from collections.abc import Iterator

from engine.procedure.faults import Place
from engine.procedure.load import Loaded
from engine.procedure.model import Entry, Procedure, Step

KEY_S = 1.2
"""One key with a cold finger [s]: the slowest typist of the keystroke-level model, CACM 23(7) 1980 (as quoted)."""

READY_S = 1.35
"""Making up one's mind [s], same source."""

HAND_S = 0.4
"""Bringing the hand to the keys [s], same source."""

LONGEST_S = 8 * 60.0
"""What a whole job may ask [s] (project rule)."""

KEYS = {"yes/no": 2, "choice": 2, "wire": 6, "words": 20}
"""Keys of one answer that is no number, Enter with it (project estimate); a number has four figures and Enter."""

NUMBER_KEYS = 5


def keyboard_doubts(loaded: Loaded) -> Iterator[tuple[Place, str]]:
    """Give the doubt that the keyboard takes too long."""
    taken_s = keyboard_s(loaded.procedure)
    if taken_s > LONGEST_S:
        sentence = (
            f"about {taken_s / 60:.0f} minutes of keyboard in one job; {LONGEST_S / 60:.0f} at most, ask for less"
        )
        yield loaded.place, sentence


def keyboard_s(procedure: Procedure) -> float:
    """Return the time at the keyboard of a job in which every unconditional step is done once [s].

    A step or an entry with a condition counts half: in one job about one of two branches is walked.

    Args:
        procedure: The procedure.
    """
    return sum((0.5 if step.when else 1.0) * _step_s(step, procedure) for step in procedure.steps)


def _step_s(step: Step, procedure: Procedure) -> float:
    facts = [procedure.entry_by_id[name] for name in step.asks if name in procedure.entry_by_id]
    values = sum(_entry_s(entry) for entry in (*facts, *step.readings))
    return HAND_S + READY_S + KEY_S + values + len(step.parts) * (READY_S + KEY_S)


def _entry_s(entry: Entry) -> float:
    keys = KEYS.get(entry.unit, NUMBER_KEYS) * entry.repeats
    return (0.5 if entry.when else 1.0) * (HAND_S + READY_S + keys * KEY_S)
