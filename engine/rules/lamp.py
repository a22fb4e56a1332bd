"""Volts at a lamp that is lit: a navigation light by its drop, a road lamp by its share of the design volts."""

from collections.abc import Mapping

from engine.finding import Finding, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import maybe, number, word
from engine.rules.measured import GUARD_BAND, difference_u, practice, standard_u
from engine.rules.part import Band, Part
from engine.rules.say import at_most, short
from engine.rules.sources import E11_DROP
from engine.source import Authority, Source
from engine.trade.lamp import (
    NAVIGATION_DROP_PERCENT,
    ROAD_SHARE,
    drop_percent,
    filament_light_percent,
    system_nominal_v,
)
from engine.trade.nominal import usual_v
from engine.trade.reading import expanded

ROAD_RULE = Source(Authority.REGULATION, "California Code of Regulations, Title 13", "1249(c)")

MEND = "look at the ground joint first, then plug and wire size"
OFF = "Switch it off and take the lamp out. Prove the wires dead before you touch them; then find what feeds them."
SETTLE = "one meter for both, close to the limit a finer one"


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    source, lamp = number(given, "source"), number(given, "lamp")
    asked = maybe(given, "design")
    design = system_nominal_v(source) if asked is None else asked
    judge = _road if word(given, "kind") == "road" else _navigation
    return judge(source, lamp, design, context)


def _too_many(given: Mapping[str, Value]) -> Part | None:
    """Return the fail of a lamp that gets volts which kill it."""
    lamp, design = maybe(given, "lamp"), maybe(given, "design")
    if lamp is None or design is None or at_most(lamp, usual_v(design)[1]):
        return None
    text = f"{short(lamp, 4)} V at a lamp for {short(design)} V: too many, {short(usual_v(design)[1])} V is the most"
    return Part(Verdict.FAIL, text, "find which battery feeds it; fit no lamp before the volts are right", hands=OFF)


NAVIGATION = Band(what="drop to the light", good=NAVIGATION_DROP_PERCENT, unit="%", mend=MEND, settle=SETTLE)
ROAD = Band(
    what="lamp gets {} of its design volts", good=100 * ROAD_SHARE, unit="%", least=True, mend=MEND, settle=SETTLE
)


def _navigation(source: float, lamp: float, design: float, context: Context) -> Finding:
    percent = drop_percent(source, lamp, design)
    u = difference_u(("source", "lamp"), (source, lamp), "dmm_v", context, same_meter=True)
    return _finding(
        NAVIGATION,
        percent,
        100 * expanded(u) / design,
        {"drop_v": source - lamp, "drop_percent": percent, "light_percent": _light(lamp / design)},
        f"100 x ({short(source, 4)} - {short(lamp, 4)}) V / {short(design)} V = {short(percent)} %",
    )


def _road(source: float, lamp: float, design: float, context: Context) -> Finding:
    share = 100 * lamp / design
    return _finding(
        ROAD,
        share,
        100 * expanded(standard_u("lamp", lamp, "dmm_v", context)) / design,
        {"drop_v": source - lamp, "share_percent": share, "light_percent": _light(lamp / design)},
        f"100 x {short(lamp, 4)} V / {short(design)} V = {short(share)} %",
    )


def _light(share: float) -> float | None:
    return filament_light_percent(share) if 0.5 <= share <= 1.2 else None


def _finding(band: Band, percent: float, uncertainty: float, values: Mapping[str, Value], working: str) -> Finding:
    part = band.part(percent, uncertainty)
    return Finding(
        CHECK.name,
        part.verdict,
        part.sentence,
        values=values,
        limits=band.limits,
        margin=percent - band.good if band.least else band.good - percent,
        uncertainty=uncertainty,
        conditions=("both read with the lamp lit", "light_percent is for a filament: with the 3.4th power of volts"),
        sum_text=working,
        remedy=part.remedy,
    )


CHECK = Check(
    name="lamp",
    rule="R23",
    title="volts at a lamp that is lit",
    inputs=(
        Input("source", "V", "volts at the source, lamp lit", 1, 100, instrument="dmm_v"),
        Input("lamp", "V", "volts at the lamp, lit", 0, 100, instrument="dmm_v"),
        Input("kind", "choice", "a navigation light or a road lamp", choices=("navigation", "nav", "road")),
        Input(
            "design", "V", "volts that the lamp is made for; 12 or 24 by the source if left out", 1, 100, required=False
        ),
    ),
    judge=_judge,
    danger=_too_many,
    sources=(E11_DROP, ROAD_RULE, practice("a filament's light with the 3.4th power of volts"), GUARD_BAND),
    gives=(
        ("drop_percent", "drop to a navigation light"),
        ("share_percent", "share of the design volts at a road lamp"),
        ("light_percent", "light that a filament gives"),
    ),
    example="tugtest check lamp source=12.6V lamp=12.4V kind=navigation",
)
