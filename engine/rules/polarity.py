"""Polarity: red lead on the positive, black on the negative, the sign as the meter shows it."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import maybe, number
from engine.rules.measured import Part, own_rule, practice
from engine.rules.say import at_least, at_most, short
from engine.trade.dead import DEAD_V, LIVE_V

NEAR_BANK_V = 0.3
"""How far from the bank's own volts the reading may be. Source: this project's rule."""

LOW_SHARE, HIGH_SHARE = 0.9, 1.25
"""Volts over nominal that look usual where the bank was not measured. Source: this project's rule."""


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    volts, nominal, bank = number(given, "volts"), number(given, "nominal"), maybe(given, "bank")
    low, high = _window(nominal, bank)
    part = _said(volts, low, high, bank)
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
        conditions=("at a two-wire receptacle: position 1 negative, 2 positive, 3 empty", "only the sign is firm"),
        sum_text=lambda: f"volts {short(volts, 4)} V with sign; usual from {short(low, 4)} to {short(high, 4)} V",
        remedy=part.remedy,
        firm=part.firm,
    )


def _window(nominal: float, bank: float | None) -> tuple[float, float]:
    if bank is None:
        return LOW_SHARE * nominal, HIGH_SHARE * nominal
    return bank - NEAR_BANK_V, bank + NEAR_BANK_V


def _said(volts: float, low: float, high: float, bank: float | None) -> Part:
    shown = f"{volts:+.4g} V"
    if volts < -DEAD_V:
        return Part(
            Verdict.FAIL,
            f"{shown}: reversed: the red lead stands on the negative",
            "change the two wires over; connect nothing before it reads plus",
            firm=True,
        )
    if volts < LIVE_V:
        return Part(
            Verdict.MISSING,
            f"{shown} is too little to show a sign: not measured",
            "switch the source on, touch both contacts, read again with the sign",
            firm=True,
        )
    if at_least(volts, low) and at_most(volts, high):
        return Part(Verdict.PASS, f"{shown}: the red lead stands on the positive", firm=True)
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
            name="volts",
            unit="V",
            says="red lead on the positive (position 2), black on the negative, with sign",
            low=-100,
            high=100,
            instrument="dmm_v",
        ),
        Input(name="nominal", unit="V", says="nominal volts of the system", low=1, high=100),
        Input(
            name="bank",
            unit="V",
            says="volts at the bank's posts, the same minute",
            low=0,
            high=100,
            required=False,
            instrument="dmm_v",
        ),
    ),
    judge=_judge,
    sources=(
        practice("two-wire receptacle: 1 negative, 2 positive, 3 empty; the part's sheet wins"),
        own_rule("within 0.3 V of the bank, else 0.9 to 1.25 of nominal"),
    ),
    gives=(("volts_v", "the reading with its sign"), ("off_bank_v", "reading less bank")),
    example="tugtest check polarity volts=+25.1V nominal=24V bank=25.2V",
    firm=True,
)
