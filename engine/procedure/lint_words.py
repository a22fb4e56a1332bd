"""Lint: words and sentences that a tired reader stumbles over, and wordings that promise too much."""

import re
from collections.abc import Iterator

from engine.procedure.faults import Place
from engine.procedure.load import Loaded
from engine.procedure.model import Step
from engine.procedure.words import discouraged, plain, trade

HARDEST = 7.0
"""School grade of the text at most (project rule, from procedure-writing guidance)."""

LONGEST = 25
"""Words of a sentence at most (project rule)."""

_WORD = re.compile(r"[A-Za-z]+(?:'[a-z]+)?")
_SENTENCE = re.compile(r"[.!?:;]+(?:\s|$)|\n+")


def word_doubts(loaded: Loaded) -> Iterator[tuple[Place, str]]:
    """Give every word, sentence and text that is harder than it need be."""
    for step in loaded.procedure.steps:
        for key, text in _texts(step):
            place = loaded.steps[step.id].key(key)
            yield from ((place, sentence) for sentence in hard_words(text))
    grade = reading_grade(" \n".join(text for step in loaded.procedure.steps for _, text in _texts(step)))
    if grade > HARDEST:
        yield (
            loaded.place,
            f"reads like school grade {grade:.1f}; {HARDEST:.0f} at most, use shorter words and sentences",
        )


def hard_words(text: str) -> list[str]:
    """Return one sentence for each hard word and each long sentence of a text.

    Example:
        >>> hard_words("Verify the volts.")
        ['"verify": say what to measure or see']
    """
    found = [f'"{match[0].lower()}": {plain()[match[0].lower()]}' for match in discouraged().finditer(text)]
    words = dict.fromkeys(word.lower() for word in _WORD.findall(text))
    found += [
        f'"{word}" is a long word; use a plain one' for word in words if syllables(word) >= 4 and not _known(word)
    ]
    long = next((count for part in _SENTENCE.split(text) if (count := len(part.split())) > LONGEST), 0)
    return [*found, f"a sentence has {long} words; {LONGEST} at most"] if long else found


def reading_grade(text: str) -> float:
    """Return the school grade of a text, by the Flesch-Kincaid formula.

    Args:
        text: The text.

    Source:
        Flesch-Kincaid grade level: 0.39 words a sentence + 11.8 syllables a word - 15.59 (US Navy Research Branch
        Report 8-75, from memory).

    Example:
        >>> reading_grade("Turn it off. Lift the lead.") < 2
        True
    """
    words = _WORD.findall(text)
    sentences = sum(1 for part in _SENTENCE.split(text) if part.strip())
    if not words or not sentences:
        return 0.0
    return 0.39 * len(words) / sentences + 11.8 * sum(map(syllables, words)) / len(words) - 15.59


def syllables(word: str) -> int:
    """Return about how many syllables a word has: its groups of vowels, less a silent e.

    Example:
        >>> syllables("cable"), syllables("receptacle"), syllables("wire")
        (2, 4, 1)
    """
    text = word.lower()
    groups = len(re.findall(r"[aeiouy]+", text))
    silent = text.endswith(("e", "es", "ed")) and not text.endswith(("le", "les", "ted", "ded", "ses", "ces", "ges"))
    return max(1, groups - silent)


def _known(word: str) -> bool:
    bare = word.removesuffix("'s")
    return bare in trade() or bare.removesuffix("s") in trade()


def _texts(step: Step) -> Iterator[tuple[str, str]]:
    yield "do", step.action
    yield "why", step.why
    for warning in step.warnings:
        yield "warn", f"{warning.hazard}\n{warning.avoid}\n{warning.consequence}"
