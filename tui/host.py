"""The app as its job knows it: screens are shown on it, mistakes of ours are kept by it, the job is left through it."""

from collections.abc import Callable
from typing import TypeVar

from textual.worker import WorkerFailed

from tui.looks import Looks

Found = TypeVar("Found")


class Host(Looks):
    """An app that a job is worked on in. What it is left for, the app itself says."""

    def __init__(self) -> None:
        super().__init__()
        self.faults: list[Exception] = []

    def leave_job(self) -> None:
        """Leave the job."""
        raise NotImplementedError

    def tell(self, sentence: str) -> None:
        """Say on the present screen why something did not work."""
        raise NotImplementedError

    async def in_thread(self, work: Callable[[], Found]) -> Found:
        """Do what takes its time in a thread, and return what came of it; its fault is raised here."""
        worker = self.run_worker(work, thread=True, group="open", exit_on_error=False)
        try:
            return await worker.wait()
        except WorkerFailed as failed:
            raise failed.error from failed
