"""How far along the wire the fuse or breaker stands from its source, by the rules of the profile."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.published.profile import Profile
from engine.published.profiles import profile, profile_names
from engine.rules.check import Check, Context, Input
from engine.rules.given import flag, number, word
from engine.rules.measured import standard_u
from engine.rules.say import short
from engine.rules.sources import CFR_PLACE, E11_PLACE
from engine.trade.decision import at_most
from engine.trade.protection import INCH_M, farthest_place_m
from engine.trade.reading import expanded


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    chosen = profile(word(given, "profile")) if word(given, "profile") else context.profile
    distance_m = number(given, "distance")
    limit_m = _limit_m(given, chosen)
    uncertainty_m = expanded(standard_u("distance", distance_m, "tape", context))
    verdict = at_most(distance_m, limit_m, uncertainty_m)
    sentence = _sentence(verdict, distance_m, limit_m)
    if flag(given, "cranking"):
        verdict, sentence = Verdict.PASS, "a cranking feed needs none; every other wire from the battery does"
    return Finding(
        CHECK.name,
        verdict,
        sentence,
        values={"distance_m": distance_m, "farthest_m": limit_m},
        limits=(Limit("distance", "at most", limit_m, "m"),),
        margin=limit_m - distance_m,
        uncertainty=uncertainty_m,
        profile=f"{chosen.name} {chosen.version}",
        conditions=_elsewhere(given, chosen, distance_m, uncertainty_m),
        sum_text=lambda: f"{distance_m:.4g} m from the source; farthest {limit_m:.4g} m ({limit_m / INCH_M:.3g} in)",
        remedy=_remedy(verdict, given, chosen, limit_m, uncertainty_m),
    )


def _limit_m(given: Mapping[str, Value], chosen: Profile) -> float:
    rules = chosen.settings
    return farthest_place_m(
        flag(given, "sheathed"),
        flag(given, "at_battery"),
        float(rules["place_bare_in"]),
        float(rules["place_sheathed_in"]),
        float(rules["place_battery_in"]),
        bool(rules["place_battery_needs_sheath"]),
    )


def _sentence(verdict: Verdict, distance_m: float, limit_m: float) -> str:
    there, farthest = f"{1000 * distance_m:.0f} mm", f"{1000 * limit_m:.0f} mm ({limit_m / INCH_M:.3g} in)"
    if verdict is Verdict.PASS:
        return f"{there} from the source, allowed {farthest}"
    if verdict is Verdict.UNDECIDED:
        return f"{there} from the source, allowed {farthest}: too near for this tape to tell"
    return f"{there} from the source, allowed {farthest}"


def _elsewhere(given: Mapping[str, Value], chosen: Profile, distance_m: float, uncertainty_m: float) -> tuple[str, ...]:
    said = []
    for name in profile_names():
        if name == chosen.name:
            continue
        limit_m = _limit_m(given, profile(name))
        verdict = at_most(distance_m, limit_m, uncertainty_m)
        said.append(f"profile {name}: {verdict}, at most {short(1000 * limit_m, 4)} mm")
    return tuple(said)


def _remedy(verdict: Verdict, given: Mapping[str, Value], chosen: Profile, limit_m: float, uncertainty_m: float) -> str:
    if verdict is Verdict.PASS:
        return ""
    nearer = f"move it to within {1000 * (limit_m - uncertainty_m):.0f} mm of the source"
    in_sheath_m = _limit_m({**given, "sheathed": True}, chosen)
    if not flag(given, "sheathed") and in_sheath_m - uncertainty_m >= number(given, "distance"):
        return f"put the wire in a sheath all the way, or {nearer}"
    return f"{nearer}, or measure finer" if verdict is Verdict.UNDECIDED else nearer


CHECK = Check(
    name="protection-place",
    rule="R07",
    title="place of the fuse or breaker",
    inputs=(
        Input("distance", "mm", "from the source, measured along the wire", 0, 20000, instrument="tape", worse="more"),
        Input("sheathed", "yes/no", "in a sheath or enclosure all that way", default=False, worse="less"),
        Input("at_battery", "yes/no", "wire fixed to the battery itself", default=False, worse="less"),
        Input("profile", "choice", "rule profile, the session's if left out", choices=profile_names(), required=False),
        Input("cranking", "yes/no", "this wire feeds a cranking motor", default=False, worse="less"),
    ),
    judge=_judge,
    sources=(CFR_PLACE, E11_PLACE),
    gives=(("farthest_m", "how far it may stand"),),
    example="tugtest check protection-place distance=400mm sheathed=yes at_battery=yes profile=industry",
)
