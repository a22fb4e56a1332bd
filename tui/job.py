"""One running job as the screens see it: view-models out, commands in. No screen asks the engine but through it.

The engine's view rooms are imported at the first step, not at start: the first screen is painted before.
"""

import time
from pathlib import Path

from engine.session.boat import OtherJob
from engine.session.commands import Command, Redo
from engine.session.outcome import Decided, Decision, Outcome
from engine.session.runner import Runner
from engine.view.models import ClosingView, EntryRow, PlanView, Preview, ReturnView, StepView, Way, WhereView

RECENT = 9
"""Earlier entries offered for correction: as many as there are digit keys."""


OTHERS_S = 20.0
"""The folder is looked through for other open jobs on the boat at most this often [s]; a project rule."""


class Job:
    """A runner, and every view-model of it."""

    def __init__(self, runner: Runner) -> None:
        self.runner = runner
        self._beside: tuple[OtherJob, ...] = ()
        self._looked_s = -OTHERS_S

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

        runner = self.runner
        return step_view(runner.procedure, runner.state, step_id, runner.clock.glance(), self._others)

    def _others(self) -> tuple[OtherJob, ...]:
        """Return the other jobs open on this boat, looked for again after a while: a screen is painted often."""
        if time.monotonic() - self._looked_s > OTHERS_S:
            self._beside, self._looked_s = self.runner.others(), time.monotonic()
        return self._beside

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

        return return_view(self.runner.procedure, self.runner.state, self.runner.clock.glance(), self.runner.others())

    def where(self) -> WhereView:
        """Return where power is and where hands are."""
        from engine.view.zones import where_view

        runner = self.runner
        return where_view(runner.procedure, runner.state, runner.clock.glance(), self._others())

    def closing(self) -> ClosingView:
        """Return the closing screen."""
        from engine.view.closing import closing_view

        return closing_view(self.runner.procedure, self.runner.state, self.runner.head)

    def preview(self, entry: str, text: str) -> Preview:
        """Return what a text would become."""
        from engine.view.preview import preview, preview_line

        work, state = self.runner.procedure, self.runner.state
        if ";" in text and entry in work.entry_by_id and work.entry_by_id[entry].unit != "words":
            return preview_line(work, state, work.step_of_entry[entry], text, self.runner.clock.glance())
        return preview(work, state, entry, text)

    def send(self, command: Command) -> Outcome:
        """Carry out a command: recorded means that it is on the disk."""
        return self.runner.send(command)

    def would(self, command: Command) -> Decision:
        """Return what would come of a command, recording nothing."""
        return self.runner.would(command)

    def ways(self, decided: Decided) -> tuple[Way, ...]:
        """Return what has to be done again once something is recorded."""
        from engine.view.way import ways

        return ways(self.runner.procedure, self.runner.state, decided)

    def remedies(self, view: StepView) -> tuple[str, ...]:
        """Return what can be done about what a step found, each with the steps that it leads through.

        The remedies that open something come first, then the step alone; nothing where there is nothing to choose.
        """
        if not view.mends or all(each.verdict == "pass" for each in view.verdicts):
            return ()
        said = {0: f'nothing is opened, only "{view.title}" again', **dict(enumerate(view.mends, start=1))}
        return tuple(f"{said[mend]} ({self._way_of(view.id, mend)})" for mend in (*range(1, len(said)), 0))

    def _way_of(self, step: str, mend: int) -> str:
        from engine.view.words import count

        would = self.would(Redo(step, mend))
        ways = self.ways(would) if isinstance(would, Decided) else ()
        return count(sum(len(way.steps) for way in ways), "step")

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
