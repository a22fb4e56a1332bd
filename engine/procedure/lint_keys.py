"""Lint: how long the keyboard takes in one whole job, by the keystroke-level model (``engine.procedure.keying``)."""

from collections.abc import Iterator

from engine.procedure.faults import Place
from engine.procedure.keying import COLD_KEY_S, job_effort
from engine.procedure.load import Loaded

LONGEST_S = 8 * 60.0
"""What a whole job may ask of a usual typist [s] (project rule)."""


def keyboard_doubts(loaded: Loaded) -> Iterator[tuple[Place, str]]:
    """Give the doubt that the keyboard takes too long."""
    effort = job_effort(loaded.procedure)
    if effort.seconds() > LONGEST_S:
        sentence = (
            f"about {effort.seconds() / 60:.1f} minutes of keyboard in one job "
            f"({effort.seconds(COLD_KEY_S) / 60:.0f} with cold fingers); {LONGEST_S / 60:.0f} at most, ask for less"
        )
        yield loaded.place, sentence
