"""A disk that refuses: the log is offered another folder to go on in."""

from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tui.job import Job
from tui.screens.agreeing import AgreeScreen
from tui.screens.asking import AskScreen, Field

if TYPE_CHECKING:
    from textual.screen import Screen


async def other_folder(job: Job, sentence: str, wait_for: "Callable[[Screen[Any]], Awaitable[Any]]") -> bool:
    """Offer another folder for the log; True if the job goes on there.

    Args:
        job: The job whose log cannot be written.
        sentence: Why not.
        wait_for: Shows a screen and returns what it hands back.
    """
    field = Field("Folder to go on in", 1, "such as a memory stick", str(Path.home()))
    text = f"Not recorded: {sentence} What you typed is kept. The log can go on in another folder."
    got = await wait_for(AskScreen("Not recorded", text, (field,)))
    if not got:
        return False
    folder = Path(got[0]).expanduser().absolute()
    if not folder.is_dir() and not await wait_for(
        AgreeScreen("A new folder", f"{folder} is not there.", (), "make it")
    ):
        return await other_folder(job, sentence, wait_for)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as problem:
        return await other_folder(job, f"{folder} cannot be made ({problem.strerror}).", wait_for)
    outcome = job.move(folder, sentence)
    return not hasattr(outcome, "sentence") or await other_folder(job, str(getattr(outcome, "sentence", "")), wait_for)
