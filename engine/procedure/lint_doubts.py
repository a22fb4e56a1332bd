"""Lint: what makes a procedure hard to follow, by count: dangers, holds, verbs in an action, long lines."""

import re
from collections.abc import Iterator

from engine.procedure.faults import Place
from engine.procedure.load import Loaded
from engine.procedure.model import Hold, Signal, Step
from engine.procedure.words import things, verbs

LINE = 66
"""Characters of a line that is read at arm's length (WCAG 1.4.8 allows 80; 66 is a project rule)."""

FEWEST_HOLDS, MOST_HOLDS, MOST_FIRM = 3, 7, 4
"""Holds of a procedure (project rule: fewer protect nothing, more are walked past)."""

_CLAUSE = re.compile(
    r"(?:^|[.;:!?]\s+|,\s+|\band\s+(?:then\s+)?|\bthen\s+|\bor\s+)([A-Za-z]+)(?=\s+(\S+))?", re.MULTILINE
)


def doubts_of_procedure(loaded: Loaded) -> Iterator[tuple[Place, str]]:
    """Give the doubts that only the whole procedure raises."""
    steps = loaded.procedure.steps
    dangers = [step.id for step in steps for warning in step.warnings if warning.word is Signal.DANGER]
    if len(dangers) > 1:
        yield (
            loaded.place,
            f"{len(dangers)} warnings say DANGER ({', '.join(dangers)}); keep the word for the one that kills",
        )
    holds = [step for step in steps if step.hold is not Hold.NONE]
    if not FEWEST_HOLDS <= len(holds) <= MOST_HOLDS:
        yield loaded.place, f"has {len(holds)} holds; {FEWEST_HOLDS} to {MOST_HOLDS} are kept, fewer or more are not"
    firm = [step for step in holds if step.hold is Hold.FIRM]
    if len(firm) > MOST_FIRM:
        yield loaded.place, f"has {len(firm)} firm holds; {MOST_FIRM} at most"
    yield from _sections(loaded)


def _sections(loaded: Loaded) -> Iterator[tuple[Place, str]]:
    filled = {step.section for step in loaded.procedure.steps}
    for number, section in enumerate(loaded.procedure.sections):
        if section.id not in filled:
            yield loaded.place.key("section").item(number, f'section "{section.id}"'), "has no step"


def doubts_of_step(loaded: Loaded) -> Iterator[tuple[Place, str]]:
    """Give the doubts of each step: verbs, lines, ranges that are not said."""
    for step in loaded.procedure.steps:
        found = orders(step.action)
        if len(found) > 1:
            yield loaded.steps[step.id].key("do"), f"has {len(found)} verbs ({', '.join(found)}); one action a step"
        yield from _long_lines(loaded, step)
    for entry in loaded.procedure.entry_by_id.values():
        if len(entry.ask) > LINE:
            yield loaded.entries[entry.id].key("ask"), _long(entry.ask)


def orders(action: str) -> list[str]:
    """Return the verbs that give an order in an action, in small letters.

    Example:
        >>> orders("Draw the panel out and hang it up. Card in hand."), orders("Measure plus and minus.")
        (['draw', 'hang'], ['measure'])
        >>> orders("Write way, fuse and wire.")
        ['write']
    """
    found = [(match[1].lower(), (match[2] or "").lower()) for match in _CLAUSE.finditer(action)]
    return [word for word, following in found if word in verbs() and not _is_noun(word, following)]


def _is_noun(word: str, following: str) -> bool:
    """Return whether a word names a thing, by what follows: ``cap is on``, ``plug and lead``, ``way, fuse, wire``."""
    if not following:
        return word in things()
    return following.strip(".,;:") in {"is", "are", "and", "or", "of", "on", "was", "has", "must", "to", "by", "at"}


def _long_lines(loaded: Loaded, step: Step) -> Iterator[tuple[Place, str]]:
    place = loaded.steps[step.id]
    said = [(place.key("title"), step.title)]
    said += zip(loaded.limits[step.id], [limit.says for limit in step.limits], strict=True)
    said += ((place.key("opens").row(item.id), item.says) for item in step.opens)
    yield from ((where, _long(text)) for where, text in said if len(text) > LINE)


def _long(text: str) -> str:
    return f"has {len(text)} characters; {LINE} fit on a line"
