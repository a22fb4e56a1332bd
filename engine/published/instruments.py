"""The usual instruments of the job and what each can tell, by id."""

from dataclasses import dataclass
from functools import cache

from engine.published.tables import NotPrinted, number, table
from engine.source import Seen, Source


@dataclass(frozen=True, slots=True)
class Instrument:
    """One usual instrument: plus or minus (``percent`` of the reading + ``counts`` of the last digit + ``fixed``).

    ``resolution`` is one step of the last digit; it and ``fixed`` are in ``unit``, a base unit. An instrument that
    gives words and no number (a tug by hand) has no unit and zeros.
    """

    id: str
    kind: str
    percent: float
    counts: float
    resolution: float
    fixed: float
    unit: str
    source: Source


def instrument_ids() -> tuple[str, ...]:
    """Return the ids of all instruments, in the order in which they are printed.

    Returns:
        The ids.

    Source:
        The table ``typical`` of ``instruments.toml``.

    Example:
        >>> instrument_ids()[:4]
        ('dmm_v', 'dmm_mv', 'dmm_r', 'dmm_ma')
    """
    return tuple(str(cell) for cell in table("instruments", "typical").column("id"))


@cache
def instrument(id: str) -> Instrument:
    """Return one usual instrument by its id.

    Args:
        id: Its id, such as ``dmm_v`` or ``clamp``.

    Returns:
        The instrument, the same object each time.

    Raises:
        NotPrinted: if there is no such instrument; names those that there are.

    Source:
        The table ``typical`` of ``instruments.toml``, each row with how it was seen.

    Example:
        >>> meter = instrument("dmm_v")
        >>> meter.percent, meter.counts, meter.resolution, meter.unit
        (0.5, 2.0, 0.01, 'V')
    """
    printed = table("instruments", "typical")
    if id not in instrument_ids():
        raise NotPrinted(f'there is no instrument "{id}"; there are {", ".join(instrument_ids())}')
    row = printed.row(id=id)
    measures = "base_unit" in row
    percent, counts, resolution, fixed = (
        number(row, key) if measures else 0.0
        for key in ("percent_of_reading", "counts", "resolution_base", "fixed_base")
    )
    source = Source(printed.source.authority, printed.source.document, printed.source.place, Seen(str(row["seen"])))
    return Instrument(id, str(row["kind"]), percent, counts, resolution, fixed, str(row.get("base_unit", "")), source)
