"""Puts together the tables that go on: ``read.depth = { ... }`` and, on the next line, ``read.depth- = { ... }``.

TOML wants an inline table in one line. One that is too long for it goes on under the same name with a hyphen, or two.
"""

from engine.procedure.faults import Faults, Place
from engine.procedure.forms import is_table, short


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
        at = place.key(short(base))
        found = _inside(value, at, faults)
        before = whole.get(base)
        if base == name:
            whole[name] = found
        elif is_table(before) and is_table(found):
            for twice in before.keys() & found.keys():
                faults.add(at.key(short(twice)), "is said again where the table goes on; say it once")
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
    if isinstance(value, list):
        return [_inside(item, place.item(number, place.words[-1]), faults) for number, item in enumerate(value)]
    return joined(value, place, faults) if is_table(value) else value
