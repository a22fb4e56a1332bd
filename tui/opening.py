"""Opening a job: its log in a thread, its desk, and how things stood after a break."""

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from engine.procedure.faults import ProcedureFaults
from engine.session.clock import Clock, SystemClock
from engine.session.runner import Runner
from engine.session.trouble import LogBusy, LogRefused
from engine.shipped import NotShipped
from tui.collecting import not_collecting
from tui.desk import Desk
from tui.job import Job

if TYPE_CHECKING:
    from tui.host import Host

Opening = Callable[[], Runner]


async def open_desk(app: "Host", opening: "Opening | Runner", take: Callable[[Desk], None]) -> bool:
    """Open a job in a thread, hand its desk to ``take``, and show where it stands; False if it cannot be opened."""
    try:
        with not_collecting():
            runner = opening if isinstance(opening, Runner) else await app.in_thread(opening)
    except (LogRefused, LogBusy, ProcedureFaults, NotShipped, OSError) as problem:
        app.tell(str(problem))
        return False
    desk = Desk(app, Job(runner))
    take(desk)
    if await _come_back(app, desk):
        await desk.show()
    return True


def resuming(path: Path, clock: Clock | None) -> Opening:
    """Return what opens a log again."""
    return partial(Runner.resume, path, clock or SystemClock())


async def _come_back(app: "Host", desk: Desk) -> bool:
    """Show how things stood after a break; False if the program is to be left."""
    from tui.flows import handed_over
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
        if await handed_over(desk):
            return True
    return True
