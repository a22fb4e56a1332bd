"""The plain face at work: prints a step, asks for one line, sends one command, and says what came of it."""

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import TextIO

from engine.session import commands as c
from engine.session.outcome import Asked, Outcome, Recorded, Refusal, Unrecorded, answered
from engine.session.runner import Runner
from engine.view.closing import closing_view
from engine.view.come_back import return_view
from engine.view.models import ClosingView, EntryRow, StepView
from tui.inert import one_line
from tui.job import Job
from tui.plain.lines import ask_lines, closing_lines, return_lines, step_lines, wrapped
from tui.plain.verdict import verdict_lines
from tui.plain.wishes import HELP, wish


class Gone(Exception):
    """The input has ended, or the person leaves."""


class PlainFace:
    """One job, line by line. ``at`` is the step that is shown, None for the one that comes next."""

    def __init__(self, runner: Runner, inlet: TextIO, outlet: TextIO) -> None:
        self.job = Job(runner)
        self.runner = runner
        self.at: str | None = None
        self._inlet = inlet
        self._outlet = outlet
        self._shown: str | None = None

    def run(self) -> int:
        """Work until the job has ended or the input has; return the exit status."""
        try:
            if self.runner.resumed and not self.job.over:
                self.say(
                    *return_lines(
                        return_view(self.runner.procedure, self.runner.state, self._now()), demo=self.job.demo
                    )
                )
            while not self.job.over:
                self._turn()
            self.say(*closing_lines(self._closing(), demo=self.job.demo))
            return 0 if self.runner.state.clean else 1
        except (Gone, KeyboardInterrupt):
            self._leave("")
            return 0
        finally:
            self.runner.close()

    # One turn

    def _turn(self) -> None:
        step_id = self.at or self.job.current()
        if step_id is None:
            self._close()
            return
        view = self.job.step(step_id)
        if self._shown != step_id:
            self.say("", *step_lines(view))
            self._shown = step_id
        self._ask(view)

    def _ask(self, view: StepView) -> None:
        row = next((r for r in view.rows if r.state == "open"), None)
        if view.status in ("done", "ended"):
            self._line(view, ["This step is done. An empty line goes on; .redo does it again."], self._go_on)
        elif view.shut:
            said = [*wrapped(f"Shut: {view.shut[0].sentence}."), "Type: again (to do that step again)"]
            self._line(view, said, self._again)
        elif row is not None:
            self._line(view, ask_lines(row), lambda v, text: self._take(v, row, text))
        elif parts := [p for p in view.parts if not p.seen]:
            numbers = ", ".join(str(n) for n, p in enumerate(view.parts, start=1) if p in parts)
            self._line(view, [f"Number of the part that is on the wire ({numbers}):"], self._name)
        elif view.ready:
            ends = "Type go to go through this hold:" if view.hold else "An empty line ends this step:"
            self._line(view, [ends], self._finish)
        else:
            self._line(view, [*wrapped(view.wants), *_ways(view)], self._settle)

    def _line(self, view: StepView, prompt: list[str], take: Callable[[StepView, str], None]) -> None:
        self.say(*prompt)
        text = self.read()
        if text.startswith(".") and not text[1:2].isdigit():
            wish(self, view, text[1:])
        else:
            take(view, text)

    # What a line means, by what was asked

    def _take(self, view: StepView, row: EntryRow, text: str) -> None:
        if ";" in text and row.unit != "words":
            self.send(c.TakeSeveral(view.id, text))
        elif text:
            self.send(c.Take(row.id, text))
        else:
            self.say("Nothing was typed. Type the value, or .skip and a reason.")
        given = self.runner.state.given.get(row.id)
        if given is not None:
            after = self.job.step(view.id)
            shown = next((r.shown for r in after.rows if r.id == row.id), "")
            self.say(*wrapped(f"recorded: {shown}"))
            self.say(*(x for v in after.verdicts if v not in view.verdicts for x in verdict_lines(v)))

    def _name(self, view: StepView, text: str) -> None:
        if text.isascii() and text.isdigit() and 1 <= int(text) <= len(view.parts):
            self.send(c.NamePart(view.id, view.parts[int(text) - 1].id))
            seen = sum(p.seen for p in self.job.step(view.id).parts)
            self.say(f"on the wire: {seen} of {len(view.parts)}")
        else:
            self.say(f"Type a number from 1 to {len(view.parts)}.")

    def _finish(self, view: StepView, text: str) -> None:
        if view.hold and text != "go":
            self.say("This is a hold point: type go, or .help.")
        elif not view.hold and text:
            self.say("Nothing is asked here: an empty line ends the step; a note is .note and its text.")
        elif self.send(c.Finish(view.id)):
            self.at = None

    def _settle(self, view: StepView, text: str) -> None:
        word, _, rest = text.partition(" ")
        verdict = next((v for v in view.verdicts if v.needs), None)
        if verdict is None:
            self.say("Type .help for what can be done.")
        elif word == "accept" and rest:
            self.send(c.Accept(view.id, verdict.key, rest))
        elif word == "deviate" and rest:
            initials, _, reason = rest.partition(" ")
            self.send(c.Deviate(view.id, verdict.key, reason, initials))
        else:
            self.say(*_ways(view))

    def _again(self, view: StepView, text: str) -> None:
        if text != "again":
            self.say("Type again, or .help.")
            return
        step = view.shut[0].step
        if step in self.runner.state.done and not self.send(c.Redo(step)):
            return
        self.at, self._shown = step, None

    def _go_on(self, view: StepView, text: str) -> None:
        self.at = None

    def _close(self) -> None:
        self.say("", *closing_lines(self._closing(), demo=self.job.demo), "Type close to close the job:")
        text = self.read()
        if text == "close":
            self.send(c.Close())
        elif text.startswith("."):
            last = self.job.last()
            if last is not None:
                wish(self, self.job.step(last), text[1:])
        else:
            self.say("Type close, or .help.")

    # Talking

    def send(self, command: c.Command) -> bool:
        """Send a command, ask what it asks, say what it refuses; True if it is recorded."""
        outcome = self.runner.send(command)
        while isinstance(outcome, Asked | Unrecorded):
            outcome = self._question(outcome) if isinstance(outcome, Asked) else self._elsewhere(outcome, command)
        if isinstance(outcome, Refusal):
            self.say(*wrapped(f"Not taken: {outcome.sentence}."))
        self._shown = (
            self._shown if isinstance(outcome, Recorded) and isinstance(command, c.Take | c.NamePart) else None
        )
        return isinstance(outcome, Recorded)

    def _question(self, asked: Asked) -> Outcome:
        self.say(*wrapped(asked.question.sentence))
        self.say(*(f"  {n} {one_line(words)}" for n, (words, _) in enumerate(asked.question.choices, start=1)))
        text = self.read()
        if not (text.isascii() and text.isdigit()):
            return Refusal("nothing was picked; type the value again")
        return self.runner.send(answered(asked, int(text) - 1))

    def _elsewhere(self, failed: Unrecorded, command: c.Command) -> Outcome:
        self.say(*wrapped(failed.sentence), "Another folder to go on in (empty: leave):")
        folder = self.read()
        if not folder:
            raise Gone
        moved = self.runner.move(Path(folder), failed.sentence)
        return self.runner.send(command) if isinstance(moved, Recorded) else moved

    def say(self, *lines: str) -> None:
        """Print lines; each ends with a line end."""
        self._outlet.write("".join(f"{line}\n" for line in lines))
        self._outlet.flush()

    def read(self) -> str:
        """Return the next line, stripped; raises ``Gone`` at the end of the input."""
        line = self._inlet.readline()
        if not line:
            raise Gone
        return line.strip()

    def again(self) -> None:
        """Show the step anew."""
        self._shown = None

    def help(self) -> None:
        """Say what can be typed."""
        self.say(*HELP)

    def _leave(self, line: str) -> None:
        if not self.job.over:
            self.runner.send(c.Leave(line))

    def _closing(self) -> ClosingView:
        return closing_view(self.runner.procedure, self.runner.state, self.runner.head)

    def _now(self) -> datetime:
        return self.runner.clock.glance()


def _ways(view: StepView) -> list[str]:
    needs = next((v.needs for v in view.verdicts if v.needs), "")
    ways = {
        "accept": ["Type: accept REASON    or mend it: .correct, .redo"],
        "deviate": ["Type: deviate INITIALS REASON    or mend it: .correct, .redo"],
        "evidence": ["Only evidence opens it: .correct or .redo; or .stop"],
    }
    return ways.get(needs, ["Type .help for what can be done."])


def work_plainly(runner: Runner, inlet: TextIO, outlet: TextIO) -> int:
    """Let a person work on a job line by line and return the exit status."""
    return PlainFace(runner, inlet, outlet).run()
