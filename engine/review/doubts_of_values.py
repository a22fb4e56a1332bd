"""Doubts of what was typed: its last digits, the physics of the one circuit, what was corrected, a shipped sample."""

from collections import Counter
from collections.abc import Iterator, Mapping
from functools import cache
from math import comb

from engine.finding import Finding, Verdict
from engine.review.doubts import Doubt, Record, volts
from engine.session.answers import BadAnswers, load_answers
from engine.session.commands import Take
from engine.shipped import folder
from engine.trade.heat import SOAK_S

BY_CHANCE = 1e-6
"""Chance [no unit] under which last digits are told of: one log in a hundred thousand, over all that is tried in one.
A project rule."""

FEWEST_VOLTS, WHOLE_SHARE = 5, 0.8
"""From so many readings in volts [count], this share [no unit] without a decimal is told of. A project rule: the
coarsest digital meter shows tenths of a volt up to 200 V."""

WARM_W, COOL_K = 0.3, 0.5
"""Watts in a joint from which its part does get warmer than the air [W], and by how much at the least [K]. A project
rule: a plug in free air takes 5 to 15 K a watt."""

COLD_W, HOT_K = 0.05, 15.0
"""Watts in every joint below which none of them warms a part by as much as this [W, K]; a project rule."""

NEAR_V = 0.15
"""Two readings of one bank with one meter differ by less than this [V]; a project rule: twice 0.5 % of 12 V."""

CHANGED = 2
"""So many values of one step that passed only once they were corrected [count] are told of; a project rule."""

SAMPLE_SHARE, FEWEST = 0.8, 15
"""From so many measured values [count], this share [no unit] as in a shipped sample is told of; a project rule."""


def doubts_of_values(record: Record) -> Iterator[Doubt]:
    """Yield what the values throw doubt on."""
    yield from _digits(record)
    yield from _heat(record)
    yield from _loop(record)
    yield from _corrected(record)
    yield from _as_in_a_sample(record)


# Digits


def _digits(record: Record) -> Iterator[Doubt]:
    in_volts = list(record.measured("dmm_v"))
    whole = [taken for taken in in_volts if taken.digit >= 1]
    if len(in_volts) >= FEWEST_VOLTS and len(whole) >= WHOLE_SHARE * len(in_volts):
        yield Doubt(
            "digits", f"{len(whole)} of {len(in_volts)} readings in volts have no decimal; a digital meter shows one"
        )
    meters, warm = _last_digits(record, "dmm_v", "dmm_mv", "clamp"), _last_digits(record, "ir", "tc")
    total, all_last = (meters + warm).total(), (meters + warm).most_common(1)
    one, count = all_last[0] if all_last else ("", 0)
    rounded = meters["0"] + meters["5"]
    if 10 * tail(total, count, 0.1) < BY_CHANCE:
        yield Doubt("digits", f"{count} of {total} different meter readings end in {one}; by chance one in ten")
    elif tail(total, rounded, 0.2) < BY_CHANCE:
        yield Doubt(
            "digits", f"{rounded} of {total} different meter readings end in 0 or 5; one in five does by chance"
        )


def tail(total: int, count: int, chance: float) -> float:
    """Return the chance that at least ``count`` of ``total`` independent events of one ``chance`` happen [no unit].

    Source:
        The binomial distribution.

    Example:
        >>> f"{tail(3, 2, 0.5):g}"
        '0.5'
    """
    return sum(comb(total, k) * chance**k * (1 - chance) ** (total - k) for k in range(count, total + 1))


def _last_digits(record: Record, *instruments: str) -> Counter[str]:
    """Count the last digits of different readings: the same value twice is one reading of the same thing."""
    shown = {(taken.unit, taken.number): taken.raw for taken in record.measured(*instruments)}
    return Counter(digit for digit in map(_last_digit, shown.values()) if digit)


def _last_digit(raw: str) -> str:
    """Return the last digit of the number in a text: the meter's own last place."""
    number = raw.strip().split(" ")[0].rstrip("VAvamkKhz")
    return number[-1:] if number[-1:].isdigit() else ""


# The circuit


def _heat(record: Record) -> Iterator[Doubt]:
    """Yield a drop without a rise, and a rise without a drop."""
    joints = [(_number(f, "drop"), _number(f, "current")) for f in record.of_check("joint") if _is_hot_part(f)]
    for heat in record.of_check("heat"):
        positive, negative, ambient, current = (
            _number(heat, name) for name in ("positive", "negative", "ambient", "current")
        )
        rise = max(positive, negative) - ambient
        watts = [drop / at * current**2 for drop, at in joints if at > 0]
        if _number(heat, "minutes") < SOAK_S * 0.99 or not watts:
            continue
        most, drop = max(watts), max(drop for drop, _ in joints)
        said = f"a joint that loses {volts(drop)} makes {most:.1f} W at {current:.1f} A"
        if most >= WARM_W and rise < COOL_K:
            yield Doubt(
                "physics", f"{said}; after ten minutes of it no terminal is more than {rise:.1f} K over the air"
            )
        elif most <= COLD_W and rise > HOT_K:
            yield Doubt(
                "physics", f"no joint makes more than {most:.2f} W, and yet a terminal is {rise:.0f} K over the air"
            )


def _is_hot_part(joint: Finding) -> bool:
    return joint.inputs.get("kind") in ("contact", "screw", None)


def _loop(record: Record) -> Iterator[Doubt]:
    """Yield joints that lose more than the run that they are in, and a bank that reads more under load than at rest."""
    joints_v = sum(_number(finding, "drop") for finding in record.of_check("joint"))
    rest_v = max((_number(finding, "volts") for finding in record.of_check("polarity")), default=0.0)
    for run in record.of_check("measured-drop"):
        source, at_load = run.inputs.get("source"), run.inputs.get("at_load")
        if not isinstance(source, int | float) or not isinstance(at_load, int | float):
            continue
        lost_v, allowed_v = source - at_load, run.uncertainty or NEAR_V
        if joints_v > lost_v + allowed_v:
            yield Doubt("physics", f"the joints alone lose {volts(joints_v)}, the whole run {volts(lost_v)}")
        if rest_v and source > rest_v + NEAR_V:
            yield Doubt("physics", f"the bank reads {volts(source)} under load and {volts(rest_v)} at rest")


def _number(finding: Finding, name: str) -> float:
    value = finding.inputs.get(name)
    return float(value) if isinstance(value, int | float) else 0.0


# What was changed


def _corrected(record: Record) -> Iterator[Doubt]:
    """Yield the steps in which several values passed once they were corrected, and not by a slip of a key alone."""
    asks, steps = record.procedure.entry_by_id, record.procedure.step_of_entry
    passing = [each for each in record.changed if record.is_measured(each[0]) and _passes(record, each[0])]
    for step in dict.fromkeys(steps[entry] for entry, *_ in passing):
        here = [each for each in passing if steps[each[0]] == step]
        if len(here) < CHANGED or all(is_slip(was, now) for _, was, now, _ in here):
            continue
        told = "; ".join(f'{asks[e].ask}: "{was}" to "{now}" ({why or "no reason"})' for e, was, now, why in here)
        yield Doubt("corrected", f"{len(here)} values of one step passed once corrected, not taken again: {told}")


def _passes(record: Record, entry: str) -> bool:
    keys = [key for key in record.findings if entry in record.procedure.rests_on[key[0]]]
    return all(record.findings[key].verdict in (Verdict.PASS, Verdict.MARGINAL) for key in keys)


def is_slip(was: str, now: str) -> bool:
    """Return whether two texts differ as a slip of a key does: the same digits in another order, or one more or less.

    Example:
        >>> is_slip("41 mV", "14 mV"), is_slip("144", "14"), is_slip("124", "38")
        (True, True, False)
    """
    one, other = ("".join(c for c in text if c.isdigit()) for text in (was, now))
    if sorted(one) == sorted(other):
        return True
    longer, shorter = sorted((one, other), key=len, reverse=True)
    if len(longer) == len(shorter):
        return sum(a != b for a, b in zip(one, other, strict=True)) == 1
    return len(longer) - len(shorter) == 1 and any(longer[:n] + longer[n + 1 :] == shorter for n in range(len(longer)))


# A shipped sample


def _as_in_a_sample(record: Record) -> Iterator[Doubt]:
    texts = {
        entry: given.taken.raw.strip()
        for entry, given in record.state.given.items()
        if record.is_measured(entry) and given.taken.number
    }
    for name, shipped in _samples(record.procedure.id).items():
        both = [entry for entry in texts if entry in shipped]
        same = sum(1 for entry in both if texts[entry] == shipped[entry])
        if len(both) >= FEWEST and same >= SAMPLE_SHARE * len(both):
            yield Doubt("sample", f"{same} of {len(both)} measured values are those of the shipped sample {name}")


@cache
def _samples(procedure: str) -> Mapping[str, Mapping[str, str]]:
    """Return what the shipped answers of a procedure give, by sample and entry."""
    found: dict[str, Mapping[str, str]] = {}
    for path in sorted(folder("sample_sessions").glob("*.answers.toml")):
        try:
            answers = load_answers(path)
        except BadAnswers:
            continue
        if answers.procedure == procedure:
            given = {a.entry: a.text.strip() for a in answers.actions if isinstance(a, Take)}
            found[path.name.removesuffix(".answers.toml")] = given
    return found
