"""The app as its job knows it: screens are shown on it, mistakes of ours are kept by it, the job is left through it."""

from tui.looks import Looks


class Host(Looks):
    """An app that a job is worked on in. What it is left for, or what a problem comes to, the app itself says."""

    def __init__(self) -> None:
        super().__init__()
        self.faults: list[Exception] = []

    def leave_job(self) -> None:
        """Leave the job."""
        raise NotImplementedError

    def could_not_open(self, sentence: str) -> None:
        """Say why a job could not be opened."""
        raise NotImplementedError
