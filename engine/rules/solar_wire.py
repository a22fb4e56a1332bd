"""The wire of a solar panel: by its table for 1.56 times the short-circuit current, where it lies for 1.25 times."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import flag, maybe, number, word
from engine.rules.say import apart, at_most, short
from engine.rules.sources import CFR_TABLE_5
from engine.source import Authority, Seen, Source
from engine.trade.ampacity import (
    ambient_factor,
    bundle_factor,
    engine_space_factor,
    insulation_column_c,
    table_allowable_a,
)
from engine.trade.solar import CONTINUOUS_FACTOR, IRRADIANCE_FACTOR

NEC_690_8 = Source(Authority.STANDARD, "NFPA 70 (NEC)", "690.8(A)(1), (B)(1) and (B)(2)", Seen.QUOTED)


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    isc, insulation = number(given, "isc") * number(given, "strings"), number(given, "insulation")
    table_a = table_allowable_a(word(given, "size"), insulation)
    allowable = table_a * _surroundings(given, insulation) * bundle_factor(number(given, "bundled"))
    sun_a = IRRADIANCE_FACTOR * isc
    design_a = CONTINUOUS_FACTOR * sun_a
    verdict, sentence = _verdict(table_a, allowable, sun_a, design_a)
    return Finding(
        CHECK.name,
        verdict,
        sentence,
        values={"design_a": design_a, "sun_a": sun_a, "table_a": table_a, "allowable_a": allowable},
        limits=(
            Limit("1.56 x Isc by the table", "at most", table_a, "A"),
            Limit("1.25 x Isc where it lies", "at most", allowable, "A"),
        ),
        margin=min(table_a - design_a, allowable - sun_a),
        conditions=(f"insulation taken as the {insulation_column_c(insulation)} degC column",),
        sum_text=lambda: (
            f"table 5: {table_a:g} A, to be at least 1.25 x 1.25 x {isc:g} A = {design_a:.4g} A\n"
            f"where it lies: {allowable:.4g} A, to be at least 1.25 x {isc:g} A = {sun_a:.4g} A"
        ),
        remedy="" if verdict is Verdict.PASS else "use a larger wire",
    )


def _surroundings(given: Mapping[str, Value], insulation: float) -> float:
    ambient = maybe(given, "ambient")
    hotter = 1.0 if ambient is None else ambient_factor(insulation, ambient)
    return min(engine_space_factor(insulation), hotter) if flag(given, "engine_space") else hotter


def _verdict(table_a: float, allowable: float, sun_a: float, design_a: float) -> tuple[Verdict, str]:
    if not at_most(sun_a / IRRADIANCE_FACTOR, allowable):
        isc = sun_a / IRRADIANCE_FACTOR
        return Verdict.FAIL, f"{apart(isc, allowable)} A is over the {short(allowable)} A this wire may carry"
    if not at_most(design_a, table_a):
        said = f"wire for {apart(design_a, table_a)} A is wanted, 1.56 x Isc; its table has {short(table_a)} A"
        return Verdict.MARGINAL, said
    if not at_most(sun_a, allowable):
        said = f"{apart(sun_a, allowable)} A in strong sun is over the {short(allowable)} A it may carry there"
        return Verdict.MARGINAL, said
    return Verdict.PASS, f"wire for {short(design_a)} A is wanted, 1.56 x Isc; this one has {short(table_a)} A"


CHECK = Check(
    name="solar-wire",
    rule="R39",
    title="the wire of a solar panel",
    inputs=(
        Input(name="isc", unit="A", says="short-circuit current on the label", low=0.001, high=100),
        Input(name="strings", unit="", says="strings side by side", low=1, high=100, default=1.0, required=False),
        Input(name="size", unit="wire", says="size marked on the wire"),
        Input(
            name="insulation", unit="degC", says="rating of the jacket", low=60, high=250, default=105.0, required=False
        ),
        Input(name="engine_space", unit="yes/no", says="any part in an engine space", default=False, required=False),
        Input(
            name="bundled",
            unit="",
            says="loaded conductors in its bundle",
            low=1,
            high=500,
            default=2.0,
            required=False,
        ),
        Input(name="ambient", unit="degC", says="warmest air around the wire", low=-40, high=199, required=False),
    ),
    judge=_judge,
    sources=(NEC_690_8, CFR_TABLE_5),
    gives=(("design_a", "current that the table of the wire must have"), ("allowable_a", "what it may carry there")),
    example='tugtest check solar-wire isc=8.6 size="10 AWG" insulation=105 bundled=2',
)
