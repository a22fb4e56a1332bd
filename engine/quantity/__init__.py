"""Typed text <-> number in base units <-> text in the reader's unit. Only here is pint imported, for rarer units.

Base units: V, A, ohm, m, mm2 (areas of conductors), N m, N, degC, K (differences), s, W, Ah, % (ratios), 1 (counts),
kg is not used (a pull in kg is read as kgf), percent is a number of percents. A wire size stays a label until
``engine.trade.conductor`` gives its area, a pin map until ``engine.trade.pin_map`` holds it against its plan.
"""

from engine.quantity.amount import Amount, Fault, Kind, Label, Question, Read, WireSize
from engine.quantity.entry import MOST_TYPED, read_entry
from engine.quantity.pin_map import read_pin_map
from engine.quantity.pin_rows import PIN_MAP, Pair, PinRows
from engine.quantity.read import read
from engine.quantity.several import several
from engine.quantity.show import range_words, show
from engine.quantity.slip import slip
from engine.quantity.units import UNITS, UnknownUnit, from_base, kind_of, to_base
from engine.quantity.wanted import WIRE, Wanted

__all__ = [
    "MOST_TYPED",
    "PIN_MAP",
    "UNITS",
    "WIRE",
    "Amount",
    "Fault",
    "Kind",
    "Label",
    "Pair",
    "PinRows",
    "Question",
    "Read",
    "UnknownUnit",
    "Wanted",
    "WireSize",
    "from_base",
    "kind_of",
    "range_words",
    "read",
    "read_entry",
    "read_pin_map",
    "several",
    "show",
    "slip",
    "to_base",
]
