"""The Textual app: shows a job that is open, or the first screen where one is chosen, and wires screens to the job."""

from collections.abc import Callable, Coroutine
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rich.text import Text

from tui.ending import end_on_signals
from tui.host import Host
from tui.inert import inert
from tui.screens.wait import WaitScreen

if TYPE_CHECKING:
    from engine.session.clock import Clock
    from engine.session.runner import Runner
    from tui.desk import Desk
    from tui.screens.closing import ClosingScreen
    from tui.screens.home import HomeScreen
    from tui.screens.step import StepScreen
    from tui.screens.wishing import WishScreen

Opening = Callable[[], "Runner"]
"""Opens a job: reads its procedure or its log. May raise ``LogRefused``, ``LogBusy`` or a fault of a procedure."""


class TugtestApp(Host):
    """The screens of a job. Without a job it begins with the first screen, where one is chosen."""

    def __init__(self, job: "Runner | None" = None, clock: "Clock | None" = None, folder: Path | None = None) -> None:
        super().__init__()
        self._job = job
        self._clock = clock
        self._folder = folder
        self.desk: Desk | None = None
        self.own_keys: dict[str, str] = {}
        self._wait = WaitScreen("Looking for sessions ...")

    def on_mount(self) -> None:
        """Show the job at once; without one paint something, and then look through the folder."""
        end_on_signals(self)
        if self._job is not None:
            self._flow(self._open(self._job))
            return
        self.push_screen(self._wait)
        self.call_after_refresh(lambda: self._flow(self._home()))

    # Opening

    async def _open(self, opening: "Opening | Runner") -> None:
        from tui.opening import open_desk

        if await open_desk(self, opening, self._take_desk):
            self._take_own_keys()

    def _take_desk(self, desk: "Desk") -> None:
        self.desk = desk

    async def _home(self) -> None:
        from tui.choosing import show_home

        await show_home(self, self._folder, self._clock)
        self._take_own_keys()

    @property
    def demo(self) -> bool:
        """True while the open job is a demo: every screen says so."""
        return self.desk is not None and self.desk.job.demo

    def leave_job(self) -> None:
        """Leave the job: back to the first screen if the program began there, or else to the shell."""
        if self._job is not None or self.desk is None:
            self.end()
            return
        self.desk.close()
        self.desk = None
        self._flow(self._home())

    async def action_quit(self) -> None:
        """Leave the program: there is nothing to save, every entry is on the disk already."""
        self.end()

    def end(self) -> None:
        """End the program, and say in the shell where the log is."""
        if self.desk:
            where = inert(f"Everything recorded is in {self.desk.job.runner.path}")
            go_on = f"\nTo go on: tugtest {'demo' if self.demo else 'resume'}"
            self.exit(message=Text(where if self.desk.job.over else where + go_on))
        else:
            self.exit()

    def _take_own_keys(self) -> None:
        from tui.keys import KeyFileError, key_file, read_key_file

        try:
            self.own_keys = read_key_file(key_file())
        except KeyFileError as fault:
            self.tell(str(fault))
        if self.own_keys:
            self.set_keymap(self.own_keys)

    def tell(self, sentence: str) -> None:
        """Say on the present screen why something did not work."""
        show = getattr(self.screen, "show_problem", None) or self._wait.tell
        show(sentence)

    def on_home_screen_resumed(self, message: "HomeScreen.Resumed") -> None:
        """A session was picked."""
        from tui.opening import resuming

        self._flow(self._open(resuming(Path(message.path), self._clock)))

    def on_home_screen_begun(self, message: "HomeScreen.Begun") -> None:
        """A procedure was picked."""
        self._flow(self._begin_new(message.procedure))

    async def _begin_new(self, procedure: str) -> None:
        from tui.choosing import ask_start

        opening = await ask_start(self, procedure, self._folder, self._clock)
        if opening is not None:
            await self._open(opening)

    # What the screens of a job report

    def on_step_screen_entered(self, message: "StepScreen.Entered") -> None:
        """A value was confirmed."""
        from engine.session.commands import Take

        if self.desk:
            self._flow(self.desk.take(Take(message.entry, message.text), message.text))

    def on_step_screen_several_entered(self, message: "StepScreen.SeveralEntered") -> None:
        """Several values were confirmed."""
        from engine.session.commands import TakeSeveral

        if self.desk:
            self._flow(self.desk.take(TakeSeveral(message.step, message.text), message.text))

    def on_step_screen_part_seen(self, message: "StepScreen.PartSeen") -> None:
        """A part is on the wire."""
        from engine.session.commands import NamePart

        if self.desk:
            self._flow(self.desk.take(NamePart(message.step, message.part)))

    def on_step_screen_confirmed(self, message: "StepScreen.Confirmed") -> None:
        """A step is done."""
        if self.desk:
            self._flow(self.desk.finish(message.step))

    def on_wish_screen_wished(self, message: "WishScreen.Wished") -> None:
        """A command was asked for."""
        if self.desk:
            self._flow(self._wish(self.desk, message.wish, message.step, message.entry))

    def on_closing_screen_wished(self, message: "ClosingScreen.Wished") -> None:
        """A command was asked for on the closing screen."""
        if self.desk:
            self._flow(self._wish(self.desk, message.wish, message.step))

    async def _wish(self, desk: "Desk", wish: str, step: str, entry: str = "") -> None:
        from tui.flows import FLOWS  # lazy: not needed before the first command

        await FLOWS[wish](desk, step, entry)

    # The end

    async def on_unmount(self) -> None:
        """Let go of the log."""
        if self.desk:
            self.desk.close()

    # Helpers

    def _flow(self, flow: Coroutine[Any, Any, None]) -> None:
        self.run_worker(self._guarded(flow), group="flow")

    async def _guarded(self, flow: Coroutine[Any, Any, None]) -> None:
        """Run a flow; a mistake of ours in it is told, and does not take the screen down."""
        try:
            await flow
        except Exception as fault:  # the job goes on: everything recorded is on the disk
            self.faults.append(fault)
            self.tell(
                f"The program made a mistake ({type(fault).__name__}: {fault}). What was recorded is on the disk."
            )
