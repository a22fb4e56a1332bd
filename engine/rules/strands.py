"""Nicked and broken strands of a stripped end, by their share."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import maybe, number, word
from engine.rules.measured import own_rule
from engine.rules.part import Part, worst_part
from engine.rules.say import apart, at_most, short
from engine.source import Authority, Source
from engine.trade.conductor import area_mm2
from engine.trade.termination import handbook_limit, share_percent

BROKEN_GOOD_PERCENT, BROKEN_BEARABLE_PERCENT = 2.0, 5.0
NICKED_FINE_PERCENT, NICKED_COARSE_PERCENT = 10.0, 5.0
"""Shares of strands. Source: this project's rule, beside the aircraft handbook's counts."""

FINE_UP_TO = "10 AWG"
"""The size up to which a wire counts as fine. Source: this project's rule."""

COUNT_UP_TO = 60
"""Up to so many strands are counted, above a look is enough. Source: this project's rule."""

HANDBOOK = Source(Authority.HANDBOOK, "FAA AC 43.13-1B", "table 11-13, page 11-62")


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    size, strands = word(given, "size"), round(number(given, "strands"))
    nicked, broken, seen = maybe(given, "nicked"), maybe(given, "broken"), word(given, "damage")
    book = handbook_limit(size, strands)
    nicked_limit = NICKED_FINE_PERCENT if area_mm2(size) <= area_mm2(FINE_UP_TO) * 1.001 else NICKED_COARSE_PERCENT
    values: dict[str, Value] = {
        "nicked_percent": None if nicked is None else share_percent(round(nicked), strands),
        "broken_percent": None if broken is None else share_percent(round(broken), strands),
        "handbook_nicked": None if book is None else book.nicked,
        "handbook_broken": None if book is None else book.broken,
    }
    part = _said(nicked, broken, seen, strands, nicked_limit)
    shown = "no row" if book is None else f"{book.nicked} nicked, {book.broken} broken"
    return Finding(
        CHECK.name,
        part.verdict,
        part.sentence,
        values=values,
        limits=(
            Limit("broken", "at most", BROKEN_GOOD_PERCENT, "%"),
            Limit("broken", "at most", BROKEN_BEARABLE_PERCENT, "%"),
            Limit("nicked", "at most", nicked_limit, "%"),
        ),
        margin=None if broken is None else BROKEN_GOOD_PERCENT - share_percent(round(broken), strands),
        conditions=(f"the aircraft handbook for {size} with {strands} strands: {shown}", "counts have no guard band"),
        sum_text=lambda: _sum(nicked, broken, strands, seen),
        remedy=part.remedy,
    )


def _said(nicked: float | None, broken: float | None, seen: str, strands: int, nicked_limit: float) -> Part:
    if nicked is None or broken is None:
        return _by_eye(seen, strands)
    parts = [
        _broken(share_percent(round(broken), strands)),
        _nicked(share_percent(round(nicked), strands), nicked_limit),
    ]
    part = worst_part(parts)
    if part.verdict is not Verdict.PASS:
        return part
    return Part(Verdict.PASS, f"{round(nicked)} nicked, {round(broken)} broken of {strands} strands: sound")


def _by_eye(seen: str, strands: int) -> Part:
    if not seen:
        return Part(
            Verdict.MISSING, "not measured: nicked and broken strands", "count both, or enter none, some or many"
        )
    if strands <= COUNT_UP_TO:
        return Part(Verdict.MISSING, f"{strands} strands can be counted: enter nicked and broken", "count both")
    verdict = {"none": Verdict.PASS, "some": Verdict.MARGINAL, "many": Verdict.FAIL}[seen]
    remedy = "" if seen == "none" else "cut back and strip again, if the length allows it"
    return Part(verdict, f"damaged strands seen: {seen}, of {strands}", remedy)


def _broken(percent: float) -> Part:
    remedy = "cut back and strip again, if the length allows it"
    if at_most(percent, BROKEN_GOOD_PERCENT):
        return Part(Verdict.PASS, "")
    if at_most(percent, BROKEN_BEARABLE_PERCENT):
        text = f"{apart(percent, BROKEN_GOOD_PERCENT)} % of the strands broken, over {BROKEN_GOOD_PERCENT:g} %"
        return Part(Verdict.MARGINAL, text, remedy)
    text = f"{apart(percent, BROKEN_BEARABLE_PERCENT)} % of the strands broken, over {BROKEN_BEARABLE_PERCENT:g} %"
    return Part(Verdict.FAIL, text, remedy)


def _nicked(percent: float, limit: float) -> Part:
    if at_most(percent, limit):
        return Part(Verdict.PASS, "")
    text = f"{apart(percent, limit)} % of the strands nicked, over {limit:g} %"
    return Part(Verdict.FAIL, text, "cut back and strip again, with the stripper's own hole for this size")


def _sum(nicked: float | None, broken: float | None, strands: int, seen: str) -> str:
    if nicked is None or broken is None:
        return f"seen: {seen or 'nothing entered'}, of {strands} strands"
    return (
        f"broken 100 x {round(broken)} / {strands} = {short(100 * broken / strands)} %\n"
        f"nicked 100 x {round(nicked)} / {strands} = {short(100 * nicked / strands)} %"
    )


CHECK = Check(
    name="strands",
    rule="R11",
    title="nicked and broken strands",
    inputs=(
        Input(name="size", unit="wire", says="size marked on the wire"),
        Input(name="strands", unit="", says="strands in the wire", low=1, high=5000),
        Input(name="nicked", unit="", says="strands with a nick", low=0, high=5000, required=False),
        Input(name="broken", unit="", says="strands cut or broken", low=0, high=5000, required=False),
        Input(
            name="damage",
            unit="choice",
            says="what is seen, instead of counts above 60 strands",
            choices=("none", "some", "many"),
            required=False,
        ),
    ),
    judge=_judge,
    sources=(own_rule("shares of damaged strands"), HANDBOOK),
    gives=(
        ("broken_percent", "share of strands broken"),
        ("nicked_percent", "share of strands nicked"),
        ("handbook_nicked", "what the aircraft handbook allows"),
        ("handbook_broken", "what the aircraft handbook allows"),
    ),
    example='tugtest check strands size="8 AWG" strands=133 nicked=2 broken=0',
)
