"""What the parts of the plain face know of the face itself: it says lines, asks, sends commands, shows steps."""

from typing import Protocol

from engine.session import commands as c
from engine.session.outcome import Refusal
from engine.session.runner import Runner
from engine.view.models import StepView
from tui.job import Job
from tui.plain.voice import Voice


class Talk(Protocol):
    """A job that is talked about line by line. ``at`` is the step looked at, None for the one that comes next."""

    job: Job
    runner: Runner
    voice: Voice
    at: str | None

    def ask_words(self, *prompt: str) -> str:
        """Ask for a text that a command needs; a command is no answer to it."""

    def send(self, command: c.Command) -> bool:
        """Send a command, ask what it asks, say what it refuses; True if it is recorded."""

    def refuse(self, refusal: Refusal, text: str = "") -> None:
        """Say why nothing was recorded."""

    def say(self, *lines: str) -> None:
        """Print lines."""

    def tell(self, sentence: str) -> None:
        """Print a sentence, wrapped."""

    def say_change(self, before: StepView) -> None:
        """Say what a recorded command changed on a step."""

    def look(self, step: str | None) -> None:
        """Go to a step, or to the one that comes next, and show it whole."""
