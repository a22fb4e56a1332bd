"""What each command of a job does on the screen, one small flow each: ask, send, show."""

from collections.abc import Awaitable, Callable, Mapping
from typing import TYPE_CHECKING

from engine.session import commands as c
from engine.session import events as e
from engine.session.lengths import LEAST_REASON
from engine.session.outcome import Asked, Decided, Refusal, answered
from tui.screens.agreeing import AgreeScreen
from tui.screens.asking import AskScreen, Field
from tui.screens.picking import PickScreen
from tui.screens.reading import ReadScreen, plan_screen, sum_screen, where_screen

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


async def where(desk: "Desk", step: str, entry: str) -> None:
    """Show where power is and where hands are."""
    await desk.wait_for(where_screen(desk.job.where()))


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
    """Do a step again, or mend what it found, after saying the whole route that this leads through."""
    remedies = desk.job.remedies(desk.job.step(step))
    last = len(remedies) - 1
    picked = await desk.wait_for(PickScreen("Redo or mend", "What will the hands do?", remedies)) if remedies else last
    if picked is not None:
        await _agreed(desk, c.Redo(step, 0 if picked == last else picked + 1))


async def hand_over(desk: "Desk", step: str, entry: str) -> None:
    """Let another person go on."""
    if await handed_over(desk):
        await desk.show(step or None, f"{desk.job.person} goes on.")


async def handed_over(desk: "Desk") -> bool:
    """Ask who goes on, say which proofs are made again for other hands; True if it is recorded."""
    text = "No dead proof stands for the hands of another: it is made again before they go on anything."
    got = await desk.wait_for(AskScreen("Somebody else", text, (Field("Who goes on?"),)))
    return bool(got) and await _sent(desk, c.HandOver(got[0])) is not None


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
    """Say what a command would make void, carry it out if the person agrees, and show where the work goes on."""
    if decided := await _sent(desk, command):
        again = [step for event in decided.events if isinstance(event, e.Redone) for step in event.voided]
        await desk.show(again[0] if again else None)


async def _sent(desk: "Desk", command: c.Command) -> Decided | None:
    """Say the way that a command leads through, and carry it out if the person agrees; None if it is not recorded."""
    would = desk.job.would(command)
    if isinstance(would, Refusal):
        desk.refuse(would.sentence, would.step)
        return None
    if isinstance(would, Asked):
        words = tuple(choice for choice, _ in would.question.choices)
        picked = await desk.wait_for(PickScreen("A question about what you typed", would.question.sentence, words))
        return None if picked is None else await _sent(desk, answered(would, picked))
    ways = desk.job.ways(would)
    ask = AgreeScreen("Before it happens", "", ways, _WORDS[type(command)])
    return would if (not ways or await desk.wait_for(ask)) and await desk.send(command) else None


_WORDS: Mapping[type, str] = {c.Correct: "correct it", c.Redo: "begin", c.HandOver: "hand over"}
"""What g does after the way was shown."""


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
    "where": where, "plan": plan, "what_if": what_if, "volts": volts, "accept": accept, "deviate": deviate,
    "correct": correct, "redo": redo, "person": hand_over, "leave": leave, "stop": stop, "close": close,
    "done_with": done_with, "look": look,
}  # fmt: skip
"""Every command by its name."""
