"""The torque that a terminal screw was set to, against the maker's figure."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.published.tables import NotPrinted
from engine.rules.check import Check, Context, Input
from engine.rules.given import flag, maybe, word
from engine.rules.measured import practice
from engine.rules.part import Part
from engine.rules.say import at_least, at_most, short
from engine.source import Authority, Seen, Source
from engine.trade.torque import LBF_IN_NM, WINDOW, lug_torque_by_key, window_nm

KEY_TABLE = Source(Authority.STANDARD, "NFPA 70", "informative annex I, table I.3", Seen.QUOTED)
WITHIN_TEN = Source(Authority.STANDARD, "UL 486A-486B", "tightening torque within 10 %", Seen.QUOTED)

CONTACT, LUG = "contact", "lug"

INSTEAD = "pull and look, then joint and heat under load are a must"


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    torque = maybe(given, "torque")
    try:
        asked, source = _asked(given)
    except NotPrinted as nothing:
        return _missing(str(nothing))
    if torque is None:
        return _missing("no torque driver: not measured")
    if asked is None:
        return _missing("no maker's figure for this contact: not measured; a key gives none")
    low, high = window_nm(asked)
    part = _said(torque, low, high, flag(given, "greased"))
    return Finding(
        CHECK.name,
        part.verdict,
        part.sentence,
        values={"torque_nm": torque, "specified_nm": asked, "specified_lbf_in": asked / LBF_IN_NM},
        limits=(Limit("torque", "at least", low, "N m"), Limit("torque", "at most", high, "N m")),
        margin=min(torque - low, high - torque),
        conditions=(
            "the set value, no guard band",
            "once, dead: checking it later proves little, a joint relaxes",
        ),
        sum_text=lambda: (
            f"{1 - WINDOW:g} x {short(asked)} = {short(low)} to {1 + WINDOW:g} x {short(asked)} = {short(high)} N m; "
            f"set {short(torque)} N m"
        ),
        sources=(source, WITHIN_TEN),
        remedy=part.remedy,
    )


def _asked(given: Mapping[str, Value]) -> tuple[float | None, Source]:
    specified, key = maybe(given, "specified"), maybe(given, "hex")
    if specified is not None:
        return specified, Source(Authority.PRACTICE, "the maker's sheet", "as it was typed in")
    if word(given, "kind") == LUG and key is not None:
        found = lug_torque_by_key(key)
        return found.torque_nm, found.source
    return None, WITHIN_TEN


def _said(torque: float, low: float, high: float, greased: bool) -> Part:
    window = f"{short(low)} to {short(high)} N m"
    if not at_least(torque, low):
        return Part(Verdict.FAIL, f"set to {short(torque)} N m, under {window}", "set the driver, tighten once more")
    if not at_most(torque, high):
        return Part(
            Verdict.FAIL,
            f"set to {short(torque)} N m, over {window}",
            "look for a stripped thread or a cracked body; fit a new part if in doubt",
        )
    if greased:
        return Part(
            Verdict.MARGINAL,
            f"{short(torque)} N m on greased threads clamps harder than the figure means",
            "clamp dry; coat the outside after torque and pull",
        )
    return Part(Verdict.PASS, f"set to {short(torque)} N m, within {window}")


def _missing(sentence: str) -> Finding:
    return Finding(
        CHECK.name,
        Verdict.MISSING,
        sentence,
        conditions=("joint and heat are then a must",),
        remedy=INSTEAD,
    )


CHECK = Check(
    name="torque",
    rule="R14",
    title="torque of a terminal screw",
    inputs=(
        Input("torque", "N m", "torque that the driver was set to", 0.05, 100, required=False, instrument="torq"),
        Input("specified", "N m", "the maker's figure", 0.05, 100, required=False),
        Input("hex", "mm", "hex key across flats, for a lug only", 1, 20, required=False),
        Input("greased", "yes/no", "is there grease on the threads", default=False, worse="more"),
        Input(
            "kind",
            "choice",
            "a receptacle or plug contact, or a lug or connector block",
            choices=(CONTACT, LUG),
            default=CONTACT,
        ),
    ),
    judge=_judge,
    sources=(WITHIN_TEN, KEY_TABLE, practice("grease on threads: same torque, more clamp")),
    gives=(("specified_nm", "the figure it is held against"),),
    example='tugtest check torque torque="4.0 N m" specified="4.0 N m"',
)
