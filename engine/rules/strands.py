"""Nicked and broken strands of a stripped end, by their share."""

import math
from collections.abc import Mapping

from engine.finding import Finding, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import maybe, number, word
from engine.rules.measured import own_rule
from engine.rules.part import Band, Part, worst_part
from engine.rules.say import short
from engine.source import Authority, Seen, Source
from engine.trade.conductor import area_mm2
from engine.trade.termination import StrandLimit, handbook_limit

BROKEN_GOOD_PERCENT, BROKEN_BEARABLE_PERCENT = 2.0, 5.0
NICKED_FINE_PERCENT, NICKED_COARSE_PERCENT = 10.0, 5.0
"""Shares of strands. Source: this project's rule; where the aircraft handbook has a row, its count is the most."""

FINE_UP_TO = "10 AWG"
"""The size up to which a wire counts as fine. Source: this project's rule."""

COUNT_UP_TO = 60
"""Up to so many strands are counted, above a look is enough. Source: this project's rule."""

LEAST_STRANDS = 16
"""Fewest strands of any wire for a boat. Source: ABYC E-11, type 2: solid wire and less is not used (quoted); 16 are
those of its thinnest size, from memory."""

AGAIN = "cut back and strip again, if the length allows it"

STRANDING = Source(Authority.STANDARD, "ABYC E-11", "stranding, type 2 for general wiring", Seen.QUOTED)
HANDBOOK = Source(Authority.HANDBOOK, "FAA AC 43.13-1B", "table 11-13, page 11-62")


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    size, strands = word(given, "size"), round(number(given, "strands"))
    nicked, broken, seen = maybe(given, "nicked"), maybe(given, "broken"), word(given, "damage")
    book = handbook_limit(size, strands)
    nicked_limit = NICKED_FINE_PERCENT if area_mm2(size) <= area_mm2(FINE_UP_TO) * 1.001 else NICKED_COARSE_PERCENT
    values: dict[str, Value] = {
        "nicked_percent": None if nicked is None else 100 * round(nicked) / strands,
        "broken_percent": None if broken is None else 100 * round(broken) / strands,
        "handbook_nicked": None if book is None else book.nicked,
        "handbook_broken": None if book is None else book.broken,
    }
    bands = _bands(strands, nicked_limit, book)
    part = worst_part([_said(nicked, broken, seen, strands, bands), *_stiff(strands)])
    shown = "no row" if book is None else f"{book.nicked} nicked, {book.broken} broken"
    return Finding(
        CHECK.name,
        part.verdict,
        part.sentence,
        values=values,
        limits=tuple(limit for band in bands for limit in band.limits),
        margin=None if broken is None else bands[0].good - round(broken),
        conditions=(f"the aircraft handbook for {size} with {strands} strands: {shown}", "counts have no guard band"),
        sum_text=lambda: _sum(nicked, broken, strands, seen),
        remedy=part.remedy,
    )


def _bands(strands: int, nicked_percent: float, book: StrandLimit | None) -> tuple[Band, Band]:
    """Return how many strands may be broken and nicked: by their share, and never more than the handbook lets be."""
    most_broken, most_nicked = (book.broken, book.nicked) if book else (strands, strands)
    good, bearable, nicked = (
        math.floor(percent * strands / 100 + 1e-9)
        for percent in (BROKEN_GOOD_PERCENT, BROKEN_BEARABLE_PERCENT, nicked_percent)
    )
    return (
        Band(
            what=f"{{}} of {strands} strands broken",
            good=min(good, most_broken),
            bearable=min(bearable, most_broken),
            unit="",
            mend=AGAIN,
        ),
        Band(
            what=f"{{}} of {strands} strands nicked",
            good=min(nicked, most_nicked),
            unit="",
            mend="cut back and strip again, with the stripper's own hole for this size",
        ),
    )


def _said(nicked: float | None, broken: float | None, seen: str, strands: int, bands: tuple[Band, Band]) -> Part:
    if nicked is None or broken is None:
        return _by_eye(seen, strands)
    if max(nicked, broken) > strands:
        return Part(Verdict.FAIL, f"more strands are damaged than the {strands} of the wire", "count them again")
    part = worst_part([bands[0].part(round(broken)), bands[1].part(round(nicked))])
    if part.verdict is not Verdict.PASS:
        return part
    return Part(Verdict.PASS, f"{round(nicked)} nicked, {round(broken)} broken of {strands} strands: sound")


def _stiff(strands: int) -> list[Part]:
    if strands >= LEAST_STRANDS:
        return []
    text = f"{strands} strands: house wire, which breaks where a boat shakes"
    return [Part(Verdict.MARGINAL, text, f"use boat cable: {LEAST_STRANDS} strands at the least, tinned")]


def _by_eye(seen: str, strands: int) -> Part:
    if not seen:
        return Part(
            Verdict.MISSING, "not measured: nicked and broken strands", "count both, or enter none, some or many"
        )
    if strands <= COUNT_UP_TO:
        return Part(Verdict.MISSING, f"{strands} strands can be counted: enter nicked and broken", "count both")
    verdict = {"none": Verdict.PASS, "some": Verdict.MARGINAL, "many": Verdict.FAIL}[seen]
    return Part(verdict, f"damaged strands seen: {seen}, of {strands}", "" if seen == "none" else AGAIN)


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
        Input("size", "wire", "size marked on the wire"),
        Input("strands", "", "strands in the wire", 1, 5000),
        Input("nicked", "", "strands with a nick", 0, 5000, required=False, worse="more"),
        Input("broken", "", "strands cut or broken", 0, 5000, required=False, worse="more"),
        Input(
            "damage",
            "choice",
            "what is seen, instead of counts above 60 strands",
            choices=("none", "some", "many"),
            required=False,
            worse="more",
        ),
    ),
    judge=_judge,
    sources=(own_rule("shares of damaged strands"), HANDBOOK, STRANDING),
    gives=(
        ("broken_percent", "share of strands broken"),
        ("nicked_percent", "share of strands nicked"),
        ("handbook_nicked", "what the aircraft handbook allows"),
        ("handbook_broken", "what the aircraft handbook allows"),
    ),
    example='tugtest check strands size="8 AWG" strands=133 nicked=2 broken=0',
)
