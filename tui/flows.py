"""What each command of a job does on the screen, one small flow each: ask, send, show."""

from collections.abc import Awaitable, Callable, Mapping
from typing import TYPE_CHECKING

from engine.session import commands as c
from engine.session import events as e
from engine.session.lengths import LEAST_REASON
from engine.session.outcome import Asked, Decided, Refusal
from tui.screens.agreeing import AgreeScreen
from tui.screens.asking import AskScreen, Field
from tui.screens.picking import PickScreen
from tui.screens.reading import ReadScreen, plan_screen, sum_screen

if TYPE_CHECKING:
    from tui.desk import Desk

Flow = Callable[["Desk", str, str], Awaitable[None]]
"""One command on the screen: it is told the step and the entry in view."""


async def back(desk: "Desk", step: str, entry: str) -> None:
    """Show the step before."""
    await desk.show(desk.job.step(step).previous or step)


async def forward(desk: "Desk", step: str, entry: str) -> None:
    """Show the step after one that is done; from the last one, whatever comes next."""
    after = desk.job.after(step)
    await desk.show(None if step == desk.job.current() else after)


async def last(desk: "Desk", step: str, entry: str) -> None:
    """Show the last step."""
    await desk.show(desk.job.last())


async def goto(desk: "Desk", step: str, entry: str) -> None:
    """Show the step that was named."""
    await desk.show(step)


async def note(desk: "Desk", step: str, entry: str) -> None:
    """Write a note."""
    got = await desk.wait_for(AskScreen("A note", "It goes into the log as you type it.", (Field("Your note"),)))
    if got and await desk.send(c.Note(desk.at, got[0])):
        await desk.show(step or None, "Your note is recorded.")


async def skip(desk: "Desk", step: str, entry: str) -> None:
    """Say that a value was not measured."""
    row = next((row for row in desk.job.step(step).rows if row.id == entry), None)
    if row is None:
        return
    own = "another reason"
    picked = await desk.wait_for(PickScreen("Not measured", f"{row.ask}: why not?", (*row.skip[:6], own)))
    if picked is None:
        return
    reason = row.skip[picked] if picked < len(row.skip[:6]) else await _typed_reason(desk, "Not measured", row.ask)
    if reason:
        await desk.take(c.SkipEntry(entry, reason))


async def show_sum(desk: "Desk", step: str, entry: str) -> None:
    """Show the sums behind the verdicts."""
    await desk.wait_for(sum_screen(desk.job.step(step)))


async def plan(desk: "Desk", step: str, entry: str) -> None:
    """Show the whole circuit."""
    await _plan(desk, "plan")


async def what_if(desk: "Desk", step: str, entry: str) -> None:
    """Show other wire sizes."""
    await _plan(desk, "what_if")


async def volts(desk: "Desk", step: str, entry: str) -> None:
    """Show the volts along the run."""
    await _plan(desk, "volts")


async def accept(desk: "Desk", step: str, entry: str) -> None:
    """Accept a verdict."""
    verdict = next((each for each in desk.job.step(step).verdicts if each.needs == "accept"), None)
    if verdict is None:
        return
    fields = (Field("Why is it accepted?", 3), Field("Your initials", 0, "may be left empty"))
    got = await desk.wait_for(AskScreen("Accept", f"{verdict.label} {verdict.sentence}", fields))
    if got:
        await desk.take(c.Accept(step, verdict.key, got[0], got[1]))


async def deviate(desk: "Desk", step: str, entry: str) -> None:
    """Go on past a verdict."""
    verdict = next((each for each in desk.job.step(step).verdicts if each.needs == "deviate"), None)
    if verdict is None:
        return
    text = f"{verdict.label} {verdict.sentence} To go on is a deviation: it stays in the log, and the job is not clean."
    fields = (Field("Why do you go on?", LEAST_REASON, f"{LEAST_REASON} characters or more"), Field("Your initials"))
    got = await desk.wait_for(AskScreen("Deviation", text, fields))
    if got:
        await desk.take(c.Deviate(step, verdict.key, got[0], got[1]))


async def correct(desk: "Desk", step: str, entry: str) -> None:
    """Correct an earlier value: pick it, type it, say why, see what follows, agree."""
    recent = desk.job.recent(step or desk.at)
    if not recent:
        desk.refuse("There is no value to correct yet")
        return
    picked = await desk.wait_for(PickScreen("Correct", "Which value?", tuple(words for _, words in recent)))
    if picked is None:
        return
    which, words = recent[picked]
    right = Field("The right value", 1, desk.job.row(which).hint, check=lambda text: desk.preview(which, text).problem)
    fields = (right, Field("Why is it corrected?", 3))
    got = await desk.wait_for(
        AskScreen("Correct", f"Stands in the log: {words}. The old value stays in the log.", fields)
    )
    if got:
        await _agreed(desk, c.Correct(which, got[0], got[1]))


async def redo(desk: "Desk", step: str, entry: str) -> None:
    """Do a step again, after saying what has to be done again with it."""
    await _agreed(desk, c.Redo(step))


async def leave(desk: "Desk", step: str, entry: str) -> None:
    """Leave the job, with a line to oneself."""
    text = "Everything is on the disk. A line to yourself is shown first when you come back."
    field = Field("What should you know then?", 0, 'such as "left hand wire still loose"; may be left empty')
    got = await desk.wait_for(AskScreen("Leave", text, (field,)))
    if got is not None and await desk.send(c.Leave(got[0])):
        desk.leave()


async def stop(desk: "Desk", step: str, entry: str) -> None:
    """End the job unfinished."""
    text = "The job ends here, unfinished, and cannot be gone on with. To come back to it later, leave it instead."
    fields = (
        Field("Why can it not go on?", LEAST_REASON, f"{LEAST_REASON} characters or more"),
        Field("How is it left? What is live, loose, tagged?"),
    )
    got = await desk.wait_for(AskScreen("Stop", text, fields))
    agreed = got and await desk.wait_for(AgreeScreen("Stop", "End the job unfinished?", got, "end the job"))
    if got and agreed and await desk.send(c.Stop(got[0], got[1])):
        await desk.show()


async def close(desk: "Desk", step: str, entry: str) -> None:
    """Close the job."""
    if await desk.send(c.Close()):
        await desk.show()


async def done_with(desk: "Desk", step: str, entry: str) -> None:
    """Leave an ended job."""
    desk.leave()


async def look(desk: "Desk", step: str, entry: str) -> None:
    """Answer a dated look."""
    items = list(desk.job.runner.state.due.items())
    item, due = items[int(step)]
    got = await desk.wait_for(
        AskScreen("A dated look", due.says, (Field("What did you find?"), Field("Who looked?", 0)))
    )
    if got and await desk.send(c.FollowUp(item, got[0], got[1])):
        await desk.show()


async def _agreed(desk: "Desk", command: c.Correct | c.Redo) -> None:
    """Say what a command would make void, and carry it out if the person agrees."""
    would = desk.job.would(command)
    if isinstance(would, Refusal):
        desk.refuse(would.sentence, would.step)
        return
    if isinstance(would, Asked):
        await _agreed_answer(desk, command, would)
        return
    again = _again(desk, would)
    word = "correct it" if isinstance(command, c.Correct) else "do it again"
    ask = AgreeScreen("Before it happens", "These steps have to be done again:", again, word)
    if (not again or await desk.wait_for(ask)) and await desk.send(command):
        await desk.show(command.step if isinstance(command, c.Redo) else None)


async def _agreed_answer(desk: "Desk", command: c.Correct | c.Redo, asked: Asked) -> None:
    words = tuple(choice for choice, _ in asked.question.choices)
    picked = await desk.wait_for(PickScreen("A question about what you typed", asked.question.sentence, words))
    if picked is not None and isinstance(command, c.Correct):
        await _agreed(desk, c.Correct(command.entry, command.text, command.reason, picked))


def _again(desk: "Desk", would: Decided) -> tuple[str, ...]:
    steps: list[str] = []
    for event in would.events:
        if isinstance(event, e.Corrected):
            steps += event.rejudged
        elif isinstance(event, e.Redone):
            steps += event.voided
    return tuple(desk.job.title(step) for step in dict.fromkeys(steps))


async def _typed_reason(desk: "Desk", title: str, text: str) -> str:
    got = await desk.wait_for(AskScreen(title, text, (Field("The reason", 3, "a few words"),)))
    return got[0] if got else ""


async def _plan(desk: "Desk", kind: str) -> None:
    made = desk.job.plan()
    if made is None:
        desk.refuse("This procedure has no circuit to plan")
        return
    screen: ReadScreen = plan_screen(made, kind)
    await desk.wait_for(screen)


FLOWS: Mapping[str, Flow] = {
    "back": back, "forward": forward, "last": last, "goto": goto, "note": note, "skip": skip, "sum": show_sum,
    "plan": plan, "what_if": what_if, "volts": volts, "accept": accept, "deviate": deviate, "correct": correct,
    "redo": redo, "leave": leave, "stop": stop, "close": close, "done_with": done_with, "look": look,
}  # fmt: skip
"""Every command by its name."""
