"""Reads what was typed for one entry of any form: the one meaning of a number, a unit, a yes, a choice and a word."""

from engine.nearest import near_word
from engine.quantity.alphabet import shown_safely
from engine.quantity.amount import Fault, Label, Read
from engine.quantity.pin_map import read_pin_map
from engine.quantity.pin_rows import PIN_MAP
from engine.quantity.read import read_wanted
from engine.quantity.wanted import LABEL_UNITS, WIRE, Wanted

MOST_TYPED = 200
"""Longest text of an entry that asks for words [characters]; a project rule."""

YES = ("yes", "y", "true", "1")
NO = ("no", "n", "false", "2")
"""What is yes and what is no, in small or capital letters; 1 and 2 as a screen numbers them."""


def read_entry(text: str, wanted: Wanted) -> Read | Label:
    """Return what an entry means: an amount, a wire size, a label, a fault with its place, or a question.

    Args:
        text: The entry as typed. Nothing in it can make this raise.
        wanted: What is asked for. A choice is typed whole, by its number, or by what no other choice begins with.

    Raises:
        UnknownUnit: if the wanted unit is none of ours.

    Example:
        >>> read_entry("Y", Wanted("yes/no")).value, read_entry("gr", Wanted("choice", choices=("red", "green"))).value
        (True, 'green')
        >>> read_entry("12,5", Wanted("V")).number
        12.5
    """
    if wanted.unit == WIRE or wanted.unit not in LABEL_UNITS:
        return read_wanted(text, wanted)
    if wanted.unit == PIN_MAP:
        rows = read_pin_map(text, wanted.near, wanted.far, measured=wanted.measured)
        return rows if isinstance(rows, Fault) else Label(text, rows.label)
    said = text.strip()
    if fault := _unfit(text, said):
        return fault
    if wanted.unit == "yes/no":
        return _yes_no(text, said.casefold())
    return _choice(text, said.casefold(), wanted.choices) if wanted.choices else Label(text, said)


def _unfit(text: str, said: str) -> Fault | None:
    if not said:
        return Fault(text, "Nothing was typed.")
    if len(said) > MOST_TYPED or any(ord(sign) < 32 for sign in said):
        return Fault(shown_safely(text[:MOST_TYPED]), f"One line of at most {MOST_TYPED} characters is right here.")
    return None


def _yes_no(text: str, said: str) -> Label | Fault:
    if said in YES or said in NO:
        return Label(text, said in YES)
    return Fault(text, "This is a question of yes or no: type yes or no.")


def _choice(text: str, said: str, choices: tuple[str, ...]) -> Label | Fault:
    by_word = {choice.casefold(): choice for choice in choices}
    by_number = {str(number): choice for number, choice in enumerate(choices, start=1)}
    begun = [choice for word, choice in by_word.items() if word.startswith(said)]
    found = by_word.get(said) or by_number.get(said) or (begun[0] if len(begun) == 1 else "")
    if found:
        return Label(text, found)
    near = " or ".join(begun) or by_word.get(near_word(said, by_word))
    hint = f" Did you mean {near}?" if near else ""
    return Fault(text, f"Type one of {', '.join(f'{number} {choice}' for number, choice in by_number.items())}.{hint}")
