"""One running job as the screens see it: view-models out, commands in. No screen asks the engine but through it.

The engine's view rooms are imported at the first step, not at start: the first screen is painted before.
"""

from pathlib import Path

from engine.session.commands import Command
from engine.session.outcome import Decision, Outcome
from engine.session.runner import Runner
from engine.view.models import ClosingView, EntryRow, PlanView, Preview, ReturnView, StepView

RECENT = 9
"""Earlier entries offered for correction: as many as there are digit keys."""


class Job:
    """A runner, and every view-model of it."""

    def __init__(self, runner: Runner) -> None:
        self.runner = runner

    @property
    def demo(self) -> bool:
        """True if the job stands on invented facts."""
        return self.runner.state.demo

    @property
    def over(self) -> bool:
        """True if the job has ended."""
        return self.runner.state.over

    @property
    def person(self) -> str:
        """Who works on it."""
        return self.runner.state.person

    def current(self) -> str | None:
        """Return the step that comes next, or None if only closing is left."""
        from engine.session.gates import current_step

        return current_step(self.runner.procedure, self.runner.state, self.runner.clock.glance())

    def step(self, step_id: str) -> StepView:
        """Return one step."""
        from engine.view.step import step_view

        return step_view(self.runner.procedure, self.runner.state, step_id, self.runner.clock.glance())

    def row(self, entry_id: str) -> EntryRow:
        """Return one entry as a row."""
        from engine.view.values import row

        return row(self.runner.procedure.entry_by_id[entry_id], self.runner.state)

    def after(self, step_id: str) -> str | None:
        """Return the step after one in working order."""
        from engine.view.step import next_step

        return next_step(self.runner.procedure, self.runner.state, step_id)

    def last(self) -> str | None:
        """Return the last step in working order."""
        from engine.session.gates import applicable

        steps = applicable(self.runner.procedure, self.runner.state)
        return steps[-1].id if steps else None

    def title(self, step_id: str) -> str:
        """Return a step's title."""
        step = self.runner.procedure.step_by_id.get(step_id)
        return step.title if step else step_id

    def plan(self) -> PlanView | None:
        """Return the plan of the whole circuit as it stands, or None if the procedure has none."""
        if not self.runner.procedure.circuit:
            return None
        from engine.session.standing import standing
        from engine.view.plan import plan_view

        work, state = self.runner.procedure, self.runner.state
        return plan_view(work, standing(work, state), state.profile or work.profile)

    def returning(self) -> ReturnView:
        """Return the screen after a break."""
        from engine.view.come_back import return_view

        return return_view(self.runner.procedure, self.runner.state, self.runner.clock.glance())

    def closing(self) -> ClosingView:
        """Return the closing screen."""
        from engine.view.closing import closing_view

        return closing_view(self.runner.procedure, self.runner.state, self.runner.head)

    def preview(self, entry: str, text: str) -> Preview:
        """Return what a text would become."""
        from engine.view.preview import preview, preview_line

        work, state = self.runner.procedure, self.runner.state
        if ";" in text and work.entry_by_id[entry].unit != "words":
            return preview_line(work, state, work.step_of_entry[entry], text, self.runner.clock.glance())
        return preview(work, state, entry, text)

    def send(self, command: Command) -> Outcome:
        """Carry out a command: recorded means that it is on the disk."""
        return self.runner.send(command)

    def would(self, command: Command) -> Decision:
        """Return what would come of a command, recording nothing."""
        return self.runner.would(command)

    def move(self, folder: Path, reason: str) -> Outcome:
        """Go on in another folder."""
        return self.runner.move(folder, reason)

    def close(self) -> None:
        """Let go of the log."""
        self.runner.close()

    def recent(self, step_id: str) -> list[tuple[str, str]]:
        """Return (entry, words) of the values given last, this step's first, then step by step back."""
        found: list[tuple[str, str]] = []
        at: str | None = step_id
        while at and len(found) < RECENT:
            view = self.step(at)
            found += [(row.id, f"{row.ask}: {row.shown}") for row in view.rows if row.state != "open"]
            at = view.previous or None
        return found[:RECENT]
