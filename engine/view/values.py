"""Values for the eye: each entry of a step with its unit, usual range, and what was given in both systems."""

from dataclasses import replace

from engine.procedure.model import Entry, Known, Procedure, Step
from engine.quantity import PIN_MAP, range_words
from engine.quantity.pin_rows import listed
from engine.session.gates import entries
from engine.session.repeat import turn
from engine.session.said import shown
from engine.session.state import State
from engine.view.models import EntryRow
from engine.view.pin_map import map_picture

REASONS = ("no instrument at hand", "cannot be reached", "does not apply here", "left for another day")
"""Reasons for "not measured" where the procedure lists none."""


def rows(procedure: Procedure, state: State, step: Step) -> tuple[EntryRow, ...]:
    """Return the rows of a step's entries, in order."""
    return tuple(row(entry, state) for entry in entries(procedure, state, step))


def row(entry: Entry, state: State) -> EntryRow:
    """Return one entry as a row."""
    given = state.given.get(entry.id)
    absent = state.absent.get(entry.id)
    wanted = 0 if absent else turn(entry, given, state.instruments)
    if given and wanted:
        return replace(row(replace(entry, repeats=1), state), ask=f"{entry.ask}, reading {wanted}", state="open")
    return EntryRow(
        id=entry.id,
        ask=entry.ask,
        unit=unit_words(entry),
        hint=hint(entry),
        why=entry.why,
        state="given" if given else "absent" if absent else "open",
        shown=shown(entry, given.taken) if given else f"not measured: {absent}" if absent else "",
        raw=given.taken.raw if given else "",
        choices=choices(entry),
        skip=entry.skip or REASONS,
        signed=entry.signed,
        known=str(entry.known),
        map=map_picture(entry, given.taken.label) if given else None,
    )


def unit_words(entry: Entry) -> str:
    """Return the unit of a bare number, in words for a wire or a word entry."""
    return {
        "wire": "size",
        "yes/no": "yes or no",
        "choice": "pick one",
        "words": "words",
        PIN_MAP: "rows",
        "": "count",
    }.get(entry.unit, entry.unit)


def choices(entry: Entry) -> tuple[str, ...]:
    """Return what can be picked, empty for a typed value."""
    return ("yes", "no") if entry.unit == "yes/no" else entry.choices


def hint(entry: Entry) -> str:
    """Return unit and usual range in one short line."""
    if entry.unit == "wire":
        return "as printed on it, with its system: 8 AWG, SAE 8, 10 mm2"
    if entry.unit in ("yes/no", "choice"):
        return " ".join(f"{n} {word}" for n, word in enumerate(choices(entry), start=1))
    if entry.unit == "words":
        return "a few words"
    if entry.unit == PIN_MAP:
        return _map_hint(entry)
    usual = f", usually {range_words(*entry.likely, entry.unit)}" if entry.likely else ""
    sign = ", with + or -" if entry.signed else ""
    over = ", OL if open" if entry.over_range else ""
    return f"{unit_words(entry)}{usual}{sign}{over}"


def _map_hint(entry: Entry) -> str:
    far = entry.far or entry.positions
    near = entry.positions
    typed = f"{near[0]}-{far[0]}, {near[0]}-OL for nothing"
    if entry.known is Known.MEASURED:
        typed += f", {near[0]}-{far[-1]}=300 for ohms"
    return f"{'rows' if len(near) > 1 else 'row'} {listed(near)}: {typed}; to {listed(far)}"
