"""Prove dead: a known live source, every point, the known source again."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import label_of, labelled, number
from engine.rules.measured import own_rule, several
from engine.rules.part import Part
from engine.rules.say import short
from engine.source import Authority, Seen, Source
from engine.trade.dead import DEAD_V, KNOWN_SHARE, LIVE_V, known_source_good, point_says

PROVE_TEST_PROVE = Source(Authority.PRACTICE, "HSE GS38", "prove, test, prove again", Seen.QUOTED)

STILL_FED = (
    "Hands off. Something still feeds it: a charger, the second battery, solar. "
    "Find it, lift it, then measure every point again."
)

CONDITIONS = (
    "no guard band: the bands hold the meter's own offset",
    "a capacitor can charge again: wait, discharge, repeat",
    "a lithium bank that switched itself off is not dead: only lifted leads count",
)


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    named, loaded = labelled(given, "points"), several(given, "loaded")
    points = tuple(volts for _, volts in named)
    before, after, nominal = (number(given, name) for name in ("known_before", "known_after", "nominal"))
    worst = max(points, key=abs)
    part = _said(named, loaded, before, after, nominal)
    return Finding(
        CHECK.name,
        part.verdict,
        part.sentence,
        values={
            "worst_v": worst,
            "points": len(points),
            "known_before_percent": 100 * abs(before) / nominal,
            "known_after_percent": 100 * abs(after) / nominal,
        },
        limits=(
            Limit("each point", "at most", DEAD_V, "V"),
            Limit("known source", "at least", KNOWN_SHARE * nominal, "V"),
        ),
        margin=DEAD_V - abs(worst),
        conditions=CONDITIONS,
        sum_text=lambda: (
            f"known source {short(before, 4)} V before, {short(after, 4)} V after; "
            f"at least {KNOWN_SHARE:g} x {short(nominal)} V = {short(KNOWN_SHARE * nominal)} V\n"
            f"points {'; '.join(short(v) for v in points)} V; each at most {DEAD_V:g} V either sign"
        ),
        remedy=part.remedy,
        firm=True,
    )


def _live(given: Mapping[str, Value]) -> Part | None:
    """Return the fail of a point that is live by itself, or still has volts under load: no other value mends it."""
    named = labelled(given, "points")
    live = [volts for _, volts in named if abs(volts) > LIVE_V]
    if live:
        worst = max(live, key=abs)
        text = f"{label_of(named, worst, 'a point')} reads {short(worst, 4)} V: live, over {LIVE_V:g} V"
        cure = "find the source that is still connected; discharge capacitors; then measure all again"
        return Part(Verdict.FAIL, text, cure, firm=True, hands=STILL_FED)
    loaded = labelled(given, "loaded")
    still = [volts for _, volts in loaded if abs(volts) > DEAD_V]
    if still:
        worst = max(still, key=abs)
        point = label_of(loaded, worst, "a point")
        text = f"{point} holds {short(worst)} V under load, over {DEAD_V:g} V: a source feeds it"
        cure = "find the source that is still connected, then measure all again"
        return Part(Verdict.FAIL, text, cure, firm=True, hands=STILL_FED)
    return None


def _said(
    named: tuple[tuple[str, float], ...], loaded: tuple[float, ...], before: float, after: float, nominal: float
) -> Part:
    points = [volts for _, volts in named]
    doubtful = [v for v in points if point_says(v) == "load it"]
    for when, volts in (("before", before), ("after", after)):
        if not known_source_good(volts, nominal):
            least = short(KNOWN_SHARE * nominal)
            return Part(
                Verdict.MISSING,
                f"known source {short(volts, 4)} V {when}, under {least} V: the readings prove nothing",
                "look at leads, jacks, battery and range of the meter; then measure all again",
            )
    if len(loaded) < len(doubtful):
        worst = max(doubtful, key=abs)
        return Part(
            Verdict.UNDECIDED,
            f"{short(worst)} V on {label_of(named, worst, 'a point')}: load it, it must fall to {DEAD_V:g} V",
            "put a lamp or the low-impedance range across it and enter that reading as loaded",
        )
    least_read = max((abs(v) for v in points if point_says(v) == "dead"), default=0.0)
    rest = f", {len(doubtful)} of them under load" if doubtful else ""
    return Part(
        Verdict.PASS,
        f"all {len(points)} points read {short(max(least_read, *map(abs, loaded), 0.0))} V or less{rest}",
    )


CHECK = Check(
    name="dead",
    rule="R01",
    title="prove dead, between two looks at a known source",
    inputs=(
        Input("known_before", "V", "known live source, before the points", -100, 100, instrument="dmm_v"),
        Input("points", "V", "each point that must be dead, with sign", -100, 100, many=True, instrument="dmm_v"),
        Input("known_after", "V", "the same known source, after the points", -100, 100, instrument="dmm_v"),
        Input("nominal", "V", "nominal volts of the known source", 1, 100, worse="more"),
        Input(
            "loaded",
            "V",
            "points from 0.10 to 1.0 V again, under load, in their order",
            -100,
            100,
            required=False,
            many=True,
            instrument="dmm_v",
        ),
    ),
    judge=_judge,
    danger=_live,
    sources=(PROVE_TEST_PROVE, own_rule("dead bands 0.10 and 1.0 V; 0.9 of the known source")),
    gives=(("worst_v", "the largest reading of a point, with its sign"),),
    example='tugtest check dead known_before=12.6V points="0.00 V; 0.01 V; -0.02 V" known_after=12.6V nominal=12V',
    firm=True,
)
