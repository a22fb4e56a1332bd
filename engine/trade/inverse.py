"""The answers the other way round: smallest size, longest run, largest load, and what another size would do."""

from dataclasses import dataclass, replace

from engine.published.tables import table
from engine.trade.ampacity import (
    ENGINE_SPACE_AMBIENT_C,
    TABLE_AMBIENT_C,
    ambient_factor,
    bundle_factor,
    engine_space_factor,
    table_allowable_a,
)
from engine.trade.conductor import area_mm2, copper_mass_kg
from engine.trade.drop import run_drop
from engine.trade.protection import window
from engine.trade.ranges import OutOfRange, within

_HALVINGS = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """What a run must do, and the limits that it is held to.

    ``share`` is the part of the allowable current that a load may take; ``good_percent`` the drop that passes, cold and
    hot; ``device_a`` the lowest rating in series, None to leave the fuse or breaker aside.
    """

    load_a: float
    out_m: float
    back_m: float
    nominal_v: float
    good_percent: float = 3.0
    insulation_c: float = 105.0
    ambient_c: float = TABLE_AMBIENT_C
    loaded_conductors: float = 2
    engine_space: bool = False
    extra_ohm: float = 0.0
    share: float = 0.8
    device_a: float | None = None
    continuous_factor: float = 1.25


@dataclass(frozen=True, slots=True)
class SizeAnswer:
    """What one size would do for a job."""

    size: str
    drop_percent: float
    hot_drop_percent: float | None
    allowable_a: float
    copper_kg: float
    sizes_a: tuple[float, ...]
    passes: bool


def table_sizes() -> tuple[str, ...]:
    """Return the AWG sizes of table 5, small to large.

    Returns:
        Their labels.

    Source:
        33 CFR 183.425(b), table 5.

    Example:
        >>> table_sizes()[0], table_sizes()[-1]
        ('18 AWG', '4/0 AWG')
    """
    return tuple(f"{awg} AWG" for awg in table("conductor_current", "table5").column("awg"))


def allowable_for(job: Job, size: str) -> float:
    """Return what a size may carry in a job's surroundings [A].

    Args:
        job: The run's surroundings [degC, count].
        size: Label of the wire [as marked].

    Returns:
        Table 5 with the factors of bundle, engine space and warm air [A].

    Raises:
        OutOfRange: if the size is not in the table or a number lies outside its range.

    Source:
        33 CFR 183.425, table 5 with notes 1 and 2.

    Example:
        >>> job = Job(load_a=48, out_m=5.2, back_m=5.2, nominal_v=24, engine_space=True)
        >>> allowable_for(job, "8 AWG")
        68.0
    """
    factor = ambient_factor(job.insulation_c, job.ambient_c)
    if job.engine_space:
        factor = min(factor, engine_space_factor(job.insulation_c))
    return table_allowable_a(size, job.insulation_c) * bundle_factor(job.loaded_conductors) * factor


def answer(job: Job, size: str) -> SizeAnswer:
    """Return what one size would do for a job, and whether it passes everything.

    Args:
        job: The run and its limits [A, m, V, %].
        size: Label of the wire [as marked].

    Returns:
        Drop cold and hot [%], allowable current [A], copper [kg], sizes of fuse or breaker [A], and the outcome.

    Raises:
        OutOfRange: if the size is not in the table or a number lies outside its range.

    Source:
        As the forward sums in ``drop``, ``ampacity`` and ``protection``.

    Example:
        >>> job = Job(load_a=48, out_m=5.2, back_m=5.2, nominal_v=24, device_a=60)
        >>> found = answer(job, "6 AWG")
        >>> round(found.drop_percent, 2), round(found.hot_drop_percent, 2), found.sizes_a, found.passes
        (2.79, 2.93, (60.0,), True)
    """
    within("nominal_v", job.nominal_v, 1, 1000, "V")
    cold, hot = _percents(job, size)
    allowable_a = allowable_for(job, size)
    sizes = _protection(job, allowable_a)
    carried = job.load_a <= job.share * allowable_a * (1 + 1e-12)
    dropped = hot is not None and max(cold, hot) <= job.good_percent * (1 + 1e-12)
    protected = job.device_a is None or bool(sizes)
    copper_kg = copper_mass_kg(area_mm2(size), job.out_m + job.back_m)
    return SizeAnswer(size, cold, hot, allowable_a, copper_kg, sizes, carried and dropped and protected)


def smallest_size(job: Job, sizes: tuple[str, ...] = ()) -> SizeAnswer | None:
    """Return the smallest size that passes everything, None if none does.

    Args:
        job: The run and its limits [A, m, V, %].
        sizes: Sizes to choose from, small to large; table 5's if left out.

    Returns:
        What that size does, or None: then a shorter run, a higher voltage or a larger part is needed.

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        The forward sums, tried from small to large.

    Example:
        >>> smallest_size(Job(load_a=48, out_m=5.2, back_m=5.2, nominal_v=24)).size
        '6 AWG'
    """
    tried = (answer(job, size) for size in sizes or table_sizes())
    return next((found for found in tried if found.passes), None)


def longest_run_m(job: Job, size: str) -> float:
    """Return the longest way out, with as much back, at which a size still passes [m].

    Args:
        job: The load and its limits; its lengths are not used [A, V, %].
        size: Label of the wire [as marked].

    Returns:
        One way of the run [m]; 0 if the size can not carry the load at any length.

    Raises:
        OutOfRange: if the size is not in the table or a number lies outside its range.

    Source:
        The drop is a straight line in the length, cold and hot: L = V_limit / (I R').

    Example:
        >>> job = Job(load_a=48, out_m=0, back_m=0, nominal_v=24)
        >>> round(longest_run_m(job, "6 AWG"), 2)
        5.33
    """
    if not _carries(job, size):
        return 0.0
    none, one = (_worst_percent(replace(job, out_m=m, back_m=m), size) for m in (0.0, 1.0))
    if none is None or one is None or none >= job.good_percent:
        return 0.0
    return (job.good_percent - none) / (one - none)


def largest_load_a(job: Job, size: str) -> float:
    """Return the largest load at which a size still passes [A].

    Args:
        job: The run and its limits; its load is not used [m, V, %].
        size: Label of the wire [as marked].

    Returns:
        The load [A], by heat or by drop, whichever ends first.

    Raises:
        OutOfRange: if the size is not in the table or a number lies outside its range.

    Source:
        By halving: the drop, cold and hot, only rises with the load.

    Example:
        >>> job = Job(load_a=1, out_m=5.2, back_m=5.2, nominal_v=24)
        >>> round(largest_load_a(job, "6 AWG"), 1)
        49.1
    """
    least, most = 0.0, job.share * allowable_for(job, size)
    if _within_drop(replace(job, load_a=most), size):
        return most
    for _ in range(_HALVINGS):
        middle = (least + most) / 2
        if middle in (least, most):
            break
        if _within_drop(replace(job, load_a=middle), size):
            least = middle
        else:
            most = middle
    return least


def what_if(job: Job, size: str, steps: int = 2) -> tuple[SizeAnswer, ...]:
    """Return what some sizes below and above one would do for a job.

    Args:
        job: The run and its limits [A, m, V, %].
        size: The size in the middle; another kind of size counts from the AWG row it goes by [as marked].
        steps: How many sizes each way [count], 1 to 14.

    Returns:
        One answer a size, small to large; fewer at the ends of the table.

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        As ``answer``.

    Example:
        >>> job = Job(load_a=48, out_m=5.2, back_m=5.2, nominal_v=24)
        >>> [(found.size, round(found.drop_percent, 2), found.passes) for found in what_if(job, "6 AWG", 1)]
        [('8 AWG', 4.44, False), ('6 AWG', 2.79, True), ('4 AWG', 1.76, True)]
    """
    within("steps", steps, 1, 14)
    sizes = table_sizes()
    middle = sizes.index(size) if size in sizes else _place_by_area(size, sizes)
    return tuple(answer(job, other) for other in sizes[max(0, middle - steps) : middle + steps + 1])


def _place_by_area(size: str, sizes: tuple[str, ...]) -> int:
    smaller = [place for place, other in enumerate(sizes) if area_mm2(other) <= area_mm2(size)]
    if not smaller:
        raise OutOfRange(f"size is {size}; it must be 18 AWG or larger, the least row that is printed")
    return smaller[-1]


def _percents(job: Job, size: str) -> tuple[float, float | None]:
    found = run_drop(
        job.load_a,
        size,
        job.out_m,
        job.back_m,
        job.insulation_c,
        max(job.ambient_c, ENGINE_SPACE_AMBIENT_C) if job.engine_space else job.ambient_c,
        job.loaded_conductors,
        job.extra_ohm,
    )
    hot = None if found.hot_drop_v is None else 100 * found.hot_drop_v / job.nominal_v
    return 100 * found.drop_v / job.nominal_v, hot


def _worst_percent(job: Job, size: str) -> float | None:
    cold, hot = _percents(job, size)
    return None if hot is None else max(cold, hot)


def _within_drop(job: Job, size: str) -> bool:
    worst = _worst_percent(job, size)
    return worst is not None and worst <= job.good_percent


def _carries(job: Job, size: str) -> bool:
    return job.load_a <= job.share * allowable_for(job, size) * (1 + 1e-12)


def _protection(job: Job, allowable_a: float) -> tuple[float, ...]:
    if job.device_a is None:
        return ()
    found = window(job.load_a, allowable_a, job.device_a, 1.0, job.continuous_factor)
    return found.wanted_sizes_a
