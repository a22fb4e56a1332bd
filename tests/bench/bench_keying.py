"""What the keyboard costs over the whole bow-receptacle job, by the keystroke-level model.

Run from the checkout: ``python -m tests.bench.bench_keying``. Times and rules: ``engine.procedure.keying``. The texts
are those of the clean sample; a unit that the step has chosen already is not typed, nor are words that are offered.
"""

import sys
from collections.abc import Sequence
from dataclasses import dataclass

from engine.procedure.keying import COLD_KEY_S, USUAL_KEY_S, Effort, is_read_first, job_effort, value, whole_step
from engine.session.gates import current_step
from engine.session.runner import Runner
from engine.view.models import EntryRow
from tests.tui.walker import answer, commands, runner, view_of
from tui.awaited import MOST_DIGITS

KEY_S = {"usual typist": USUAL_KEY_S, "cold finger": COLD_KEY_S}
GOAL_MIN = 6.0
"""Goal of the screens for this job [min]; a project rule, set for 30 values."""

NOTHING = Effort()


@dataclass
class Keyed:
    """What the whole job asks: value by value, and with the values of a step in one line."""

    steps: int = 0
    values: int = 0
    one_by_one: Effort = NOTHING
    in_lines: Effort = NOTHING
    words: Effort = NOTHING


def keyed(job: Runner) -> Keyed:
    """Do a job to its end and count."""
    found = Keyed()
    while step := current_step(job.procedure, job.state, job.clock.glance()):
        _count(job, step, found)
        for command in commands(job, step):
            job.send(command)
    return found


def _count(job: Runner, step: str, found: Keyed) -> None:
    view, work = view_of(job, step), job.procedure.step_by_id[step]
    picked_last = bool(view.rows) and 0 < len(view.rows[-1].choices) <= MOST_DIGITS
    read_first = is_read_first(work, picked_last=picked_last)
    parts = [value(1) for _ in view.parts]
    given = [value(_keys(job, row)) for row in view.rows]
    found.one_by_one = found.one_by_one.plus(whole_step([*given, *parts], read_first=read_first))
    found.in_lines = found.in_lines.plus(whole_step([*_in_one_line(job, view.rows), *parts], read_first=read_first))
    for row, effort in zip(view.rows, given, strict=True):
        if row.unit == "words":
            found.words = found.words.plus(effort)
    found.steps, found.values = found.steps + 1, found.values + len(view.rows)


def main() -> None:
    """Walk the job, count, and print."""
    job = runner()
    found, out = keyed(job), sys.stdout.write
    total, lined = found.one_by_one, found.in_lines
    out(f"{found.steps} steps, {found.values} values: {total.keys:.0f} keys, {total.thoughts:.0f} thoughts\n")
    for name, key_s in KEY_S.items():
        minutes, of_words = total.seconds(key_s) / 60, found.words.seconds(key_s) / 60
        out(f"{name}: {minutes:.1f} min, of it {of_words:.1f} for free words (goal {GOAL_MIN:.0f} at the usual pace)\n")
    minutes, cold = lined.seconds() / 60, lined.seconds(COLD_KEY_S) / 60
    out(
        f"a step's values in one line: {lined.thoughts:.0f} thoughts, {minutes:.1f} min, {cold:.1f} with cold fingers\n"
    )
    out(f"the author's estimate: {job_effort(job.procedure).seconds() / 60:.1f} min\n")


def _in_one_line(job: Runner, rows: Sequence[EntryRow]) -> list[Effort]:
    """Return the values of a step as a line holds them: from the first typed one on, parted by ``;``.

    A choice in the line is its digit. The line is one argument: one thought stands before the Enter that ends it.
    """
    first = next((n for n, row in enumerate(rows) if not 0 < len(row.choices) <= MOST_DIGITS), len(rows))
    line = [_keys(job, row) + (1 if row.choices else 0) for row in rows[first:]]
    return [*(value(1) for _ in rows[:first]), *([value(sum(line))] if line else [])]


def _keys(job: Runner, row: EntryRow) -> int:
    """Return the keys of one answer, with the one that ends it."""
    if 0 < len(row.choices) <= MOST_DIGITS:
        return 1
    if row.offer:
        return 1
    text = answer(job, row.id)
    return len(text.removesuffix(f" {row.unit}")) + 1


if __name__ == "__main__":
    main()
