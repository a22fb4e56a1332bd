"""What the keyboard costs over the whole bow-receptacle job, by the keystroke-level model.

Run from the checkout: ``python -m tests.bench.bench_keying``. Source of the times: *The keystroke-level model*,
CACM 23(7):396-410 (1980), as quoted: a key 0.28 s for a usual typist, 1.20 s at worst, a thought 1.35 s, a hand moved
to the keyboard 0.40 s. Values are counted one line each, and again with all values of a step in one line.
"""

import sys

from engine.session.gates import current_step
from tests.tui.walker import answer, commands, runner, view_of
from tui.step_mode import MOST_DIGITS

THOUGHT_S, HAND_S = 1.35, 0.40
KEY_S = {"usual typist": 0.28, "cold finger": 1.20}


def main() -> None:
    """Walk the job, count, and print."""
    job = runner()
    steps = entries = single_keys = single_acts = line_keys = line_acts = 0
    while step := current_step(job.procedure, job.state, job.clock.glance()):
        view = view_of(job, step)
        steps += 1
        typed = [answer(job, row.id) for row in view.rows if not 0 < len(row.choices) <= MOST_DIGITS]
        picked = len(view.rows) - len(typed) + len(view.parts)
        entries += len(view.rows)
        keys = sum(len(text) + 1 for text in typed)
        single_keys += keys + picked + 1
        single_acts += len(typed) + picked + 1
        line_keys += keys + picked + 1
        line_acts += bool(typed) + bool(picked) + 1
        for command in commands(job, step):
            job.send(command)
    out = sys.stdout.write
    out(f"{steps} steps, {entries} values, {single_keys} keys\n")
    for name, key_s in KEY_S.items():
        single = single_keys * key_s + single_acts * (THOUGHT_S + HAND_S)
        line = line_keys * key_s + line_acts * (THOUGHT_S + HAND_S)
        out(f"{name}: {single / 60:.1f} min one by one, {line / 60:.1f} min with a step's values in one line\n")


if __name__ == "__main__":
    main()
