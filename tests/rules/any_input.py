"""Any value that an input of a check may be given, in base units."""

import math

from hypothesis import strategies as st

from engine.finding import Value
from engine.rules.check import TO_BASE, Input

SIZES = ("18 AWG", "14 AWG", "10 AWG", "8 AWG", "6 AWG", "1/0 AWG", "4/0 AWG", "SAE 8", "SAE 20", "6 mm2", "16 mm2")
LONG_NAMES = " ".join(f"windlass-{far}" for far in ("backward", "junction", "reversed", "windlass", "starting"))
MAPS = ("1-1 2-2", "1-2 2-1", "1-OL 2-2=300", LONG_NAMES, "windlass-OL", "no map")
LARGE = 1e6


def single(item: Input) -> st.SearchStrategy[Value]:
    if item.unit == "yes/no":
        return st.booleans()
    if item.choices:
        return st.sampled_from(item.choices)
    if item.unit == "wire":
        return st.sampled_from(SIZES)
    if item.unit == "pin map":
        return st.sampled_from(MAPS)
    if item.unit == "words":
        return st.text(max_size=20)
    low = -LARGE if item.low is None else item.low
    high = LARGE if item.high is None else item.high
    numbers = st.one_of(st.floats(low, high), st.sampled_from((low, high)))
    scaled = numbers.map(lambda number: number * TO_BASE.get(item.unit, 1.0))
    return st.one_of(scaled, st.just(math.inf)) if item.over_range else scaled


def any_value(item: Input) -> st.SearchStrategy[Value]:
    value = st.lists(single(item), min_size=1, max_size=5).map(tuple) if item.many else single(item)
    return value if item.required else st.one_of(st.none(), value)
