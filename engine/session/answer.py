"""Typed text for one entry -> the event that records it, a refusal, or a question to the person."""

from dataclasses import dataclass

from engine.procedure.model import Entry, Known
from engine.quantity import PIN_MAP, Amount, Fault, Question, WireSize, range_words, read, read_pin_map, slip
from engine.session.events import Event, SlipAnswered, Taken

MOST_TYPED = 200
"""Longest text of a words entry, in characters; a project rule."""

YES = ("yes", "y", "1")
NO = ("no", "n", "2")


@dataclass(frozen=True, slots=True)
class NotUnderstood:
    """Why a text was not taken, and the place in it from 0, if it has one."""

    sentence: str
    column: int | None = None


@dataclass(frozen=True, slots=True)
class Understood:
    """The events that record a text: the answer to a question, if there was one, and the entry."""

    taken: Taken
    before: tuple[Event, ...] = ()


Outcome = Understood | NotUnderstood | Question


def understand(entry: Entry, step: str, text: str, answer: int | None = None) -> Outcome:
    """Return what ``text`` means for ``entry``; ``answer`` picks a choice if the text raises a question."""
    if entry.unit in ("yes/no", "choice", "words"):
        return _word(entry, step, text)
    if entry.unit == PIN_MAP:
        return _pin_map(entry, step, text)
    got = read(text, entry.unit, over_range=entry.over_range, signed=entry.signed)
    if isinstance(got, Fault):
        return NotUnderstood(got.sentence, got.column)
    if isinstance(got, Question):
        return _settle(entry, step, got, answer)
    return _amount(entry, step, got, answer)


def _amount(entry: Entry, step: str, got: Amount | WireSize, answer: int | None) -> Outcome:
    if isinstance(got, WireSize):
        return Understood(Taken(entry=entry.id, step=step, raw=got.raw, label=got.label, known=str(entry.known)))
    asked = (
        slip(got, entry.likely, entry.hard, entry.unit, sign=not entry.signed) if entry.likely and entry.hard else None
    )
    if asked is not None:
        return _settle(entry, step, asked, answer)
    return _in_range(entry, step, got)


def _pin_map(entry: Entry, step: str, text: str) -> Understood | NotUnderstood:
    rows = read_pin_map(text, entry.positions, entry.far, measured=entry.known is Known.MEASURED)
    if isinstance(rows, Fault):
        return NotUnderstood(rows.sentence, rows.column)
    return Understood(Taken(entry=entry.id, step=step, raw=text, label=rows.label, known=str(entry.known)))


def _settle(entry: Entry, step: str, question: Question, answer: int | None) -> Outcome:
    if answer is None:
        return question
    if not 0 <= answer < len(question.choices):
        return NotUnderstood(f"pick 1 to {len(question.choices)}")
    words, meant = question.choices[answer]
    note = SlipAnswered(entry=entry.id, raw=question.raw, asked=question.sentence, meant=words)
    if isinstance(meant, WireSize):
        taken = Taken(entry=entry.id, step=step, raw=question.raw, label=meant.label, known=str(entry.known))
        return Understood(taken, (note,))
    settled = _in_range(entry, step, meant)
    return Understood(settled.taken, (note,)) if isinstance(settled, Understood) else settled


def _in_range(entry: Entry, step: str, got: Amount) -> Understood | NotUnderstood:
    over = got.number == float("inf")
    if entry.hard and not over and not entry.hard[0] <= got.number <= entry.hard[1]:
        return NotUnderstood(f"{got.raw} is outside what this can be: {range_words(*entry.hard, entry.unit)}")
    return Understood(
        Taken(
            entry=entry.id,
            step=step,
            raw=got.raw,
            unit=got.kind.value,
            number=None if over else got.number,
            over=over,
            digit=got.step,
            known=str(entry.known),
        )
    )


def _word(entry: Entry, step: str, text: str) -> Understood | NotUnderstood:
    said = text.strip()
    if not said:
        return NotUnderstood("nothing was typed")
    if len(said) > MOST_TYPED or any(ord(c) < 32 for c in said):
        return NotUnderstood(f"one line of at most {MOST_TYPED} characters is right here")
    if entry.unit == "words":
        return Understood(Taken(entry=entry.id, step=step, raw=text, label=said, known=str(entry.known)))
    if entry.unit == "yes/no":
        return _yes_no(entry, step, text, said.lower())
    return _choice(entry, step, text, said)


def _yes_no(entry: Entry, step: str, text: str, said: str) -> Understood | NotUnderstood:
    if said not in (*YES, *NO):
        return NotUnderstood(f'"{said[:20]}" is not an answer here; type yes or no')
    return Understood(Taken(entry=entry.id, step=step, raw=text, yes=said in YES, known=str(entry.known)))


def _choice(entry: Entry, step: str, text: str, said: str) -> Understood | NotUnderstood:
    exact = [c for c in entry.choices if c.lower() == said.lower()]
    close = [c for c in entry.choices if c.lower().startswith(said.lower())]
    numbered = said.isascii() and said.isdigit() and not exact and 1 <= int(said) <= len(entry.choices)
    found = exact or ([entry.choices[int(said) - 1]] if numbered else close)
    if len(found) != 1:
        listed = "; ".join(f"{n} {c}" for n, c in enumerate(entry.choices, start=1))
        return NotUnderstood(f'"{said[:20]}" is not one of: {listed}')
    return Understood(Taken(entry=entry.id, step=step, raw=text, label=found[0], known=str(entry.known)))
