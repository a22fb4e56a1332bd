"""What the screens of a job have in common: the commands that a key asks for, told to the app by name."""

from dataclasses import dataclass

from textual.message import Message

from tui.screens.page import PageScreen


class WishScreen(PageScreen[None]):
    """A screen of the job. Whoever derives from it says which commands can work, and what they are about."""

    @dataclass
    class Wished(Message):
        """A command was asked for (``note``, ``back`` and so on). ``entry`` is the value asked for at that moment."""

        wish: str
        step: str
        entry: str = ""

    def about(self, wish: str) -> tuple[str, str]:
        """Return the step, and the value, that a command is about."""
        return "", ""

    def unsay(self) -> None:
        """Drop what was said of the last command."""

    def wish(self, wish: str) -> None:
        """Report that a command was asked for. What was said of the one before is over."""
        self.bar_open = False
        self.unsay()
        self.refill()
        self.post_message(self.Wished(wish, *self.about(wish)))

    def action_back(self) -> None:
        """Look at the step before."""
        self.wish("back")

    def action_note(self) -> None:
        """Write a note."""
        self.wish("note")

    def action_skip(self) -> None:
        """Say that the value was not measured."""
        self.wish("skip")

    def action_sum(self) -> None:
        """Show the sum."""
        self.wish("sum")

    def action_correct(self) -> None:
        """Correct an earlier value."""
        self.wish("correct")

    def action_redo(self) -> None:
        """Do this step again."""
        self.wish("redo")

    def action_accept(self) -> None:
        """Accept a verdict."""
        self.wish("accept")

    def action_deviate(self) -> None:
        """Go on past a verdict."""
        self.wish("deviate")

    def action_goto(self) -> None:
        """Go to the step that was named."""
        self.wish("goto")

    def action_where(self) -> None:
        """Show where power is."""
        self.wish("where")

    def action_plan(self) -> None:
        """Show the plan."""
        self.wish("plan")

    def action_what_if(self) -> None:
        """Show other wire sizes."""
        self.wish("what_if")

    def action_volts(self) -> None:
        """Show the volts along the run."""
        self.wish("volts")

    def action_person(self) -> None:
        """Let another person go on."""
        self.wish("person")

    def action_leave(self) -> None:
        """Leave the job for now."""
        self.wish("leave")

    def action_stop(self) -> None:
        """End the job unfinished."""
        self.wish("stop")
