"""The first screen: looking through the folder, and asking who and what before a job is begun."""

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from engine.session.clock import Clock, SystemClock
from engine.session.folder import sessions_folder
from engine.shipped import find
from tui.collecting import not_collecting

if TYPE_CHECKING:
    from engine.session.runner import Runner
    from engine.view.models import HomeView
    from tui.host import Host


async def show_home(app: "Host", folder: Path | None, clock: Clock | None) -> None:
    """Look through the folder in a thread and show the first screen."""
    from tui.screens.home import HomeScreen

    with not_collecting():
        view = await app.in_thread(partial(_home_view, sessions_folder(folder), clock or SystemClock()))
    while len(app.screen_stack) > 2:
        await app.pop_screen()
    await app.push_screen(HomeScreen(view))


async def ask_start(app: "Host", name: str, folder: Path | None, clock: Clock | None) -> "Callable[[], Runner] | None":
    """Ask for boat, person and rules, and return what opens the new job."""
    from engine.procedure.load import load  # lazy, as all of a job: the first screen does without
    from engine.session.commands import Start
    from engine.session.runner import Runner
    from tui.screens.asking import AskScreen, Field
    from tui.screens.picking import PickScreen

    procedure = await app.in_thread(partial(load, find(name)))
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
    start = Start(asset=got[0], person=got[1], profile=names[picked])
    return partial(Runner.start, procedure, start, sessions_folder(folder), clock or SystemClock())


def _home_view(folder: Path, clock: Clock) -> "HomeView":
    from engine.procedure.head import heads
    from engine.session.shelf import shelf
    from engine.view.home import home_view

    return home_view(shelf(folder), heads()[0], folder, clock.glance())


def _profiles(own: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the names of the rule profiles, the procedure's own first, and how to call them."""
    from engine.published.profiles import profile, profile_names

    names = (own, *(name for name in profile_names() if name != own))
    titles = tuple(f"{profile(name).title}{' (usual here)' if name == own else ''}" for name in names)
    return names, titles
