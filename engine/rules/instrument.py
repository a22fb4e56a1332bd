"""The standard uncertainty of a measured input: its own meter's accuracy, or the usual instrument's."""

from functools import cache

from engine.published.tables import number, table
from engine.rules.check import Accuracy, Context, Input
from engine.trade.reading import half_width, standard


@cache
def usual_accuracy(instrument: str) -> Accuracy:
    """Return the usual accuracy of a kind of instrument, its fixed part counted in steps of its last digit.

    Raises:
        NotPrinted: if the instrument is not in the table.
    """
    row = table("instruments", "typical").row(id=instrument)
    step = number(row, "resolution_base")
    return Accuracy(number(row, "percent_of_reading"), number(row, "counts") + number(row, "fixed_base") / step, step)


def accuracy_of(item: Input, context: Context) -> Accuracy | None:
    """Return the accuracy of one input in this session, None if it is a label, a count or a word."""
    own = context.accuracy.get(item.name)
    if own is not None or not item.instrument:
        return own
    return usual_accuracy(item.instrument)


def standard_u(item: Input, reading: float, context: Context) -> float:
    """Return the standard uncertainty of one input [its base unit], 0 if it is exact."""
    accuracy = accuracy_of(item, context)
    if accuracy is None:
        return 0.0
    return standard(half_width(reading, accuracy.percent, accuracy.counts, accuracy.resolution))
