"""The pull on a finished termination: a force held for a minute, or a firm tug by hand."""

from collections.abc import Callable, Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.published.tables import NotPrinted
from engine.rules.check import Check, Context, Input
from engine.rules.given import flag, maybe, word
from engine.rules.measured import GUARD_BAND, own_rule, standard_u
from engine.rules.part import Band, Part
from engine.rules.say import short
from engine.source import Authority, Seen, Source
from engine.trade.conductor import area_mm2
from engine.trade.pull import KINDS, LBF_N, Pull, pull_to_hold
from engine.trade.reading import expanded

SET_SCREW = Source(Authority.STANDARD, "UL 486E", "table 22, copper, as a terminal maker reprints it", Seen.QUOTED)
MAKER = Source(Authority.PRACTICE, "the maker's sheet", "as it was typed in", Seen.READ)

HAND, SCALE = "hand", "scale"

SLIPPED = Part(
    Verdict.FAIL,
    "the wire slipped: the pen mark moved, and what slips once comes out",
    "cut back if the strands are hurt, strip, clamp or crimp again, mark, pull again",
    firm=True,
)


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    size, kind, method = _smaller(given), word(given, "kind"), word(given, "method")
    if method == HAND:
        firm_tug = Part(Verdict.PASS, "held a firm tug by hand (grade: hand)")
        return _by_hand(SLIPPED if flag(given, "slip") else firm_tug)
    try:
        asked = _asked(given, size, kind)
    except NotPrinted as nothing:
        if flag(given, "slip"):
            return _finding(SLIPPED, {})
        return _finding(Part(Verdict.MISSING, str(nothing), "enter the maker's figure as specified"), {})
    force, seconds = maybe(given, "force"), maybe(given, "seconds")
    if flag(given, "slip"):
        return _finding(SLIPPED, {"required_n": asked.force_n})
    if force is None or seconds is None:
        absent = "force" if force is None else "seconds held"
        return _finding(Part(Verdict.MISSING, f"not measured: {absent}", "pull with a hanging scale, or by hand"), {})
    uncertainty = expanded(standard_u("force", force, "scale", context))
    band = _band(asked, uncertainty)
    part = _held(force, seconds, asked, band.part(force, uncertainty))
    return _finding(
        part,
        {"force_n": force, "required_n": asked.force_n, "required_lbf": asked.force_n / LBF_N, "grade": "measured"},
        limits=(*band.limits, Limit("time held", "at least", asked.hold_s, "s")),
        margin=force - asked.force_n,
        uncertainty=uncertainty,
        conditions=(f"figure for {size}, {kind}: {asked.source}",),
        sum_text=lambda: (
            f"{short(force)} N for {short(seconds)} s, give or take {short(uncertainty, 2)} N; "
            f"{kind} {size}: {short(asked.force_n)} N ({short(asked.force_n / LBF_N)} lbf) for {short(asked.hold_s)} s"
        ),
        sources=(asked.source, GUARD_BAND),
    )


def _asked(given: Mapping[str, Value], size: str, kind: str) -> Pull:
    specified = maybe(given, "specified")
    return pull_to_hold(size, kind) if specified is None else Pull(specified, 60.0, MAKER)


def _smaller(given: Mapping[str, Value]) -> str:
    """Return the size of the smaller wire of the joint: it is the one that pulls out, or breaks."""
    size, other = word(given, "size"), word(given, "other")
    return other if other and area_mm2(other) < area_mm2(size) else size


def _band(asked: Pull, uncertainty: float) -> Band:
    return Band(
        what="held",
        good=asked.force_n,
        unit="N",
        least=True,
        mend="make the termination again, then pull again",
        settle=f"pull a little harder: {short(asked.force_n + 1.1 * uncertainty)} N would do",
    )


def _held(force: float, seconds: float, asked: Pull, part: Part) -> Part:
    if part.verdict is Verdict.FAIL or seconds >= asked.hold_s:
        return part
    text = f"{short(force)} N held {short(seconds)} s, needs {short(asked.hold_s)}"
    return Part(Verdict.FAIL, text, f"pull again and hold it for {short(asked.hold_s)} s")


def _by_hand(part: Part) -> Finding:
    return _finding(
        part,
        {"grade": "hand"},
        conditions=("weaker evidence than a scale: drop and heat under load decide",),
        sum_text="a tug by hand has no newtons",
        sources=(own_rule("a firm tug by hand passes, grade hand"),),
    )


def _finding(
    part: Part,
    values: Mapping[str, Value],
    limits: tuple[Limit, ...] = (),
    margin: float | None = None,
    uncertainty: float | None = None,
    conditions: tuple[str, ...] = (),
    sum_text: str | Callable[[], str] = "",
    sources: tuple[Source, ...] = (),
) -> Finding:
    return Finding(
        CHECK.name,
        part.verdict,
        part.sentence,
        values=values,
        limits=limits,
        margin=margin,
        uncertainty=uncertainty,
        conditions=conditions,
        sum_text=sum_text,
        sources=sources,
        remedy=part.remedy,
        firm=part.firm,
    )


CHECK = Check(
    name="pull",
    rule="R13",
    title="pull on a finished termination",
    inputs=(
        Input("size", "wire", "size marked on the wire"),
        Input(
            "other",
            "wire",
            "the other wire in the same joint, if its size differs: the smaller one is judged",
            required=False,
        ),
        Input("force", "N", "pull that it held", 0, 5000, required=False, instrument="scale", worse="less"),
        Input("seconds", "s", "time that it was held", 0, 3600, required=False, worse="less"),
        Input("method", "choice", "a hanging scale, or a firm tug by hand", choices=(SCALE, HAND), default=SCALE),
        Input("slip", "yes/no", "did the pen mark on the wire move", worse="more"),
        Input("kind", "choice", "kind of termination", choices=KINDS, default="set-screw"),
        Input("specified", "N", "the maker's own figure", 1, 5000, required=False, worse="more"),
    ),
    judge=_judge,
    sources=(
        SET_SCREW,
        Source(Authority.STANDARD, "ABYC E-11", "table XVI, tensile test values", Seen.QUOTED),
        GUARD_BAND,
    ),
    gives=(("required_n", "the least pull"), ("grade", "measured or hand")),
    example='tugtest check pull size="8 AWG" force=110N seconds=60 method=scale slip=no',
)
