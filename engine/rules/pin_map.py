"""A connector measured each contact to each: the wanted pairs joined, all others apart."""

import math
from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import flag, number
from engine.rules.measured import Part, practice, several
from engine.trade.pin_map import APART_OHM, JOINED_OHM, PinMap, read_pin_map, straight_through
from engine.trade.ranges import OutOfRange


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    if not flag(given, "unplugged"):
        text = "loads still plugged in: a lamp or a coil reads like a wire"
        return Finding(CHECK.name, Verdict.MISSING, text, remedy="unplug every load, both ends free, measure again")
    ohms = several(given, "ohms")
    count = math.isqrt(len(ohms))
    if count * count != len(ohms):
        raise OutOfRange(f"ohms has {len(ohms)} readings; it must have n x n: each contact to each, row by row")
    plan = tuple(round(far) for far in several(given, "map")) or straight_through(count)
    leads = number(given, "leads")
    found = read_pin_map(ohms, plan, leads)
    part = _said(found, count)
    return Finding(
        CHECK.name,
        part.verdict,
        part.sentence,
        values={
            "contacts": count,
            "open": tuple(_pair(*pair) for pair in found.open_pairs),
            "joined": tuple(_pair(*pair) for pair in found.joined_pairs),
            "looks_like": found.looks_like,
        },
        limits=(
            Limit("wanted pair", "at most", leads + JOINED_OHM, "ohm"),
            Limit("all others", "at least", APART_OHM, "ohm"),
        ),
        conditions=("face or wire side: the same view at both ends",),
        sum_text=lambda: (
            f"{len(ohms)} readings, leads {leads:g} ohm; plan {', '.join(map(_pair, range(1, count + 1), plan))}"
        ),
        remedy=part.remedy,
    )


def _said(found: PinMap, count: int) -> Part:
    if found.looks_like:
        return Part(Verdict.FAIL, found.looks_like, "look at both sheets, then move the contacts")
    if found.open_pairs:
        return Part(Verdict.FAIL, f"open: {_pairs(found.open_pairs)}", "look for a contact not home, or a broken wire")
    if found.joined_pairs:
        return Part(
            Verdict.FAIL,
            f"joined against the plan: {_pairs(found.joined_pairs)}",
            "look for a stray strand, water, or a wrong contact",
        )
    return Part(Verdict.PASS, f"all {count} contacts as planned, nothing else joined")


def _pairs(pairs: tuple[tuple[int, int], ...]) -> str:
    shown = ", ".join(_pair(*pair) for pair in pairs[:4])
    return shown if len(pairs) <= 4 else f"{shown} and {len(pairs) - 4} more"


def _pair(here: int, far: int) -> str:
    return f"{here} to {far}"


CHECK = Check(
    name="pin-map",
    rule="R27",
    title="each contact to each",
    inputs=(
        Input(
            name="ohms",
            unit="ohm",
            says="contact 1 to far 1, 2 ... n, then contact 2, row by row",
            low=0,
            many=True,
            over_range=True,
            instrument="dmm_r",
        ),
        Input(
            name="map",
            unit="",
            says="far contact wanted for 1, 2 ... n, 0 for none; straight through if left out",
            low=0,
            high=40,
            required=False,
            many=True,
        ),
        Input(
            name="leads",
            unit="ohm",
            says="the meter's leads held together",
            low=0,
            high=5,
            default=0.5,
            required=False,
            instrument="dmm_r",
        ),
        Input(name="unplugged", unit="yes/no", says="is every load unplugged"),
    ),
    judge=_judge,
    sources=(practice("wanted pairs at most 0.5 ohm above the leads, others over 1 Mohm; leads 0.2 to 0.5 ohm"),),
    gives=(("open", "wanted pairs that are open"), ("joined", "pairs joined against the plan")),
    example='tugtest check pin-map ohms="0.4; OL; OL; 0.4" unplugged=yes',
)
