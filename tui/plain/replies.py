"""What a line means on a step: a value, a part, the end of it, a reason; each with the prompt that asks for it."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from engine.session import commands as c
from engine.view.models import StepView, VerdictView
from tui.awaited import Awaited, awaited, row_asked
from tui.plain.lines import ask_lines
from tui.plain.text import wrapped
from tui.plain.voice import number_in

if TYPE_CHECKING:
    from tui.plain.talk import Talk

Reply = Callable[["Talk", StepView, str], None]


def reply(view: StepView) -> tuple[list[str], Reply]:
    """Return the prompt of a step, and what takes the line that answers it."""
    match awaited(view):
        case Awaited.DONE:
            return [_done_words(view)], _go_on
        case Awaited.SHUT:
            return [*wrapped(f"Shut: {view.shut[0].sentence}."), "An empty line goes there:"], _go_there
        case Awaited.PARTS:
            return [f"Number of the part that is on the wire ({_open_parts(view)}):"], _name
        case Awaited.CHOICE | Awaited.TYPED:
            row = row_asked(view)
            return ask_lines(row) if row else [], _value
        case Awaited.PLAIN:
            return ["An empty line ends this step:"], _finish
        case Awaited.HOLD:
            return ["Type go to go through this hold:"], _go_through
        case Awaited.STUCK:
            return _ways(view), _settle


def _done_words(view: StepView) -> str:
    if view.status == "ended":
        return "An empty line goes on; .redo does it again:"
    return "This step is done. An empty line goes on; .redo does it again:"


def _open_parts(view: StepView) -> str:
    return ", ".join(str(number) for number, part in enumerate(view.parts, start=1) if not part.seen)


def _value(face: "Talk", view: StepView, text: str) -> None:
    row = row_asked(view)
    if row is None:
        return
    text = text or row.offer
    if not text:
        face.tell("Nothing was typed. Type the value; or .skip if it was not measured.")
        return
    picked = None if text in row.choices else number_in(text, len(row.choices))
    said = text if picked is None else row.choices[picked]
    several = ";" in text and row.unit != "words"
    if face.send(c.TakeSeveral(view.id, text) if several else c.Take(row.id, said)):
        face.say_change(view)


def _name(face: "Talk", view: StepView, text: str) -> None:
    picked = number_in(text, len(view.parts))
    if picked is None:
        face.tell(f"Type a number from 1 to {len(view.parts)}.")
    elif face.send(c.NamePart(view.id, view.parts[picked].id)):
        seen = sum(part.seen for part in face.job.step(view.id).parts)
        face.tell(f"recorded: on the wire, {seen} of {len(view.parts)}")


def _finish(face: "Talk", view: StepView, text: str) -> None:
    if text:
        face.tell("Nothing is asked here: an empty line ends the step, .note and a text writes a note.")
    elif face.send(c.Finish(view.id)):
        face.look(None)


def _go_through(face: "Talk", view: StepView, text: str) -> None:
    if text != "go":
        face.tell("This is a hold point: only the word go goes through it; .help says what else can be typed.")
    elif face.send(c.Finish(view.id)):
        face.look(None)


def _go_on(face: "Talk", view: StepView, text: str) -> None:
    if text:
        face.tell("Nothing is asked here.")
        return
    after = face.job.after(view.id)
    face.look(after if view.id != face.job.current() else None)


def _go_there(face: "Talk", view: StepView, text: str) -> None:
    if text:
        face.tell("Nothing is asked here: this step is shut.")
    else:
        face.look(view.shut[0].step)


def _settle(face: "Talk", view: StepView, text: str) -> None:
    verdict = _unsettled(view)
    word, _, reason = text.partition(" ")
    if verdict is None or word not in ("accept", "deviate") or word != verdict.needs:
        face.say(*_ways(view))
        return
    if not reason:
        reason = face.ask_words("Why is it accepted?" if word == "accept" else "Why do you go on past it?")
    initials = face.ask_words("Your initials:")
    if word == "accept":
        done = face.send(c.Accept(view.id, verdict.key, reason, initials))
    else:
        done = face.send(c.Deviate(view.id, verdict.key, reason, initials))
    if done:
        face.say_change(view)


def _unsettled(view: StepView) -> VerdictView | None:
    return next((verdict for verdict in view.verdicts if verdict.needs), None)


def _ways(view: StepView) -> list[str]:
    """Return what can be typed where a step cannot end as it is."""
    verdict = _unsettled(view)
    mend = ".correct a value, or .redo the step"
    if verdict is None:
        return wrapped(f"{view.wants[:1].upper()}{view.wants[1:]}. Type .redo, or .help.")
    if verdict.needs == "accept":
        return wrapped(f"Type accept to accept it with a reason; or mend it: {mend}.")
    if verdict.needs == "deviate":
        return wrapped(f"Type deviate to go on past it with a reason; or mend it: {mend}.")
    return wrapped(f"Only evidence opens it: {mend}. If it cannot be mended: .leave or .stop.")
