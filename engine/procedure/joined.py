"""Puts together the tables that go on: ``read.depth = { ... }`` and, on the next line, ``read.depth- = { ... }``.

TOML wants an inline table in one line. One that is too long for it goes on under the same name with a hyphen, or two.
"""

from dataclasses import replace

from engine.procedure.faults import Faults, Place
from engine.procedure.forms import called_item, is_table, short


def joined(raw: dict[str, object], place: Place, faults: Faults) -> dict[str, object]:
    """Return a table in which every table that goes on is one.

    Args:
        raw: The table as TOML gave it.
        place: Where it stands.
        faults: Takes what goes on from nothing, and keys that are said twice.
    """
    whole: dict[str, object] = {}
    for name, value in raw.items():
        base = bare(name)
        at = place.row(short(base)) if len(place.words) > 1 else place.key(short(base))
        found = _inside(value, at, faults)
        before = whole.get(base)
        if base == name:
            whole[name] = found
        elif is_table(before) and is_table(found):
            for twice in sorted(before.keys() & found.keys()):
                faults.add(at.row(short(twice)), "is said again where the table goes on; say it once")
            whole[base] = {**before, **found}
        else:
            faults.add(at, f'"{short(name)}" goes on from a table "{short(base)}", and there is none above it')
    return whole


def bare(name: str) -> str:
    """Return the name of the table that one with hyphens at its end goes on from.

    Example:
        >>> bare("depth--"), bare("depth"), bare("-")
        ('depth', 'depth', '-')
    """
    return name.rstrip("-") or name


def _inside(value: object, place: Place, faults: Faults) -> object:
    if not isinstance(value, list):
        return joined(value, place, faults) if is_table(value) else value
    names = [called_item(place.words[-1], number, item) for number, item in enumerate(value)]
    places = [replace(place.item(number, name), words=(name,)) for number, name in enumerate(names)]
    return [_inside(item, at, faults) for item, at in zip(value, places, strict=True)]
