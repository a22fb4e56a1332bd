"""The plain face at work: prints a step, asks for one line, sends one command, and says what came of it."""

import time
from collections.abc import Callable
from pathlib import Path
from typing import TextIO

from engine.session import commands as c
from engine.session.outcome import Asked, Outcome, Recorded, Refusal, Unrecorded, answered
from engine.session.runner import Runner
from engine.view.models import HaltView, StepView
from tui.draw.caret import excerpt
from tui.inert import one_line
from tui.job import Job
from tui.plain.changes import agreed
from tui.plain.lines import closing_lines, map_lines, return_lines, step_lines
from tui.plain.replies import reply
from tui.plain.text import ROOM, wrapped
from tui.plain.verdict import verdict_lines
from tui.plain.voice import Gone, Voice
from tui.plain.wishes import is_wish, wish


class PlainFace:
    """One job, line by line. ``at`` is the step that is looked at, None for the one that comes next."""

    def __init__(self, runner: Runner, voice: Voice) -> None:
        self.job = Job(runner)
        self.runner = runner
        self.voice = voice
        self.at: str | None = None
        self._shown: str | None = None

    def run(self) -> int:
        """Work until the job has ended, the input has, or the person leaves; return the exit status."""
        try:
            with self.voice.unbroken():
                return self._work()
        finally:
            self.runner.close()

    def _work(self) -> int:
        try:
            self._come_back()
            while not self.job.over:
                self._turn()
        except Gone:
            self._leave()
            return 0
        self.say("", *closing_lines(self.job.closing(), demo=self.job.demo))
        return 0 if self.runner.state.clean else 1

    # One turn

    def _come_back(self) -> None:
        if not self.runner.resumed or self.job.over:
            return
        view = self.job.returning()
        self.say(*return_lines(view, demo=self.job.demo))
        while view.asks_to_look or view.line:
            text = self.voice.ask("Type go to go on, or the name of the person who goes on from here:")
            if is_wish(text):
                wish(self, None, text)
            elif text == "go" or (text and agreed(self, c.HandOver(text), f"{text} goes on from here")):
                return

    def _turn(self) -> None:
        step_id = self.at or self.job.current()
        if step_id is None:
            self._close()
            return
        view = self.job.step(step_id)
        if view.halt is not None:
            self._halt(view.halt)
            return
        if self._shown != step_id:
            self.say("", *step_lines(view))
            self._shown = step_id
        prompt, take = reply(view)
        text = self.voice.ask(*prompt)
        if is_wish(text):
            wish(self, view, text)
        else:
            take(self, view, text.removeprefix(".") if text.startswith("..") else text)

    def _halt(self, halt: HaltView) -> None:
        hands = (f"{number} {each}" for number, each in enumerate(halt.hands, start=1))
        numbered = (line for each in hands for line in wrapped(each, hang=2))
        text = self.voice.ask("", *wrapped(f"STOP: {halt.sentence}."), *numbered, "Type away when your hands are away:")
        if text == "away":
            self.send(c.HandsOff())
        elif is_wish(text):
            wish(self, None, text)

    def _close(self) -> None:
        text = self.voice.ask(
            "", *closing_lines(self.job.closing(), demo=self.job.demo), "Type close to close the job:"
        )
        if text == "close":
            self.send(c.Close())
        elif is_wish(text):
            last = self.job.last()
            wish(self, self.job.step(last) if last else None, text)
        else:
            self.tell("Only the word close closes it; .back looks at the last step, .help says what else can be typed.")

    def ask_words(self, *prompt: str) -> str:
        """Ask for a text that a command needs; a command is no answer to it. Two dots begin a text with one."""
        while is_wish(text := self.voice.ask(*prompt)):
            self.tell("That is a command. First the question; an empty line answers nothing.")
        return text.removeprefix(".") if text.startswith("..") else text

    # Sending

    def send(self, command: c.Command) -> bool:
        """Send a command, ask what it asks, say what it refuses; True if it is recorded."""
        outcome = self.runner.send(command)
        while isinstance(outcome, Asked | Unrecorded):
            outcome = self._question(outcome) if isinstance(outcome, Asked) else self._elsewhere(outcome, command)
        if isinstance(outcome, Refusal):
            self.refuse(outcome, getattr(command, "text", ""))
        return isinstance(outcome, Recorded)

    def refuse(self, refusal: Refusal, text: str = "") -> None:
        """Say why nothing was recorded, with a caret under the fault where its place is known."""
        if text and refusal.column is not None and one_line(text) == text:
            part, at = excerpt(text, refusal.column, ROOM.measure)
            self.say(f"  {part}", f"  {' ' * at}^")
        self.tell(f"Not taken: {refusal.sentence.rstrip('.')}.")

    def _question(self, asked: Asked) -> Outcome:
        words = [one_line(choice) for choice, _ in asked.question.choices]
        picked = self.voice.pick("\n".join(wrapped(asked.question.sentence)), words, otherwise="none of these")
        if picked is None:
            return Refusal("nothing was picked, and nothing is recorded")
        return self.runner.send(answered(asked, picked))

    def _elsewhere(self, failed: Unrecorded, command: c.Command) -> Outcome:
        text = self.voice.ask(
            *wrapped(f"NOT RECORDED: {failed.sentence}"),
            "Type again to try once more, or another folder to go on in:",
        )
        if text == "again":
            return self.runner.send(command)
        if not text:
            return Refusal("nothing is recorded; everything before is on the disk")
        folder = Path(text).expanduser().absolute()
        if not folder.is_dir() and self.voice.ask(*wrapped(f"{folder} is not there. Type yes to make it:")) != "yes":
            return failed
        try:
            folder.mkdir(parents=True, exist_ok=True)
        except OSError as problem:
            return Unrecorded(f"{folder} cannot be made ({problem.strerror})")
        moved = self.runner.move(folder, failed.sentence)
        return self.runner.send(command) if isinstance(moved, Recorded) else moved

    # Talking

    def say(self, *lines: str) -> None:
        """Print lines."""
        self.voice.say(*lines)

    def tell(self, sentence: str) -> None:
        """Print a sentence, wrapped."""
        self.voice.say(*wrapped(sentence))

    def say_change(self, before: StepView) -> None:
        """Say what a recorded command changed on a step: values, and verdicts that are new.

        Where another question stood before the step's own, the whole step is said next.
        """
        after = self.job.step(before.id)
        if before.rows and not {row.id for row in before.rows} & {row.id for row in after.rows}:
            self.tell("recorded")
            self.look(self.at)
            return
        stood = {row.id: (row.state, row.shown) for row in before.rows}
        changed = [row for row in after.rows if row.state != "open" and stood.get(row.id) != (row.state, row.shown)]
        for row in changed:
            name = f"{row.ask}: " if len(changed) > 1 else ""
            self.say(*(map_lines(row.map, name) if row.map else wrapped(f"recorded: {name}{row.shown}", hang=2)))
        self.say(*(x for each in after.verdicts if each not in before.verdicts for x in verdict_lines(each)))

    def look(self, step: str | None) -> None:
        """Go to a step, or to the one that comes next, and show it whole."""
        self.at, self._shown = step, None

    def _leave(self) -> None:
        if not self.job.over and not self.runner.state.away:
            self.runner.send(c.Leave())


def work_plainly(runner: Runner, inlet: TextIO, outlet: TextIO, seconds: Callable[[], float] = time.monotonic) -> int:
    """Let a person work on a job line by line and return the exit status."""
    return PlainFace(runner, Voice(inlet, outlet, seconds)).run()
