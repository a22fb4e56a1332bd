"""Spare ends that stay in place: no volts to either pole with the batteries on, capped, source end off."""

import math
from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import about, label_of, labelled
from engine.rules.measured import own_rule, several
from engine.rules.part import Part, worst_part
from engine.rules.say import short
from engine.source import Authority, Source
from engine.trade.dead import DEAD_V, LIVE_V, point_says
from engine.trade.pin_map import APART_OHM

COVERED = Source(Authority.REGULATION, "33 CFR part 183 subpart I", "183.445(b), live ends covered")

OFF = "take it off at its source end, cap both ends singly, measure again with the batteries on"

LIVE_END = (
    "Hands off that end, let it touch nothing. Breaker off, negative off the bank, prove it dead; then find its feed."
)


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    named = (*labelled(given, "to_negative"), *labelled(given, "to_positive"), *labelled(given, "to_each_other"))
    volts = tuple(each for _, each in named)
    if not volts:
        return Finding(CHECK.name, Verdict.MISSING, "not measured: volts of each end to both poles", firm=True)
    part = worst_part([_volts(named, several(given, "loaded")), *_ohms(given), *_state(given)])
    worst = max(volts, key=abs)
    return Finding(
        CHECK.name,
        part.verdict,
        part.sentence,
        values={"worst_v": worst, "capped": given["capped"]},
        limits=(Limit("each end to each pole", "at most", DEAD_V, "V"),),
        margin=DEAD_V - abs(worst),
        conditions=(
            "volts with the batteries on again, source end off",
            "a floating damp wire can show volts: only a load tells",
            "never ohms on a connected bank",
        ),
        sum_text=lambda: f"{'; '.join(short(v) for v in volts)} V; each at most {DEAD_V:g} V either sign",
        remedy=part.remedy,
        firm=part.firm or part.verdict is not Verdict.MARGINAL,
        hands=part.hands,
    )


def _fed(given: Mapping[str, Value]) -> Part | None:
    """Return the fail of an end that keeps its volts under load: it is no floating wire."""
    loaded = labelled(given, "loaded")
    worst = max((volts for _, volts in loaded), key=abs, default=0.0)
    if abs(worst) <= DEAD_V:
        return None
    text = about(label_of(loaded, worst), f"{short(worst, 4)} V under load on a spare end: something feeds it")
    return Part(Verdict.FAIL, text, OFF, firm=True, hands=LIVE_END)


def _volts(named: tuple[tuple[str, float], ...], loaded: tuple[float, ...]) -> Part:
    volts = [each for _, each in named]
    doubtful = [v for v in volts if point_says(v) != "dead"]
    if not doubtful:
        return Part(Verdict.PASS, f"no volts on a spare end ({short(max(map(abs, volts)))} V at most), capped")
    if len(loaded) >= len(doubtful):
        return Part(Verdict.PASS, f"a floating end falls to {short(max(map(abs, loaded)))} V under load; capped")
    worst = max(doubtful, key=abs)
    end = label_of(named, worst)
    if point_says(worst) == "live":
        text = about(end, f"{short(worst, 4)} V on a spare end, over {LIVE_V:g} V: take it as live")
        cure = f"{OFF}; if it is off, load it (lamp, 1 kohm) and enter loaded"
        return Part(Verdict.FAIL, text, cure, firm=True, hands=LIVE_END)
    text = about(end, f"{short(worst)} V on a spare end: load it, it must fall to {DEAD_V:g} V")
    return Part(Verdict.UNDECIDED, text, "put a lamp or 1 kohm across it and enter that reading as loaded", firm=True)


def _ohms(given: Mapping[str, Value]) -> list[Part]:
    ohms = labelled(given, "ohms")
    least = min((ohm for _, ohm in ohms), default=math.inf)
    if least > APART_OHM:
        return []
    text = f"{short(least)} ohm from a spare end to a pole; over 1 Mohm is open"
    text = about(label_of(ohms, least), text)
    return [Part(Verdict.FAIL, text, "find where it still joins the circuit, take it off there", firm=True)]


def _state(given: Mapping[str, Value]) -> list[Part]:
    parts = []
    if given["removed"] is False:
        parts.append(Part(Verdict.FAIL, "the source end is still landed", OFF, firm=True))
    if given["capped"] is False:
        parts.append(Part(Verdict.FAIL, "a spare end is not capped", "cap each end singly, coil and tie it", firm=True))
    if given["tagged"] is False:
        text = "the spare wire has no tag"
        parts.append(Part(Verdict.MARGINAL, text, 'tag it "not used", where its source end is off, and the date'))
    return parts


def _many_volts(name: str, says: str, required: bool = True) -> Input:
    return Input(name, "V", says, -100, 100, required=required, many=True, instrument="dmm_v")


CHECK = Check(
    name="spare-end",
    rule="R21",
    title="spare ends that stay in place",
    inputs=(
        _many_volts("to_negative", "each end to the negative pole, with sign"),
        _many_volts("to_positive", "each end to the positive pole, with sign"),
        Input("capped", "yes/no", "is every end capped singly", worse="less"),
        _many_volts("to_each_other", "spare ends against each other", required=False),
        _many_volts("loaded", "ends over 0.10 V again, under load", required=False),
        Input(
            "ohms",
            "ohm",
            "each end to each pole, before, dead and uncapped",
            0,
            required=False,
            many=True,
            over_range=True,
            instrument="dmm_r",
            worse="less",
        ),
        Input("removed", "yes/no", "is the source end off", required=False, worse="less"),
        Input("tagged", "yes/no", "is it tagged as not used", required=False, worse="less"),
    ),
    judge=_judge,
    danger=_fed,
    sources=(own_rule("0.10 V to both poles, open, capped, tagged"), COVERED),
    gives=(("worst_v", "the largest reading, with its sign"),),
    example='tugtest check spare-end to_negative="0.00 V; 0.01 V" to_positive="0.00 V; 0.00 V" capped=yes',
    firm=True,
)
