"""The parts that several drawings share: a verdict, a warning, a list of choices."""

from collections.abc import Iterable

from engine.view.models import VerdictView, WarnView
from tui.lines import Line, Piece, piece, wrap


def warning_lines(warning: WarnView, width: int) -> list[Line]:
    """Return a warning: its signal word, and its text beside and under it."""
    lead = (piece(f" {warning.word} ", warning.word.lower()), piece(" "))
    return wrap([piece(warning.text, "strong")], width, lead, hang=2)


def verdict_lines(verdict: VerdictView, width: int) -> list[Line]:
    """Return a verdict: word and sign, the sentence, the remedy, and how it was settled."""
    look = verdict.verdict
    lines = wrap([piece(verdict.sentence, look)], width, piece(f"{verdict.label} ", look), hang=2)
    if verdict.remedy and verdict.verdict != "pass":
        lines += wrap([piece(verdict.remedy)], width, piece("  Remedy: ", "strong"), hang=2)
    if verdict.settled:
        lines += wrap([piece(verdict.settled)], width, piece("  "))
    return lines


def stop_lines(verdicts: Iterable[VerdictView], width: int) -> list[Line]:
    """Return STOP and what the hands do now, for the first verdict that hurts; nothing if none does."""
    hands = next((verdict.hands for verdict in verdicts if verdict.hands), "")
    return wrap([piece(hands, "strong")], width, (piece(" STOP ", "danger"), piece(" ")), hang=2) if hands else []


def choice_lines(choices: tuple[str, ...], width: int, *, letters: bool = True) -> list[Line]:
    """Return choices, each with its digit (and its first letter, where that is its own)."""
    first = first_letters(choices) if letters else {}
    lines: list[Line] = []
    for number, choice in enumerate(choices, start=1):
        other = f" or {first[choice]}" if choice in first else ""
        lead = Piece(f"  {number}{other} ", "now")
        lines += wrap([piece(choice, "ask")], width, lead, key=str(number) if number <= 9 else "")
    return lines


def first_letters(choices: tuple[str, ...]) -> dict[str, str]:
    """Return the first letter of each choice whose first letter no other choice has."""
    first = [choice[:1].lower() for choice in choices]
    pairs = zip(choices, first, strict=True)
    return {choice: letter for choice, letter in pairs if letter.isalpha() and first.count(letter) == 1}
