"""Whether the fuse or breaker carries the load and still protects wire and receptacle; the window of sizes that do."""

from collections.abc import Mapping
from dataclasses import dataclass

from engine.finding import Finding, Limit, Value, Verdict
from engine.rules.check import Check, Context, Input
from engine.rules.given import flag, maybe, number, word
from engine.rules.say import at_least, at_most, short
from engine.rules.sources import CFR_RATING, COMMON_PRACTICE, DEVICE_HEAT, E11_RATING
from engine.rules.wire_place import AMBIENT, ENGINE_SPACE, air_c
from engine.trade.loading import device_factor
from engine.trade.protection import HIGHER_V, Window, next_size_up_a, window

_SPREAD = 1.1
"""What a breaker must hold over the load in its own air [no unit]: thermal elements differ. Source: project rule."""


@dataclass(frozen=True, slots=True)
class _Case:
    """One question with the profile's shares worked in."""

    load_a: float
    allowable_a: float
    device_a: float
    fitted_a: float | None
    continuous: bool
    window: Window
    pass_a: float
    ceiling_a: float
    device_ceiling_a: float
    air_c: float
    holds_a: float | None
    inrush_a: float | None
    at_once_a: float | None

    @property
    def small_device(self) -> bool:
        """Whether the receptacle has no reserve for a continuous load."""
        return not at_least(self.device_a, self.window.wanted_a)


def _judge(given: Mapping[str, Value], context: Context) -> Finding:
    case = _case(given, context)
    verdict, sentence, remedy = _verdict(case)
    found = case.window
    fits = found.wanted_sizes_a if case.continuous else found.sizes_a
    return Finding(
        CHECK.name,
        verdict,
        sentence,
        values={
            "window_low_a": found.low_a,
            "window_high_a": found.high_a,
            "sizes_a": found.sizes_a,
            "continuous_sizes_a": fits,
            "wanted_a": found.wanted_a,
            "holds_a": case.holds_a,
        },
        limits=(
            Limit("fitted", "at least", found.low_a, "A"),
            Limit("fitted", "at most", found.high_a, "A"),
        ),
        margin=None if case.fitted_a is None else min(case.fitted_a - found.low_a, found.high_a - case.fitted_a),
        conditions=_conditions(case),
        sum_text=lambda: (
            f"window = [load, min({case.ceiling_a / case.allowable_a:.3g} x allowable, device)]\n"
            f"= [{case.load_a:.4g}, min({case.ceiling_a:.4g}, {case.device_a:.4g})] A\n"
            f"standard sizes in it: {_listed(found.sizes_a) or 'none'}"
        ),
        remedy=remedy,
    )


def _case(given: Mapping[str, Value], context: Context) -> _Case:
    settings = context.profile.settings
    load, allowable, device = number(given, "load"), number(given, "allowable"), number(given, "device")
    plain = maybe(given, "table_allowable")
    base = plain if plain is not None and settings["rating_base_is_plain_table"] else allowable
    high_volts = number(given, "nominal") >= HIGHER_V
    ceiling_a = float(settings["rating_ceiling_share_of_allowable"]) * base
    if high_volts:
        ceiling_a = min(ceiling_a, next_size_up_a(base))
    passes = 1.0 if high_volts else float(settings["rating_pass_share_of_allowable"])
    fitted, air = maybe(given, "fitted"), air_c(given)
    breaker = word(given, "kind") == "breaker"
    exception = flag(given, "self_limiting") and maybe(given, "maker_size") is not None
    return _Case(
        load_a=load,
        allowable_a=base,
        device_a=device,
        fitted_a=fitted,
        continuous=flag(given, "continuous"),
        air_c=air,
        holds_a=device_factor(air) * fitted if fitted and breaker else None,
        inrush_a=maybe(given, "inrush"),
        at_once_a=maybe(given, "at_once"),
        window=window(load, ceiling_a, device, float(settings["continuous_factor"])),
        pass_a=passes * base,
        ceiling_a=ceiling_a,
        device_ceiling_a=device * (float(settings["device_ceiling_share"]) if _named(given, exception) else 1.0),
    )


def _named(given: Mapping[str, Value], exception: bool) -> bool:
    fitted = maybe(given, "fitted")
    return exception and (fitted is None or fitted == maybe(given, "maker_size"))


def _verdict(case: _Case) -> tuple[Verdict, str, str]:
    if case.fitted_a is None:
        return _no_size(case)
    if case.fitted_a == 0:
        return Verdict.FAIL, "no fuse or breaker: a short burns the whole run", f"fit one of {_choice(case)}"
    return _too_small(case) or _too_large(case) or _warm(case) or _near(case) or _start(case) or _good(case)


def _no_size(case: _Case) -> tuple[Verdict, str, str]:
    if case.window.empty:
        return _shut(case)
    return Verdict.MISSING, f"no size named; {_choice(case)} fits", f"choose {_choice(case)}"


def _shut(case: _Case) -> tuple[Verdict, str, str]:
    """No rating carries the load and protects everything: say which part is too small."""
    if case.device_a < case.load_a:
        return (
            Verdict.FAIL,
            f"no size fits: the {short(case.device_a)} A part is below the {short(case.load_a)} A load",
            f"fit a part rated {short(next_size_up_a(case.window.wanted_a))} A or more",
        )
    return Verdict.FAIL, "no size fits: the wire is too small for the load", "use a larger wire"


def _too_small(case: _Case) -> tuple[Verdict, str, str] | None:
    fitted = case.fitted_a or 0.0
    if at_least(fitted, case.load_a):
        return None
    said = f"{short(fitted)} A is below the {short(case.load_a)} A load: it trips in use"
    return Verdict.FAIL, said, _remedy(case)


def _warm(case: _Case) -> tuple[Verdict, str, str] | None:
    """Return what is wrong if a thermal breaker in its own air holds less than the load, or hardly more."""
    if case.holds_a is None or at_least(case.holds_a, _SPREAD * case.load_a):
        return None
    said = f"at {short(case.air_c)} degC the {short(case.fitted_a or 0)} A breaker holds {short(case.holds_a)} A"
    if not at_least(case.holds_a, case.load_a):
        return Verdict.FAIL, f"{said}: it trips in use", "move it to cooler air, or a larger one with larger parts"
    if at_least(case.holds_a, case.fitted_a or 0):
        return None
    said = f"{said}; {short(_SPREAD * case.load_a)} A is wise"
    return Verdict.MARGINAL, said, "move it to cooler air, or a larger one with larger parts"


def _start(case: _Case) -> tuple[Verdict, str, str] | None:
    """Return what is wrong if the current of the first moment reaches what trips a magnetic breaker at once."""
    if case.inrush_a is None or case.at_once_a is None or not at_least(case.inrush_a, case.at_once_a):
        return None
    said = f"the load starts with {short(case.inrush_a)} A; {short(case.at_once_a)} A may trip it at once"
    return Verdict.MARGINAL, said, "fit one of a slower curve, or a thermal one"


def _too_large(case: _Case) -> tuple[Verdict, str, str] | None:
    fitted = case.fitted_a or 0.0
    if not at_most(fitted, case.ceiling_a):
        said = f"{short(fitted)} A is over {short(case.ceiling_a)} A: the wire can burn before it trips"
        return Verdict.FAIL, said, _remedy(case)
    if not at_most(fitted, case.device_ceiling_a):
        said = f"{short(fitted)} A is over the {short(case.device_a)} A part: the part can burn first"
        return Verdict.FAIL, said, _remedy(case)
    return None


def _near(case: _Case) -> tuple[Verdict, str, str] | None:
    fitted = case.fitted_a or 0.0
    if not at_most(fitted, case.device_a):
        said = f"{short(fitted)} A is over the {short(case.device_a)} A part; only as the motor's maker names it"
        return Verdict.MARGINAL, said, "fit a part of a higher rating"
    if not at_most(fitted, case.pass_a):
        said = (
            f"{short(fitted)} A is over the {short(case.pass_a)} A of the wire; {short(case.ceiling_a)} A is a ceiling"
        )
        return Verdict.MARGINAL, said, _remedy(case)
    if case.continuous and not at_least(fitted, case.window.wanted_a):
        said = f"{short(fitted)} A carries {short(case.load_a)} A, but long runs want {short(case.window.wanted_a)} A"
        return Verdict.MARGINAL, said, _remedy(case)
    return None


def _good(case: _Case) -> tuple[Verdict, str, str]:
    low, high = short(case.window.low_a), short(case.window.high_a)
    return Verdict.PASS, f"{short(case.fitted_a or 0)} A lies in the window of {low} to {high} A", ""


def _remedy(case: _Case) -> str:
    if case.window.empty:
        return _shut(case)[2]
    if case.continuous and case.small_device:
        return f"fit a part rated {short(next_size_up_a(case.window.wanted_a))} A or more, never a bigger breaker"
    return f"fit {_choice(case)}"


def _choice(case: _Case) -> str:
    sizes = (case.window.wanted_sizes_a if case.continuous else ()) or case.window.sizes_a
    good = tuple(size for size in sizes if at_most(size, case.pass_a)) or sizes
    if not good:
        return f"{short(case.window.low_a)} to {short(case.window.high_a)} A"
    return f"{_listed(good, ' or ')} A" if len(good) <= 4 else f"{short(good[0])} to {short(good[-1])} A"


def _listed(sizes: tuple[float, ...], between: str = ", ") -> str:
    return between.join(f"{size:g}" for size in sizes)


def _conditions(case: _Case) -> tuple[str, ...]:
    said = []
    if case.continuous and case.small_device:
        said.append(f"the part's {short(case.device_a)} A is below 1.25 x load: a bigger part, never a bigger breaker")
    if case.inrush_a is not None and case.at_once_a is None:
        said.append(
            f"the start with {short(case.inrush_a)} A is not judged: what trips the breaker at once is not known"
        )
    return tuple(said)


CHECK = Check(
    name="protection-size",
    rule="R06",
    title="size of the fuse or breaker",
    inputs=(
        Input("load", "A", "current at full power", 0.001, 2000, worse="more"),
        Input("allowable", "A", "what the wire may carry (ampacity)", 0.001, 2000, worse="less"),
        Input("device", "A", "lowest rating in series: receptacle, plug, switch", 0.001, 2000, worse="less"),
        Input("fitted", "A", "rating of the fuse or breaker, 0 for none", 0, 6000, required=False),
        Input("continuous", "yes/no", "may run for hours", default=True, worse="more"),
        Input("nominal", "V", "nominal volts of the bank", 1, 1000, default=24.0, worse="more"),
        Input("self_limiting", "yes/no", "the load limits its own current", default=False, worse="less"),
        Input("maker_size", "A", "size that the load's maker names", 0.001, 6000, required=False),
        Input(
            "table_allowable",
            "A",
            "plain table figure of the wire, no factors",
            0.001,
            2000,
            required=False,
            worse="less",
        ),
        Input("kind", "choice", "what it is", choices=("breaker", "fuse"), default="breaker", worse="less"),
        ENGINE_SPACE,
        AMBIENT,
        Input("inrush", "A", "current of the load's first moment", 0.001, 20000, required=False, worse="more"),
        Input("at_once", "A", "least that may trip it at once", 0.001, 100000, required=False, worse="less"),
    ),
    judge=_judge,
    sources=(CFR_RATING, E11_RATING, COMMON_PRACTICE, DEVICE_HEAT),
    gives=(
        ("window_low_a", "smallest rating that carries the load"),
        ("window_high_a", "largest rating that protects wire and part"),
        ("sizes_a", "standard sizes in that window"),
    ),
    example="tugtest check protection-size load=48A allowable=120A device=60A fitted=60A continuous=yes",
)
