"""The commands of the plain face: a line that begins with a dot. A number such as .5 is no command."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from engine.session import commands as c
from tui.awaited import row_asked
from tui.plain import changes
from tui.plain.lines import where_lines
from tui.plain.plan import plan_lines
from tui.plain.text import listed, wrapped
from tui.plain.verdict import verdict_lines
from tui.plain.voice import Gone, number_in

if TYPE_CHECKING:
    from engine.view.models import StepView
    from tui.plain.talk import Talk

HELP = (
    "What can be typed besides what is asked for:",
    "  .again            say this step again",
    "  .why              more about the value that is asked for",
    "  .skip REASON      this value is not measured, and why",
    "  .sum              the sum, limits and sources of each verdict",
    "  .where            where power is, and where hands may go",
    "  .todo             what is left to do before the job can close",
    "  .plan             the plan of the whole circuit",
    "  .back             look at the step before; nothing is lost",
    "  .note TEXT        write a note into the log",
    "  .attach FILE      copy a photo beside the log and record it",
    "  .correct          correct a value that was given earlier",
    "  .redo             do this step again",
    "  .profile NAME     judge by other rules: industry, federal, house",
    "  .person NAME      somebody else goes on with the job",
    "  .leave TEXT       leave for now, with a line to yourself",
    "  .stop             end the job unfinished",
    "Several values of one step may stand on one line, parted by ; .",
    "Text that begins with a dot is typed with two.",
)

Wish = Callable[["Talk", "StepView", str], None]


def is_wish(text: str) -> bool:
    """Return whether a line is a command.

    Example:
        >>> is_wish(".back"), is_wish(".5"), is_wish("..text"), is_wish("back")
        (True, False, False, False)
    """
    return text.startswith(".") and not text[1:2].isdigit() and not text.startswith("..")


def wish(face: "Talk", view: "StepView | None", text: str) -> None:
    """Carry out one command. Without a step (on coming back) only help, a note and leaving make sense."""
    word, _, rest = text[1:].partition(" ")
    known = WISHES.get(word)
    if known is None:
        face.tell(f'"{text[:24]}" is not known here; .help says what can be typed.')
    elif view is None and word not in ANYWHERE:
        face.tell("First the question above.")
    else:
        known(face, view, rest.strip())  # type: ignore[arg-type]  # those of ANYWHERE need no step


def _help(face: "Talk", view: "StepView", rest: str) -> None:
    face.say(*HELP)


def _again(face: "Talk", view: "StepView", rest: str) -> None:
    face.look(view.id)


def _back(face: "Talk", view: "StepView", rest: str) -> None:
    if face.at is None and face.job.current() is None:
        face.look(view.id)
    elif view.previous:
        face.look(view.previous)
    else:
        face.tell("This is the first step.")


def _why(face: "Talk", view: "StepView", rest: str) -> None:
    row = row_asked(view)
    if row is None:
        face.tell("No value is asked for here.")
        return
    texts = (row.ask, f"Typed as: {row.hint}", row.why and f"Why: {row.why}", row.known and f"Known: {row.known}")
    face.say(*(x for text in texts if text for x in wrapped(text, hang=2)))


def _skip(face: "Talk", view: "StepView", rest: str) -> None:
    row = row_asked(view)
    if row is None:
        face.tell("No value is asked for here.")
        return
    reason = rest
    if not reason:
        face.say(*wrapped(f"{row.ask}: why is it not measured?"), *(f"  {n} {x}" for n, x in enumerate(row.skip, 1)))
        reason = face.ask_words("A number, or the reason in a few words:")
    picked = number_in(reason, len(row.skip))
    if face.send(c.SkipEntry(row.id, reason if picked is None else row.skip[picked])):
        face.say_change(view)


def _note(face: "Talk", view: "StepView | None", rest: str) -> None:
    text = rest or face.ask_words("Your note:")
    if face.send(c.Note(view.id if view else "", text)):
        face.tell("recorded: your note")


def _attach(face: "Talk", view: "StepView", rest: str) -> None:
    from engine.session.attach import NotAttached, copy_beside

    path = rest or face.voice.ask("Which file? (empty: none)")
    if not path:
        return
    try:
        command = copy_beside(face.runner.path, Path(path).expanduser(), view.id)
    except NotAttached as problem:
        face.tell(f"Not taken: {problem}.")
        return
    if face.send(command):
        face.tell(f"recorded: {command.name}")


def _sum(face: "Talk", view: "StepView", rest: str) -> None:
    lines = [x for verdict in view.verdicts for x in (*verdict_lines(verdict, full=True), "")]
    face.say(*(lines[:-1] or ["There is no verdict on this step yet."]))


def _where(face: "Talk", view: "StepView | None", rest: str) -> None:
    face.say(*where_lines(face.job.where()))


def _todo(face: "Talk", view: "StepView | None", rest: str) -> None:
    left = face.job.closing()
    standing = listed("Failed, and never measured good again", left.standing)
    face.say(*(listed("Left to do", left.left_to_do) or ["Nothing is left to do but the steps."]), *standing)


def _plan(face: "Talk", view: "StepView", rest: str) -> None:
    plan = face.job.plan()
    face.say(*(plan_lines(plan) if plan is not None else ["This procedure has no circuit to plan."]))


def _profile(face: "Talk", view: "StepView", rest: str) -> None:
    changes.agreed(face, c.ChooseProfile(rest), f"judged by {rest} rules from here")


def _person(face: "Talk", view: "StepView", rest: str) -> None:
    changes.agreed(face, c.HandOver(rest), f"{rest} goes on from here")


def _leave(face: "Talk", view: "StepView | None", rest: str) -> None:
    if face.send(c.Leave(rest)):
        raise Gone


def _stop(face: "Talk", view: "StepView", rest: str) -> None:
    face.tell("The job ends here, unfinished. To come back to it, .leave instead.")
    reason = rest or face.ask_words("Why can it not go on? (10 letters or more; empty: it goes on)")
    if reason:
        face.send(c.Stop(reason, face.ask_words("How is it left? What is live, what is loose, what is tagged?")))


WISHES: dict[str, Wish] = {
    "help": _help,
    "again": _again,
    "why": _why,
    "skip": _skip,
    "sum": _sum,
    "where": _where,
    "todo": _todo,
    "plan": _plan,
    "back": _back,
    "note": _note,
    "attach": _attach,
    "correct": changes.correct,
    "redo": changes.redo,
    "profile": _profile,
    "person": _person,
    "leave": _leave,
    "stop": _stop,
}
"""Every command by its word."""

ANYWHERE = ("help", "note", "leave", "where", "todo")
"""Commands that need no step."""
