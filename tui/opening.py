"""From the first screen to a job: looking through the folder, asking who and what, opening the log."""

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from textual.app import App
from textual.worker import WorkerFailed

from engine.procedure.faults import ProcedureFaults
from engine.procedure.load import load
from engine.procedure.model import Procedure
from engine.session import commands as c
from engine.session.clock import Clock, SystemClock
from engine.session.folder import sessions_folder
from engine.session.runner import Runner
from engine.session.trouble import LogBusy, LogRefused
from engine.shipped import NotShipped, find, shipped
from tui.collecting import not_collecting
from tui.desk import Desk
from tui.job import Job

if TYPE_CHECKING:
    from engine.procedure.head import Head
    from engine.view.models import HomeView
    from tui.host import Host

Opening = Callable[[], Runner]


async def open_desk(app: "Host", opening: "Opening | Runner", take: Callable[[Desk], None]) -> bool:
    """Open a job in a thread, hand its desk to ``take``, and show where it stands; False if it cannot be opened."""
    try:
        with not_collecting():
            runner = opening if isinstance(opening, Runner) else await _in_thread(app, opening)
    except (LogRefused, LogBusy, ProcedureFaults, NotShipped, OSError) as problem:
        app.could_not_open(str(problem))
        return False
    desk = Desk(app, Job(runner))
    take(desk)
    if await _come_back(app, desk):
        await desk.show()
    return True


async def show_home(app: "Host", folder: Path | None, clock: Clock | None) -> None:
    """Look through the folder in a thread and show the first screen."""
    from tui.screens.home import HomeScreen

    with not_collecting():
        view = await _in_thread(app, partial(_home_view, sessions_folder(folder), clock or SystemClock()))
    while len(app.screen_stack) > 2:
        await app.pop_screen()
    await app.push_screen(HomeScreen(view))


async def ask_start(app: "Host", name: str, folder: Path | None, clock: Clock | None) -> Opening | None:
    """Ask for boat, person and rules, and return what opens the new job."""
    from tui.screens.asking import AskScreen, Field
    from tui.screens.picking import PickScreen

    procedure: Procedure = await _in_thread(app, partial(load, find(name)))
    fields = (
        Field("Which boat or trailer?", 1, "its name, or what you call it"),
        Field("Who works on it?", 0, "name or initials; may be left empty"),
    )
    got = await app.push_screen_wait(AskScreen(procedure.title, procedure.scope, fields))
    if got is None:
        return None
    names, titles = _profiles(procedure.profile)
    picked = await app.push_screen_wait(PickScreen("Rules", "Which rules judge this job?", titles))
    if picked is None:
        return None
    start = c.Start(asset=got[0], person=got[1], profile=names[picked])
    return partial(Runner.start, procedure, start, sessions_folder(folder), clock or SystemClock())


def resuming(path: Path, clock: Clock | None) -> Opening:
    """Return what opens a log again."""
    return partial(Runner.resume, path, clock or SystemClock())


async def _come_back(app: "Host", desk: Desk) -> bool:
    """Show how things stood after a break; False if the program is to be left."""
    from tui.screens.asking import AskScreen, Field
    from tui.screens.coming_back import ReturnScreen

    if not desk.job.runner.resumed or desk.job.over:
        return True
    view = desk.job.returning()
    while view.asks_to_look or view.line:
        picked = await app.push_screen_wait(ReturnScreen(view, demo=desk.job.demo))
        if picked == "on":
            return True
        if picked != "person":
            desk.close()
            app.leave_job()
            return False
        got = await app.push_screen_wait(
            AskScreen("Somebody else", "Firm holds are proved again.", (Field("Who goes on?"),))
        )
        if got and await desk.send(c.HandOver(got[0])):
            return True
    return True


def _home_view(folder: Path, clock: Clock) -> "HomeView":
    from engine.session.shelf import shelf
    from engine.view.home import home_view

    procedures = tuple(each for path in shipped() if (each := _head(path)) is not None)
    return home_view(shelf(folder), procedures, folder, clock.glance())


def _head(path: Path) -> "Head | None":
    from engine.procedure.head import head

    try:
        return head(path)
    except ProcedureFaults:
        return None


def _profiles(own: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the names of the rule profiles, the procedure's own first, and how to call them."""
    from engine.published.profiles import profile, profile_names

    names = (own, *(name for name in profile_names() if name != own))
    titles = tuple(f"{profile(name).title}{' (usual here)' if name == own else ''}" for name in names)
    return names, titles


async def _in_thread(app: App[Any], work: Callable[[], Any]) -> Any:  # noqa: ANN401  (each kind of work has its own result)
    try:
        return await app.run_worker(work, thread=True, group="open", exit_on_error=False).wait()
    except WorkerFailed as failed:
        raise failed.error from failed
