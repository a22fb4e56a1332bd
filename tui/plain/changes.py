"""Changing what was recorded, in the plain face: what follows is said first, and done only after the word go."""

from typing import TYPE_CHECKING

from engine.session import commands as c
from engine.session.outcome import Asked, Decided, Refusal, answered
from tui.inert import one_line
from tui.plain.lines import way_lines
from tui.plain.text import listed, wrapped
from tui.plain.voice import number_in

if TYPE_CHECKING:
    from engine.view.models import StepView
    from tui.plain.talk import Talk

SHOWN = 9
"""How many earlier values are listed at once."""


def correct(face: "Talk", view: "StepView", rest: str) -> None:
    """Correct an earlier value: which, the right one, why; then what follows from it."""
    entry = _which(face, view, rest)
    if entry is None:
        face.tell("Nothing is corrected.")
        return
    given = dict(_given(face))
    face.tell(f"Stands in the log: {given[entry]}. It stays there.")
    text = face.ask_words("The right value:")
    reason = face.ask_words("Why is it corrected?")
    agreed(face, c.Correct(entry, text, reason), "corrected")


def redo(face: "Talk", view: "StepView", rest: str) -> None:
    """Do the step again that is looked at, after saying what must be done again with it."""
    remedies = [one_line(words) for words in face.job.remedies(view)]
    last = len(remedies) - 1
    picked = face.voice.pick("What will the hands do?", remedies) if remedies else last
    if picked is None:
        face.tell("Nothing is changed.")
        return
    agreed(face, c.Redo(view.id, 0 if picked == last else picked + 1), "to be done again")


def agreed(face: "Talk", command: c.Command, done: str) -> bool:
    """Say what a command makes void, ask, carry it out, and say so; True if it is recorded."""
    decision = face.runner.would(command)
    if isinstance(decision, Asked):
        choices = [one_line(words) for words, _ in decision.question.choices]
        picked = face.voice.pick("\n".join(wrapped(decision.question.sentence)), choices, otherwise="none of these")
        if picked is None:
            face.tell("Nothing is changed.")
            return False
        command = answered(decision, picked)
        decision = face.runner.would(command)
    if isinstance(decision, Refusal):
        face.refuse(decision, getattr(command, "text", ""))
    elif isinstance(decision, Decided) and _go(face, decision) and face.send(command):
        face.tell(f"recorded: {one_line(done)}")
        face.look(None)
        return True
    return False


def _go(face: "Talk", decision: Decided) -> bool:
    ways = face.job.ways(decision)
    face.say(*(line for way in ways for line in way_lines(way)))
    if not ways:
        face.say("No step has to be done again.")
    if face.voice.ask("Type go to do it; an empty line leaves it as it is:") == "go":
        return True
    face.tell("Nothing is changed.")
    return False


def _which(face: "Talk", view: "StepView", text: str) -> str | None:
    """Return the entry that is meant: by its id, by a number of the list, or by a word that narrows the list."""
    given = dict(_given(face))
    listed_now = face.job.recent(view.id)[:SHOWN]
    while True:
        if text in given:
            return text
        if (picked := number_in(text, len(listed_now))) is not None:
            return listed_now[picked][0]
        if text:
            listed_now = [(e, words) for e, words in given.items() if text.lower() in words.lower()][-SHOWN:]
        if not listed_now:
            face.tell("No value that was given has that word.")
            return None
        numbered = (f"{number} {words}" for number, (_, words) in enumerate(listed_now, start=1))
        face.say(*listed("Which value", numbered))
        text = face.voice.ask("Its number, or a word of another one:")
        if not text:
            return None


def _given(face: "Talk") -> list[tuple[str, str]]:
    """Return (entry, words) of every value that stands, in working order."""
    from engine.session.gates import applicable
    from engine.view.values import rows

    runner = face.runner
    return [
        (row.id, f"{row.ask}: {row.shown}")
        for step in applicable(runner.procedure, runner.state)
        for row in rows(runner.procedure, runner.state, step)
        if row.state != "open"
    ]
