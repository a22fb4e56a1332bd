"""One job on the screen: which step is shown, what a command came to, and where the screen goes from there."""

import asyncio
from functools import partial
from typing import TYPE_CHECKING, Any

from engine.session import commands as c
from engine.session.outcome import Asked, Outcome, Recorded, Refusal, Unrecorded, answered
from engine.view.models import HaltView, Preview
from tui.awaited import row_asked
from tui.job import Job
from tui.screens.closing import ClosingScreen
from tui.screens.step import StepScreen

if TYPE_CHECKING:
    from textual.screen import Screen

    from tui.host import Host


class Desk:
    """Shows a job step by step. Every method that waits for the person runs in a worker of the app."""

    def __init__(self, app: "Host", job: Job) -> None:
        self.app = app
        self.job = job
        self.screen: StepScreen | ClosingScreen | None = None
        self.over = False
        self._sending = asyncio.Lock()

    # What is shown

    async def show(self, step_id: str | None = None, said: str = "") -> None:
        """Show a step, or the one that comes next; the closing screen if none is left."""
        at = step_id or (None if self.job.over else self.job.current())
        if at is None:
            await self._show_closing()
            return
        view = self.job.step(at)
        if isinstance(self.screen, StepScreen):
            self.screen.show_step(view, said)
        else:
            await self._switch(StepScreen(view, self.preview))
        if view.halt is not None:
            await self._halt(view.halt)

    async def _halt(self, halt: HaltView) -> None:
        from tui.screens.halt import HaltScreen  # lazy: few values hurt

        if await self.wait_for(HaltScreen(halt)) and await self.send(c.HandsOff()):
            await self.show(self.at)

    @property
    def at(self) -> str:
        """The step that is shown, the last one on the closing screen."""
        if isinstance(self.screen, StepScreen):
            return self.screen.view.id
        return self.job.last() or ""

    async def _show_closing(self) -> None:
        view = self.job.closing()
        if isinstance(self.screen, ClosingScreen):
            self.screen.show_closing(view)
            return
        await self._switch(ClosingScreen(view, demo=self.job.demo))

    async def _switch(self, screen: "StepScreen | ClosingScreen") -> None:
        before, self.screen = self.screen, screen
        if before is None:
            await self.app.push_screen(screen)
        else:
            await self.app.switch_screen(screen)

    def preview(self, entry: str, text: str) -> Preview:
        """Return what a text would become; a mistake of ours in it is kept, and costs only the preview."""
        try:
            return self.job.preview(entry, text)
        except Exception as fault:
            self.app.faults.append(fault)
            return Preview()

    # What a command comes to

    async def send(self, command: c.Command, text: str = "") -> bool:
        """Carry out a command, one at a time; True once it is on the disk."""
        async with self._sending:
            outcome = await self._on_disk(command)
        return await self._settle(outcome, command, text)

    async def take(self, command: c.Command, text: str = "") -> None:
        """Carry out a command of the step and show where the step stands now."""
        if await self.send(command, text):
            await self.show(self.at, "Recorded.")

    async def finish(self, step: str) -> None:
        """End a step and show the next one that is not done."""
        if await self.send(c.Finish(step)):
            await self.show()

    async def _on_disk(self, command: c.Command) -> Outcome:
        """Run the disk's work in a thread, so that the screen never waits for it."""
        worker = self.app.run_worker(
            partial(self.job.send, command), thread=True, exclusive=True, group="disk", exit_on_error=False
        )
        return await worker.wait()

    async def _settle(self, outcome: Outcome, command: c.Command, text: str) -> bool:
        match outcome:
            case Recorded():
                return True
            case Asked():
                return await self._ask(outcome, text)
            case Refusal():
                self.refuse(outcome.sentence, outcome.step, text, outcome.column)
                return False
            case Unrecorded():
                return await self._elsewhere(outcome.sentence, command, text)

    async def _ask(self, asked: Asked, text: str) -> bool:
        from tui.screens.picking import PickScreen  # lazy: few jobs come to it

        question = asked.question
        words = tuple(choice for choice, _ in question.choices)
        picked = await self.wait_for(PickScreen("A question first", question.sentence, words))
        if picked is None:
            self.refuse("Nothing was recorded.", "", text)
            return False
        return await self.send(answered(asked, picked), text)

    async def _elsewhere(self, sentence: str, command: c.Command, text: str) -> bool:
        from tui.other_folder import other_folder  # lazy: few disks refuse

        if await other_folder(self.job, sentence, self.wait_for):
            return await self.send(command, text)
        self.refuse(sentence, "", text)
        return False

    def refuse(self, sentence: str, step: str = "", text: str = "", column: int | None = None) -> None:
        """Say why nothing was recorded; ``column`` is the place of the fault in the text, from 0."""
        if isinstance(self.screen, StepScreen):
            view = self.job.step(self.screen.view.id)
            if row_asked(view) != self.screen.asked:  # a gap: another question stands before the step's own
                self.screen.show_step(view)
                text = ""
            self.screen.show_refusal(sentence, step, text, column)
        elif isinstance(self.screen, ClosingScreen):
            self.screen.show_refusal(sentence)

    async def wait_for(self, screen: "Screen[Any]") -> Any:  # noqa: ANN401  (each screen has its own result)
        """Show a screen and wait for what it hands back."""
        return await self.app.push_screen_wait(screen)

    def leave(self) -> None:
        """Leave the job."""
        self.app.leave_job()

    def close(self) -> None:
        """Let go of the log."""
        self.job.close()
