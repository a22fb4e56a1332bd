"""The commands of the plain face: a line that begins with a dot."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from engine.session import commands as c
from engine.session.outcome import Decided
from tui.plain.lines import listed
from tui.plain.plan import plan_lines
from tui.plain.verdict import verdict_lines

if TYPE_CHECKING:
    from engine.view.models import StepView
    from tui.plain.face import PlainFace

HELP = (
    "What can be typed besides a value:",
    "  .again             show the step again",
    "  .back              look at the step before",
    "  .skip REASON       this value is not measured",
    "  .note TEXT         write a note",
    "  .sum               how the verdicts were computed",
    "  .plan              the plan of the whole circuit",
    "  .correct           correct an earlier value",
    "  .redo              do this step again",
    "  .person NAME       somebody else goes on",
    "  .leave TEXT        leave, with a line to yourself",
    "  .stop              the job cannot go on",
    "Several values of one step go on one line, parted by ; .",
)


def wish(face: "PlainFace", view: "StepView", text: str) -> None:
    """Carry out one dot command."""
    word, _, rest = text.partition(" ")
    known: dict[str, Callable[[], object]] = {
        "help": face.help,
        "again": face.again,
        "back": lambda: _back(face, view),
        "skip": lambda: _skip(face, view, rest),
        "note": lambda: face.send(c.Note(view.id, rest)),
        "sum": lambda: _sum(face, view),
        "plan": lambda: _plan(face),
        "correct": lambda: _correct(face, view),
        "redo": lambda: _redo(face, view),
        "person": lambda: face.send(c.HandOver(rest)),
        "leave": lambda: _leave(face, rest),
        "stop": lambda: _stop(face),
    }
    if word in known:
        known[word]()
    else:
        face.say(f'".{word[:20]}" is not known here.')
        face.help()


def _back(face: "PlainFace", view: "StepView") -> None:
    if view.previous:
        face.at = view.previous
        face.again()
    else:
        face.say("This is the first step.")


def _skip(face: "PlainFace", view: "StepView", reason: str) -> None:
    row = next((r for r in view.rows if r.state == "open"), None)
    if row is None:
        face.say("No value is asked here.")
        return
    if not reason:
        face.say("Why is it not measured?", *(f"  {n} {text}" for n, text in enumerate(row.skip, start=1)))
        reason = face.read()
    if reason.isascii() and reason.isdigit() and 1 <= int(reason) <= len(row.skip):
        reason = row.skip[int(reason) - 1]
    if face.send(c.SkipEntry(row.id, reason)):
        face.say(f"recorded: not measured, {reason}")


def _sum(face: "PlainFace", view: "StepView") -> None:
    lines = [x for v in view.verdicts for x in (*verdict_lines(v, full=True), "")]
    face.say(*(lines or ["There is no verdict on this step yet."]))


def _plan(face: "PlainFace") -> None:
    plan = face.job.plan()
    face.say(
        *(plan_lines(plan) if plan is not None else ["This procedure has no plan, or its facts are not all there."])
    )


def _correct(face: "PlainFace", view: "StepView") -> None:
    entries = face.job.recent(view.id)
    if not entries:
        face.say("There is nothing to correct yet.")
        return
    face.say("Which value?", *(f"  {n} {words}" for n, (_, words) in enumerate(entries, start=1)))
    picked = face.read()
    if not (picked.isascii() and picked.isdigit() and 1 <= int(picked) <= len(entries)):
        face.say("Nothing is corrected.")
        return
    entry = entries[int(picked) - 1][0]
    face.say("The right value:")
    text = face.read()
    face.say("Why is it corrected?")
    reason = face.read()
    _say_effects(face, c.Correct(entry, text, reason))
    if face.send(c.Correct(entry, text, reason)):
        face.say("recorded: corrected")


def _redo(face: "PlainFace", view: "StepView") -> None:
    _say_effects(face, c.Redo(view.id))
    if face.send(c.Redo(view.id)):
        face.at = None


def _say_effects(face: "PlainFace", command: c.Command) -> None:
    decision = face.runner.would(command)
    if isinstance(decision, Decided):
        steps = [s for e in decision.events for s in (*getattr(e, "voided", ()), *getattr(e, "rejudged", ()))]
        face.say(*listed("This must then be ended again", (face.job.title(s) for s in steps)))


def _leave(face: "PlainFace", line: str) -> None:
    from tui.plain.face import Gone

    face.send(c.Leave(line))
    raise Gone


def _stop(face: "PlainFace") -> None:
    face.say("Why can it not go on (10 letters or more)?")
    reason = face.read()
    face.say("What is live, what is loose, what is tagged?")
    face.send(c.Stop(reason, face.read()))
