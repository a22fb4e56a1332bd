"""A connector measured each contact to each: the wanted pairs joined, all others apart."""

import math
from collections.abc import Callable, Mapping, Sequence

from engine.finding import Finding, Limit, Value, Verdict
from engine.quantity.pin_map import read_pin_map
from engine.quantity.pin_rows import LONGEST_KEPT, PIN_MAP, PinRows
from engine.rules.check import Check, Context, Input
from engine.rules.given import flag, labelled, number, word
from engine.rules.measured import practice, several
from engine.rules.part import Part
from engine.trade.pin_map import (
    APART_OHM,
    JOINED_OHM,
    PinMap,
    compare_rows,
    rows_of_ohms,
    rows_of_plan,
    straight_through,
)
from engine.trade.ranges import OutOfRange

NAMED = 3
"""Pairs that a sentence names before it counts the rest (project rule: it stays one line)."""


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    if not flag(given, "unplugged"):
        text = "loads still plugged in: a lamp or a coil reads like a wire"
        return Finding(CHECK.name, Verdict.MISSING, text, remedy="unplug every load, both ends free, measure again")
    if not word(given, "found") and not several(given, "ohms"):
        text = "not measured: each contact to each"
        return Finding(CHECK.name, Verdict.MISSING, text, remedy="measure each contact of this end to each far end")
    leads = number(given, "leads")
    if word(given, "found"):
        return _from_rows(_rows(given, "found"), _rows(given, "plan") if word(given, "plan") else None, leads)
    return _from_ohms(given, leads)


def _from_rows(found: PinRows, plan: PinRows | None, leads: float) -> Finding:
    def working() -> str:
        return f"measured {found.label}; plan {plan.label if plan else 'straight through'}"

    return _finding(compare_rows(found, plan, leads), leads, working, _seen(found))


def _from_ohms(given: Mapping[str, Value], leads: float) -> Finding:
    named = labelled(given, "ohms")
    ohms = tuple(ohm for _, ohm in named)
    count = math.isqrt(len(ohms))
    if count * count != len(ohms):
        raise OutOfRange(f"ohms has {len(ohms)} readings; it must have n x n: each contact to each, row by row")
    plan = tuple(round(far) for far in several(given, "map")) or straight_through(count)
    read = compare_rows(rows_of_ohms(ohms, len(plan)), rows_of_plan(plan), leads)

    def working() -> str:
        planned = ", ".join(_pair(here, far) for here, far in enumerate(plan, start=1))
        return f"{len(ohms)} readings, leads {leads:g} ohm; plan {planned}"

    return _finding(read, leads, working, (), tuple(label for label, _ in named))


def _finding(
    read: PinMap, leads: float, working: Callable[[], str], seen: tuple[str, ...], labels: tuple[str, ...] = ()
) -> Finding:
    part = _said(read, labels)
    return Finding(
        CHECK.name,
        part.verdict,
        part.sentence,
        values={
            "contacts": read.contacts,
            "open": tuple(_pair(*pair) for pair in read.open_pairs),
            "joined": tuple(_pair(*pair) for pair in read.joined_pairs),
            "looks_like": read.looks_like,
        },
        limits=(
            Limit("wanted pair", "at most", leads + JOINED_OHM, "ohm"),
            Limit("all others", "at least", APART_OHM, "ohm"),
        ),
        conditions=("face or wire side: the same view at both ends", *seen),
        sum_text=working,
        remedy=part.remedy,
    )


def _rows(given: Mapping[str, Value], name: str) -> PinRows:
    rows = read_pin_map(word(given, name), longest=LONGEST_KEPT)
    if isinstance(rows, PinRows):
        return rows
    raise OutOfRange(f"{name} is no pin map; it must be one such as 1-1 2-2 3-OL")


def _seen(found: PinRows) -> tuple[str, ...]:
    """Return the condition under which pairs without ohms count."""
    bare = sum(pair.ohm is None for pair in found.pairs)
    if not bare:
        return ()
    return (f"{bare} pairs without ohms: joined as seen, at most {JOINED_OHM:g} ohm above the leads",)


def _said(read: PinMap, labels: tuple[str, ...]) -> Part:
    """Return what a map says; ``labels`` are what its readings are called, contact by contact, if they are."""
    if read.looks_like:
        crossed = f": {_pairs(read.open_pairs, labels)}" if any(labels) else ""
        return Part(Verdict.FAIL, f"{read.looks_like}{crossed}", "look at both sheets, then move the contacts")
    if read.open_pairs:
        also = f"; {len(read.joined_pairs)} joined against it" if read.joined_pairs else ""
        sentence = f"not joined: {_pairs(read.open_pairs, labels)}{also}"
        return Part(Verdict.FAIL, sentence, "look for a contact not home, a wrong contact, or a broken wire")
    if read.joined_pairs:
        return Part(
            Verdict.FAIL,
            f"joined against the plan: {_pairs(read.joined_pairs, labels)}",
            "look for a stray strand, water, or a wrong contact",
        )
    return Part(Verdict.PASS, f"all {read.contacts} contacts as planned, nothing else joined")


def _pairs(pairs: Sequence[tuple[str, str]], labels: Sequence[str]) -> str:
    """Return the first pairs in words; two that were read in one go are named once."""
    said = list(dict.fromkeys(_called(pair, labels) for pair in pairs))
    shown = ("; " if any(labels) else ", ").join(said[:NAMED])
    return shown if len(said) <= NAMED else f"{shown} and {len(said) - NAMED} more"


def _called(pair: tuple[str, str], labels: Sequence[str]) -> str:
    at = (int(pair[0]) - 1) * math.isqrt(len(labels)) + int(pair[1]) - 1 if labels else 0
    return (labels[at] if labels else "") or _pair(*pair)


def _pair(here: str | int, far: str | int) -> str:
    return f"{here} to {far}"


CHECK = Check(
    name="pin-map",
    rule="R27",
    title="each contact to each",
    inputs=(
        Input(
            "ohms",
            "ohm",
            "contact 1 to far 1, 2 ... n, then contact 2, row by row",
            0,
            many=True,
            over_range=True,
            instrument="dmm_r",
            required=False,
        ),
        Input(
            "found", PIN_MAP, "instead of ohms: what each contact reaches, all other pairs over range", required=False
        ),
        Input(
            "plan",
            PIN_MAP,
            "beside found: what each contact should reach; straight through if left out",
            required=False,
        ),
        Input(
            "map",
            "",
            "beside ohms: far contact wanted for 1, 2 ... n, 0 for none; straight through if left out",
            0,
            40,
            required=False,
            many=True,
        ),
        Input("leads", "ohm", "the meter's leads held together", 0, 5, default=0.5, instrument="dmm_r"),
        Input("unplugged", "yes/no", "is every load unplugged"),
    ),
    judge=_judge,
    sources=(practice("wanted pairs at most 0.5 ohm above the leads, others over 1 Mohm; leads 0.2 to 0.5 ohm"),),
    gives=(("open", "wanted pairs that are open"), ("joined", "pairs joined against the plan")),
    example='tugtest check pin-map found="1-1 2-2 3-3" unplugged=yes',
)
