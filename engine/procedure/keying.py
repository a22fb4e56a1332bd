"""How long the keyboard takes, by the keystroke-level model: keys, thoughts, and the hand brought to the keys.

Source of times and rules: *The keystroke-level model for user performance time with interactive systems*, CACM
23(7):396-410 (1980): the times as quoted, the rules for where a thought stands from memory. As they are used here:

- No thought stands before the signs of a number or of words: they are an argument, known when the hand comes.
- One stands before the key that ends such an argument, since the argument varies: look at it, then Enter (rule 4).
- One stands before a key that is a choice or a command of its own: yes or no, a part, Enter on a plain step (rule 0).
- None stands before the Enter that ends a step right after the Enter of its last value: it repeats the end of its
  argument (rule 3), and the verdict was read while that value was typed, before its own Enter. Where the verdict comes
  only after the last key, since that was a choice, it is read first: a thought. So it is before a hold is gone through.
- The hand comes to the keys once a step, for all of its values; no value is a trip of its own.
"""

from collections.abc import Iterable
from typing import NamedTuple

from engine.procedure.branch import share
from engine.procedure.model import Entry, Procedure, Step

USUAL_KEY_S = 0.28
"""One key by a usual typist [s] (40 words a minute), same source."""

COLD_KEY_S = 1.2
"""One key with a cold finger [s]: the slowest typist of the same source."""

THOUGHT_S = 1.35
"""Making up one's mind [s], same source."""

HAND_S = 0.4
"""Bringing the hand to the keys [s], same source."""

ENTER = 1
"""Keys that end a typed value, or take words that are offered."""

KEYS = {"yes/no": 1, "choice": 1, "wire": 5 + ENTER, "words": 20 + ENTER, "": 2 + ENTER}
"""Keys of one answer that is no measured number (project estimate); a choice is one key and needs no Enter."""

ROW_KEYS = 4
"""Keys of one row of a pin map: two positions, the dash, and the space that parts rows or Enter (project estimate)."""

NUMBER_KEYS = 4 + ENTER
"""Keys of a number: four signs as the instrument shows them, and Enter (project rule, at most seven)."""

MOST_PICKED = 9
"""Choices that one digit key can pick from; of a longer list the words are typed."""


class Effort(NamedTuple):
    """What one piece of work asks of the person: counts of keys, of thoughts, and of trips of the hand."""

    keys: float = 0.0
    thoughts: float = 0.0
    hands: float = 0.0

    def plus(self, other: "Effort", share: float = 1.0) -> "Effort":
        """Return the sum with a share of another."""
        return Effort(*(one + share * two for one, two in zip(self, other, strict=True)))

    def seconds(self, key_s: float = USUAL_KEY_S) -> float:
        """Return how long it takes [s].

        Args:
            key_s: One key [s].

        Example:
            >>> round(Effort(keys=5, thoughts=1, hands=1).seconds(0.28), 2)
            3.15
        """
        return self.keys * key_s + self.thoughts * THOUGHT_S + self.hands * HAND_S


def value(keys: float) -> Effort:
    """Return the effort of one value: its keys, and one thought.

    Args:
        keys: Its keys, the one that ends it too.
    """
    return Effort(keys=keys, thoughts=1)


def whole_step(values: Iterable[Effort], *, read_first: bool) -> Effort:
    """Return the effort of a step: the hand once, its values and parts, and the key that ends it.

    Args:
        values: What is given in it.
        read_first: Whether something is read after the last value and before the end. A step without values is.
    """
    asked = list(values)
    total = Effort(keys=1, thoughts=1 if read_first or not asked else 0, hands=1)
    for each in asked:
        total = total.plus(each)
    return total


def step_effort(procedure: Procedure, step: Step) -> Effort:
    """Return what a step is estimated to ask; an entry with a condition counts by its share.

    Args:
        procedure: Its procedure, for the facts that it asks.
        step: The step.
    """
    entries = procedure.entries_of(step)
    asked = [Effort().plus(_entry(entry), share(procedure, entry.when, step)) for entry in entries]
    picked_last = bool(entries) and is_picked(entries[-1])
    return whole_step(
        [*asked, *(value(1) for _ in step.parts)], read_first=is_read_first(step, picked_last=picked_last)
    )


def is_picked(entry: Entry) -> bool:
    """Return whether one key answers an entry."""
    return entry.unit == "yes/no" or 0 < len(entry.choices) <= MOST_PICKED


def is_read_first(step: Step, *, picked_last: bool) -> bool:
    """Return whether something is read between the last value of a step and its end.

    Args:
        step: The step.
        picked_last: Whether its last value is a choice, of which no verdict is shown while it is typed.
    """
    return bool(step.hold) or (picked_last and bool(step.checks or step.limits))


def job_effort(procedure: Procedure) -> Effort:
    """Return what a whole job is estimated to ask, each step done once.

    A step or an entry with a condition counts by the share of jobs that walk its branch.

    Args:
        procedure: The procedure.
    """
    total = Effort()
    for step in procedure.steps:
        total = total.plus(step_effort(procedure, step), share(procedure, step.when))
    return total


def _entry(entry: Entry) -> Effort:
    keys = KEYS["words"] if len(entry.choices) > MOST_PICKED else KEYS.get(entry.unit, NUMBER_KEYS)
    keys = ENTER if entry.offers else keys
    keys = ROW_KEYS * len(entry.positions) or keys
    return Effort(keys * entry.repeats, entry.repeats)
