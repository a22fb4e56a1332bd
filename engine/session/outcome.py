"""What may come of a command: events, a refusal that says what is missing, a question, or "not recorded"."""

from dataclasses import dataclass, replace

from engine.quantity import Question
from engine.session.commands import Command, Correct, Feeding, Take
from engine.session.events import Event


@dataclass(frozen=True, slots=True)
class Decided:
    """The command stands: these events are to be recorded, together."""

    events: tuple[Event, ...]


@dataclass(frozen=True, slots=True)
class Refusal:
    """The command does not stand. ``step`` is the step to go to, ``missing`` what lacks, ``column`` a text's
    place from 0, if it has one.
    """

    sentence: str
    step: str = ""
    missing: tuple[str, ...] = ()
    column: int | None = None


@dataclass(frozen=True, slots=True)
class Query:
    """A question that is not about a text: each choice is what is shown, and a word for it."""

    sentence: str
    choices: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Asked:
    """The text could mean more than one thing, or somebody else is concerned; send the command again with an answer."""

    question: Question | Query
    command: Command


Decision = Decided | Refusal | Asked


@dataclass(frozen=True, slots=True)
class Recorded:
    """The events are on the disk."""

    events: tuple[Event, ...]


@dataclass(frozen=True, slots=True)
class Unrecorded:
    """The disk did not take the events; nothing changed, and the sentence says what can be done."""

    sentence: str


Outcome = Recorded | Refusal | Asked | Unrecorded


def answered(asked: Asked, choice: int) -> Command:
    """Return the command of a question again, with the choice that was picked (from 0)."""
    command = asked.command
    if isinstance(asked.question, Query):
        return Feeding(command, yes=choice == 0)
    if isinstance(command, Feeding):
        return replace(command, command=answered(Asked(asked.question, command.command), choice))
    return replace(command, answer=choice) if isinstance(command, Take | Correct) else command
