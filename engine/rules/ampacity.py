"""What the wire may carry where it lies, against what the load draws."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import flag, maybe, number, word
from engine.rules.say import apart, at_most, short
from engine.rules.sources import CFR_BUNDLE, CFR_COPPER, CFR_ENGINE_SPACE, CFR_RATING, CFR_TABLE_5, COMMON_PRACTICE
from engine.rules.wire_place import AMBIENT, BUNDLED, CONDUCTOR, ENGINE_SPACE, INSULATION, surroundings_factor
from engine.trade.ampacity import (
    TABLE_AMBIENT_C,
    bundle_factor,
    insulation_column_c,
    table_allowable_a,
)
from engine.trade.conductor import CLAD, area_mm2
from engine.trade.protection import HIGHER_V


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    load, size, insulation = number(given, "load"), word(given, "size"), number(given, "insulation")
    table_a = table_allowable_a(size, insulation)
    surroundings = surroundings_factor(given, insulation)
    bundle = _bundle_factor(given, context)
    allowable = table_a * surroundings * bundle
    if flag(given, "fuse"):
        verdict, sentence = _fuse_verdict(load, allowable, _ceiling_a(given, table_a, allowable, context))
    else:
        share = float(context.profile.settings["continuous_share_of_allowable"])
        verdict, sentence = _verdict(load, allowable, share, flag(given, "continuous"))
    if _too_thin(given, context):
        verdict, sentence = Verdict.FAIL, f"{size} is too thin to run singly: 16 AWG, or a sheath around it"
    if word(given, "conductor") == CLAD:
        verdict, sentence = Verdict.FAIL, "copper-clad aluminium: the table is for stranded copper, nothing else"
    return Finding(
        CHECK.name,
        verdict,
        sentence,
        values={
            "allowable_a": allowable,
            "table_a": table_a,
            "loading": load / allowable if allowable else None,
            "surroundings_factor": surroundings,
            "bundle_factor": bundle,
        },
        limits=(Limit("load", "at most", allowable, "A"),),
        margin=allowable - load,
        conditions=_conditions(given, insulation, context),
        sum_text=lambda: (
            f"I_allow = table 5 x surroundings x bundle\n"
            f"= {table_a:g} A x {surroundings:.3g} x {bundle:g} = {allowable:.4g} A; load {load:g} A"
        ),
        remedy=_remedy(given, verdict),
    )


def _verdict(load: float, allowable: float, share: float, continuous: bool) -> tuple[Verdict, str]:
    if not at_most(load, allowable):
        return Verdict.FAIL, f"{apart(load, allowable)} A is over the {short(allowable)} A this wire may carry"
    if continuous and not at_most(load, share * allowable):
        part = 100 * load / allowable
        return (
            Verdict.MARGINAL,
            f"{short(load)} A is {part:.0f} % of {short(allowable)} A; {100 * share:g} % is wise for long runs",
        )
    return Verdict.PASS, f"{short(load)} A is within the {short(allowable)} A this wire may carry"


def _ceiling_a(given: Mapping[str, Value], table_a: float, allowable: float, context: Context) -> float:
    """Return the largest fuse that the profile lets guard the wire [A]; from ``HIGHER_V`` on it is the wire's own."""
    settings = context.profile.settings
    if number(given, "nominal") >= HIGHER_V:
        return allowable
    base = table_a if settings["rating_base_is_plain_table"] else allowable
    return float(settings["rating_ceiling_share_of_allowable"]) * base


def _fuse_verdict(fuse: float, allowable: float, ceiling: float) -> tuple[Verdict, str]:
    wire = f"{short(allowable)} A this wire may carry"
    if at_most(fuse, allowable):
        return Verdict.PASS, f"the {short(fuse)} A fuse is within the {wire}"
    if at_most(fuse, ceiling):
        return Verdict.MARGINAL, f"the {short(fuse)} A fuse is over the {wire}; {short(ceiling)} A is a ceiling"
    return Verdict.FAIL, f"the {apart(fuse, ceiling)} A fuse is over {short(ceiling)} A: the wire can burn first"


def _remedy(given: Mapping[str, Value], verdict: Verdict) -> str:
    if verdict is Verdict.PASS:
        return ""
    return "fit a smaller fuse, or a larger wire" if flag(given, "fuse") else "use a larger wire"


def _bundle_factor(given: Mapping[str, Value], context: Context) -> float:
    factor = bundle_factor(number(given, "bundled"))
    applies = bool(context.profile.settings["bundle_below_50v"]) or number(given, "nominal") >= HIGHER_V
    return factor if applies else 1.0


def _too_thin(given: Mapping[str, Value], context: Context) -> bool:
    return given.get("in_sheath") is False and _thin(word(given, "size"), context)


def _thin(size: str, context: Context) -> bool:
    named = size in ("16 AWG", "SAE 16")
    return not named and area_mm2(size) < float(context.profile.settings["least_single_mm2"]) * (1 - 1e-9)


def _conditions(given: Mapping[str, Value], insulation: float, context: Context) -> tuple[str, ...]:
    column = insulation_column_c(insulation)
    said = [f"insulation taken as the {column} degC column"]
    ambient = maybe(given, "ambient")
    if flag(given, "engine_space"):
        said.append("engine space, 50 degC")
    elif ambient is None or ambient <= TABLE_AMBIENT_C:
        said.append("air of 30 degC; no credit for colder air")
    if not context.profile.settings["bundle_below_50v"] and number(given, "bundled") >= 3:
        said.append("this profile has no bundle factor below 50 V; industry practice applies it")
    if given.get("in_sheath") is None and _thin(word(given, "size"), context):
        said.append("below 16 AWG only inside a sheath")
    return tuple(said)


CHECK = Check(
    name="ampacity",
    rule="R04",
    title="what the wire may carry",
    inputs=(
        Input("load", "A", "current at full power", 0.001, 2000, worse="more"),
        Input("size", "wire", "size marked on the wire", worse="less"),
        INSULATION,
        ENGINE_SPACE,
        BUNDLED,
        CONDUCTOR,
        Input("continuous", "yes/no", "may run for hours", default=True, worse="more"),
        Input("nominal", "V", "nominal volts of the bank", 1, 1000, default=24.0, worse="more"),
        AMBIENT,
        Input("in_sheath", "yes/no", "lies in a sheath of several conductors", required=False, worse="less"),
        Input("fuse", "yes/no", "the current is the rating of its fuse", default=False),
    ),
    judge=_judge,
    sources=(CFR_TABLE_5, CFR_COPPER, CFR_ENGINE_SPACE, CFR_BUNDLE, CFR_RATING, COMMON_PRACTICE),
    gives=(("allowable_a", "what the wire may carry where it lies"), ("loading", "load over allowable")),
    example='tugtest check ampacity load=48A size="8 AWG" insulation=105 engine_space=no bundled=2',
)
