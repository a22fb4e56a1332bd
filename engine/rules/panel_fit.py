"""Panel, thread and nut, and the room behind: clamp with the nut or with a bezel, or not at all."""

from collections.abc import Mapping

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import number
from engine.rules.measured import GUARD_BAND, own_rule, practice, standard_u
from engine.rules.part import Part, worst_part
from engine.rules.say import short
from engine.source import Seen
from engine.trade.decision import at_least
from engine.trade.opening import PanelFit, panel_fit
from engine.trade.reading import combined, expanded

_ARGUMENTS = ("panel", "thread", "nut", "seal", "pitch", "depth", "body", "cable", "bend")


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    fit = panel_fit(*(number(given, name) for name in _ARGUMENTS))
    thread_u = _u(given, context, ("panel", "thread", "nut", "seal"), "cal")
    depth_u = expanded(standard_u("depth", number(given, "depth"), "tape", context))
    thread = number(given, "thread")
    by_nut = at_least(thread, thread - fit.thread_spare_m, thread_u)
    behind = at_least(number(given, "depth"), fit.needed_depth_m, depth_u)
    part = worst_part([_depth(fit, behind), _fastening(fit, by_nut, given)])
    clamp = "nut" if by_nut is Verdict.PASS else "bezel" if given["bezel"] is True else "none"
    if part.verdict is Verdict.PASS:
        part = Part(part.verdict, f"fits: clamp with the {clamp}; {_mm(fit.depth_spare_m)} mm spare behind")
    return Finding(
        CHECK.name,
        part.verdict,
        part.sentence,
        values={
            "fastening": clamp,
            "thread_spare_mm": 1000 * fit.thread_spare_m,
            "depth_spare_mm": 1000 * fit.depth_spare_m,
            "needed_depth_mm": 1000 * fit.needed_depth_m,
        },
        limits=(
            Limit("thread spare beyond nut and one turn", "at least", 0.0, "mm"),
            Limit("depth behind", "at least", 1000 * fit.needed_depth_m, "mm"),
        ),
        margin=1000 * fit.depth_spare_m if clamp == "bezel" else 1000 * min(fit.thread_spare_m, fit.depth_spare_m),
        uncertainty=1000 * max(thread_u, depth_u),
        sum_text=lambda: _sum(given, fit),
        remedy=part.remedy,
    )


def _u(given: Mapping[str, Value], context: Context, names: tuple[str, ...], usual: str) -> float:
    return expanded(combined(standard_u(name, number(given, name), usual, context) for name in names))


def _depth(fit: PanelFit, verdict: Verdict) -> Part:
    if verdict is Verdict.PASS:
        return Part(verdict, "")
    remedy = "a deeper place, an angled body, or a more supple cable"
    if verdict is Verdict.UNDECIDED:
        text = f"depth behind is too near the {_mm(fit.needed_depth_m)} mm needed for this tape to tell"
        return Part(verdict, text, "try it dry, with the cable bent as it will lie")
    return Part(verdict, f"depth behind is {_mm(-fit.depth_spare_m)} mm short of {_mm(fit.needed_depth_m)} mm", remedy)


def _fastening(fit: PanelFit, by_nut: Verdict, given: Mapping[str, Value]) -> Part:
    if by_nut is Verdict.PASS or given["bezel"] is True:
        return Part(Verdict.PASS, "")
    if by_nut is Verdict.UNDECIDED:
        return Part(by_nut, "thread is long enough only by a hair", "try it dry: one turn must show past the nut")
    text = f"thread is {_mm(-fit.thread_spare_m)} mm too short for panel, seal and nut"
    return Part(by_nut, text, "clamp with a screwed bezel, or thin the panel round the hole")


def _sum(given: Mapping[str, Value], fit: PanelFit) -> str:
    mm = {name: _mm(number(given, name)) for name in _ARGUMENTS}
    return (
        f"thread {mm['thread']} - panel {mm['panel']} - seal {mm['seal']} - nut {mm['nut']} - pitch {mm['pitch']}"
        f" = {_mm(fit.thread_spare_m)} mm\n"
        f"depth {mm['depth']} - body {mm['body']} - the larger of bend {mm['bend']} and 5 x {mm['cable']}"
        f" = {_mm(fit.depth_spare_m)} mm"
    )


def _mm(length_m: float, figures: int = 3) -> str:
    return short(1000 * length_m, figures)


def _length(name: str, says: str, high: float, low: float = 0.0, instrument: str = "cal", worse: str = "more") -> Input:
    return Input(name, "mm", says, low, high, instrument=instrument, worse=worse)


CHECK = Check(
    name="panel-fit",
    rule="R16",
    title="panel, nut and the room behind",
    inputs=(
        _length("panel", "thickness of the panel", 100, low=0.5),
        _length("thread", "length of thread below the flange", 200, worse="less"),
        _length("nut", "height of the backing nut", 100),
        Input("seal", "mm", "gasket, pressed", 0, 20, default=1.5, instrument="cal", worse="more"),
        Input("pitch", "mm", "one turn of the thread, to show past the nut", 0, 10, default=2.0, worse="more"),
        _length("depth", "free depth behind the panel", 2000, instrument="tape", worse="less"),
        _length("body", "how far body and boot reach behind the panel", 500),
        _length("cable", "outside diameter of the cable or of one wire", 100, low=1),
        Input("bend", "mm", "bend radius that the cable's maker gives", 0, 1000, default=0.0, worse="more"),
        Input("bezel", "yes/no", "is a screwed bezel at hand", required=False, worse="less"),
    ),
    judge=_judge,
    sources=(
        own_rule("one turn past the nut; five cable diameters to bend; seal 1.5 mm and pitch 2 mm if not measured"),
        practice("bend radius of ten diameters in general, three at terminals", Seen.MEMORY),
        GUARD_BAND,
    ),
    gives=(
        ("fastening", "nut, bezel or none"),
        ("thread_spare_mm", "thread beyond nut and one turn"),
        ("depth_spare_mm", "free depth beyond body and bend"),
    ),
    example="tugtest check panel-fit panel=6mm thread=22mm nut=10mm depth=120mm body=70mm cable=7mm",
)
