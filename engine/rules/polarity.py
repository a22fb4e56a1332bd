"""Polarity: red lead on the positive, black on the negative, the sign as the meter shows it, and the size."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import maybe, number, word
from engine.rules.measured import own_rule, practice
from engine.rules.part import Part
from engine.rules.say import at_least, at_most, short
from engine.trade.dead import DEAD_V, LIVE_V
from engine.trade.nominal import HIGH_SHARE, usual_v

NEAR_BANK_V = 0.3
"""How far from the bank's own volts the reading may be. Source: this project's rule."""

BATTERY, PANEL = "battery", "panel"

OFF = "Connect nothing. Source off: breaker or fuse out, a panel covered. Prove it dead before you touch a wire."


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    volts, nominal, bank = number(given, "volts"), number(given, "nominal"), maybe(given, "bank")
    panel = word(given, "source") == PANEL
    near = usual_v(nominal, panel=panel, near=True)
    low, high = near if bank is None else (bank - NEAR_BANK_V, bank + NEAR_BANK_V)
    part = _said(volts, usual_v(nominal, panel=panel)[0], low, high, bank)
    return Finding(
        CHECK.name,
        part.verdict,
        part.sentence,
        values={"volts_v": volts, "off_bank_v": None if bank is None else volts - bank},
        limits=(
            Limit("sign", "at least", 0.0, "V"),
            Limit("volts", "at least", low, "V"),
            Limit("volts", "at most", high, "V"),
        ),
        margin=min(volts - low, high - volts),
        conditions=("at a two-wire receptacle: position 1 negative, 2 positive, 3 empty",),
        sum_text=lambda: f"volts {short(volts, 4)} V with sign; usual from {short(low, 4)} to {short(high, 4)} V",
        remedy=part.remedy,
        firm=part.firm,
        hands=part.hands,
    )


def _wrong(given: Mapping[str, Value]) -> Part | None:
    """Return the fail of a sign or of too many volts, which kill what is connected whatever the bank reads."""
    volts, nominal = maybe(given, "volts"), maybe(given, "nominal")
    if volts is None:
        return None
    shown = f"{volts:+.4g} V"
    if volts < -DEAD_V:
        cure = "change the two wires over; connect nothing before it reads plus"
        return Part(Verdict.FAIL, f"{shown}: reversed: the red lead stands on the negative", cure, firm=True, hands=OFF)
    most = None if nominal is None else usual_v(nominal)[1]
    if most is None or at_most(volts, most):
        return None
    text = f"{shown} where {short(number(given, 'nominal'))} V belongs: too many, {short(most)} V is the most"
    cure = "find which battery or string it comes from; connect nothing before the volts are right"
    return Part(Verdict.FAIL, text, cure, firm=True, hands=OFF)


def _said(volts: float, least: float, low: float, high: float, bank: float | None) -> Part:
    shown = f"{volts:+.4g} V"
    if volts < LIVE_V:
        return Part(
            Verdict.FAIL,
            f"{shown} is too little to show a sign: nothing arrives here",
            "switch the source on, touch both contacts, read again with the sign",
            firm=True,
        )
    if at_least(volts, low) and at_most(volts, high):
        return Part(Verdict.PASS, f"{shown}: the red lead stands on the positive", firm=True)
    if volts < least:
        text = f"{shown}: too few, {short(least)} V is the least that belongs here"
        cure = "look for a tap in the middle of the bank, an open link, a flat battery, a bad joint"
        return Part(Verdict.FAIL, text, cure, firm=True, hands=OFF)
    usual = f"within {NEAR_BANK_V:g} V of the bank" if bank is not None else f"{short(low)} to {short(high)} V"
    return Part(
        Verdict.MARGINAL,
        f"{shown}: sign right, size is not {usual}",
        "measure the bank at the same minute; look for a series link left open or a poor joint",
    )


CHECK = Check(
    name="polarity",
    rule="R02",
    title="polarity with its sign, before any load",
    inputs=(
        Input(
            "volts",
            "V",
            "red lead on the positive (position 2), black on the negative, with sign",
            -100,
            100,
            instrument="dmm_v",
        ),
        Input("nominal", "V", "nominal volts of the system; of a panel its open volts", 1, 100),
        Input("bank", "V", "volts at the bank's posts, the same minute", 0, 100, required=False, instrument="dmm_v"),
        Input(
            "source",
            "choice",
            "what feeds it: a battery, or a panel in any light and cold",
            choices=(BATTERY, PANEL),
            default=BATTERY,
        ),
    ),
    judge=_judge,
    danger=_wrong,
    sources=(
        practice("two-wire receptacle: 1 negative, 2 positive, 3 empty; the part's sheet wins"),
        own_rule(f"within 0.3 V of the bank; right from 0.9 to {HIGH_SHARE:g} of nominal, a panel from 0.75"),
    ),
    gives=(("volts_v", "the reading with its sign"), ("off_bank_v", "reading less bank")),
    example="tugtest check polarity volts=+25.1V nominal=24V bank=25.2V",
    firm=True,
)
