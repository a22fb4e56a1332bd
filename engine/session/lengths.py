"""How long what a person writes may be. A text that is too long is refused in a sentence, never cut in silence."""

from engine.session.outcome import Refusal

MOST_WORDS = 500
"""Longest note, reason, answer or line to oneself [characters]; a project rule."""

MOST_NAME = 80
"""Longest name of a boat, a person, a place or an instrument [characters]; a project rule."""

LEAST_WORDS = 3
"""Shortest reason for leaving a value out, correcting one or accepting a finding [characters]; a project rule."""

LEAST_REASON = 10
"""Shortest reason for a deviation, or for stopping [characters]; a project rule."""


def refused(text: str, asks: str, step: str = "", *, least: int = 1, most: int = MOST_WORDS) -> Refusal | None:
    """Return why a text is not taken, or None if it is.

    Args:
        text: What was written, without spaces at its ends.
        asks: What is said where it is too short.
        step: The step to go to.
        least: Characters at least.
        most: Characters at most.

    Example:
        >>> refused("wet", "say why", least=10).sentence, refused("x" * 81, "say who", most=80).sentence
        ('say why', '"xxxxxxxxxxxxxxxxxxxx..." has 81 characters; at most 80 are kept')
    """
    if len(text) < least:
        return Refusal(asks, step)
    if len(text) > most:
        return Refusal(f'"{text[:20]}..." has {len(text)} characters; at most {most} are kept', step)
    return None
