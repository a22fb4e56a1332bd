"""A pin map for the eye: each position with what it reaches, and how many pairs that makes."""

from engine.procedure.model import Entry
from engine.quantity import PIN_MAP, Pair, PinRows, read_pin_map
from engine.quantity.pin_rows import LONGEST_KEPT
from engine.view.models import MapPicture, MapRow


def map_picture(entry: Entry, label: str | None) -> MapPicture | None:
    """Return the picture of a pin map that was given, or None if the entry is none."""
    if entry.unit != PIN_MAP or label is None:
        return None
    found = read_pin_map(label, entry.positions, entry.far, LONGEST_KEPT)
    if not isinstance(found, PinRows):
        return None
    far = entry.far or entry.positions
    return MapPicture(tuple(_row(near, found.of(near)) for near in found.near), far, _says(found))


def _row(near: str, pairs: tuple[Pair, ...]) -> MapRow:
    reached = [pair.far if pair.ohm is None else f"{pair.far} ({pair.ohm_text} ohm)" for pair in pairs]
    in_ohms = tuple(pair.far for pair in pairs if pair.ohm is not None)
    sentence = f"{near} reaches {' and '.join(reached) or 'nothing'}"
    return MapRow(near, tuple(pair.far for pair in pairs), in_ohms, sentence)


def _says(found: PinRows) -> str:
    read = sum(pair.ohm is not None for pair in found.pairs)
    joined = len(found.pairs) - read
    counted = [f"{joined} joined (x)"] if joined else []
    counted += [f"{read} read in ohms (r)"] if read else []
    return ", ".join([*counted, "all others open (.)" if counted else "all open (.)"])
