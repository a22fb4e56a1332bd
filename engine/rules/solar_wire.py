"""The wire of a solar panel: by its table for 1.56 times the short-circuit current, where it lies for 1.25 times."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import number, word
from engine.rules.say import apart, at_most, short
from engine.rules.solar import ISC, STRINGS
from engine.rules.sources import CFR_TABLE_5
from engine.rules.wire_place import AMBIENT, BUNDLED, ENGINE_SPACE, INSULATION, surroundings_factor
from engine.source import Authority, Seen, Source
from engine.trade.ampacity import bundle_factor, insulation_column_c, table_allowable_a
from engine.trade.solar import CONTINUOUS_FACTOR, IRRADIANCE_FACTOR

NEC_690_8 = Source(Authority.STANDARD, "NFPA 70 (NEC)", "690.8(A)(1), (B)(1) and (B)(2)", Seen.QUOTED)

_TIMES = IRRADIANCE_FACTOR * CONTINUOUS_FACTOR
"""What the table of the wire must have for each ampere of the label. Source: as above."""


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    isc, insulation = number(given, "isc") * number(given, "strings"), number(given, "insulation")
    table_a = table_allowable_a(word(given, "size"), insulation)
    allowable = table_a * surroundings_factor(given, insulation) * bundle_factor(number(given, "bundled"))
    sun_a, design_a = IRRADIANCE_FACTOR * isc, _TIMES * isc
    verdict, sentence = _verdict(isc, table_a, allowable)
    return Finding(
        CHECK.name,
        verdict,
        sentence,
        values={"design_a": design_a, "sun_a": sun_a, "table_a": table_a, "allowable_a": allowable},
        limits=(
            Limit(f"{_TIMES:.3g} x Isc by the table", "at most", table_a, "A"),
            Limit(f"{IRRADIANCE_FACTOR:g} x Isc where it lies", "at most", allowable, "A"),
        ),
        margin=min(table_a - design_a, allowable - sun_a),
        conditions=(f"insulation taken as the {insulation_column_c(insulation)} degC column",),
        sum_text=lambda: (
            f"table 5: {table_a:g} A, to be at least "
            f"{IRRADIANCE_FACTOR:g} x {CONTINUOUS_FACTOR:g} x {isc:g} A = {design_a:.4g} A\n"
            f"where it lies: {allowable:.4g} A, to be at least {IRRADIANCE_FACTOR:g} x {isc:g} A = {sun_a:.4g} A"
        ),
        remedy="" if verdict is Verdict.PASS else "use a larger wire",
    )


def _verdict(isc: float, table_a: float, allowable: float) -> tuple[Verdict, str]:
    if not at_most(isc, allowable):
        return Verdict.FAIL, f"{apart(isc, allowable)} A is over the {short(allowable)} A this wire may carry"
    sun_a, design_a = IRRADIANCE_FACTOR * isc, _TIMES * isc
    if not at_most(design_a, table_a):
        wanted = f"wire for {apart(design_a, table_a)} A is wanted, {_TIMES:.3g} times the label"
        return Verdict.MARGINAL, f"{wanted}; its table has {short(table_a)} A"
    if not at_most(sun_a, allowable):
        said = f"{apart(sun_a, allowable)} A in strong sun is over the {short(allowable)} A it may carry there"
        return Verdict.MARGINAL, said
    return (
        Verdict.PASS,
        f"wire for {short(design_a)} A is wanted, {_TIMES:.3g} times the label; this one has {short(table_a)} A",
    )


CHECK = Check(
    name="solar-wire",
    rule="R39",
    title="the wire of a solar panel",
    inputs=(
        ISC,
        STRINGS,
        Input("size", "wire", "size marked on the wire", worse="less"),
        INSULATION,
        ENGINE_SPACE,
        BUNDLED,
        AMBIENT,
    ),
    judge=_judge,
    sources=(NEC_690_8, CFR_TABLE_5),
    gives=(("design_a", "current that the table of the wire must have"), ("allowable_a", "what it may carry there")),
    example='tugtest check solar-wire isc=8.6 size="10 AWG" insulation=105 bundled=2',
)
