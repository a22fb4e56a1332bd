"""The one way to say what a word that nothing is called was perhaps meant to be."""

from collections.abc import Iterable
from difflib import get_close_matches


def near_word(word: str, known: Iterable[str]) -> str:
    """Return the word that is nearest to a mistyped one; empty if none is near."""
    return next(iter(get_close_matches(word, list(known), 1)), "")


def nearest(word: str, known: Iterable[str], otherwise: str) -> str:
    """Return the end of a sentence that refuses a word.

    Args:
        word: The word as typed.
        known: What is called something here.
        otherwise: What is said where none of them is near.

    Example:
        >>> nearest("lode", ["load", "fuse"], "it takes load, fuse")
        'did you mean "load"?'
        >>> nearest("x", ["load", "fuse"], "it takes load, fuse")
        'it takes load, fuse'
    """
    near = near_word(word, known)
    return f'did you mean "{near}"?' if near else otherwise
