"""Says where the extra resistance of a run is after the load test, and what to read next."""

from collections.abc import Sequence

from engine.finding import Finding, Value, Verdict
from engine.rules.measured import UNCERTAINTY, own_rule
from engine.rules.say import short
from engine.source import Authority, Source
from engine.trade.locate import Across, Located, LoopPart, Stretch, locate
from engine.trade.measured_drop import enough_current

NAME = "where"

_OHM = Source(Authority.HANDBOOK, "Ohm's law", "measured less predicted resistance")


def where(
    parts: Sequence[LoopPart], readings: Sequence[Across], current_a: float, current_u_a: float, rated_a: float
) -> Finding:
    """Return a finding that says where the extra resistance is: it passes if nothing stands out.

    The arguments are those of ``engine.trade.locate.locate``.

    Raises:
        OutOfRange: if a reading names an unknown part, two readings overlap in part, or a number is out of range.
    """
    found = locate(parts, readings, current_a, current_u_a, rated_a)
    suspect = found.suspect
    told = suspect is not None or enough_current(current_a, rated_a)
    return Finding(
        NAME,
        _verdict(found) if told else Verdict.UNDECIDED,
        _sentence(found, rated_a) if told else f"{short(current_a)} A is too little to tell where anything is lost",
        values=_values(suspect),
        uncertainty=suspect.uncertainty_v if suspect else None,
        conditions=("the prediction is taken as exact", *_unread(found)),
        sum_text=lambda: "\n".join(_line(stretch, rated_a) for stretch in found.stretches),
        sources=(_OHM, UNCERTAINTY, own_rule("the next reading halves what is in doubt, joints before wire")),
        remedy=_next(found),
    )


def _verdict(found: Located) -> Verdict:
    if found.suspect is not None:
        return Verdict.MARGINAL
    return Verdict.PASS if found.stretches else Verdict.MISSING


def _sentence(found: Located, rated_a: float) -> str:
    if not found.stretches:
        return "not measured: no drop across any part of the loop"
    suspect = found.suspect
    if suspect is None:
        return "no part stands out: each loses what it should"
    return (
        f"{short(1000 * suspect.excess_ohm, 2)} mohm too much in {_place(suspect.parts)}: "
        f"{short(suspect.excess_v, 2)} V, {short(suspect.excess_w, 2)} W at {short(rated_a)} A"
    )


def _place(parts: tuple[str, ...]) -> str:
    return " + ".join(parts) if len(parts) <= 3 else f"{len(parts)} parts from {parts[0]} to {parts[-1]}"


def _values(suspect: Stretch | None) -> dict[str, Value]:
    if suspect is None:
        return {}
    return {
        "parts": suspect.parts,
        "excess_ohm": suspect.excess_ohm,
        "excess_v": suspect.excess_v,
        "excess_w": suspect.excess_w,
        "uncertainty_ohm": suspect.uncertainty_ohm,
    }


def _unread(found: Located) -> tuple[str, ...]:
    return (f"in no reading: {', '.join(found.unread)}",) if found.unread else ()


def _line(stretch: Stretch, rated_a: float) -> str:
    return (
        f"{' + '.join(stretch.parts)}: {short(1000 * stretch.measured_ohm)} mohm, predicted "
        f"{short(1000 * stretch.predicted_ohm)}, excess {short(1000 * stretch.excess_ohm, 2)} "
        f"(give or take {short(1000 * stretch.uncertainty_ohm, 2)}) mohm "
        f"= {short(stretch.excess_v, 2)} V at {short(rated_a)} A"
    )


def _next(found: Located) -> str:
    if found.next_across:
        return f"next: millivolts across {' + '.join(found.next_across)}, same current, same minute"
    if found.suspect is not None:
        return f"open {found.suspect.parts[0]} dead: clean, clamp again, load again"
    return ""
