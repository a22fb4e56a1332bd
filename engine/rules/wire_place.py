"""Where a wire lies: the inputs that several checks ask of it, and what its surroundings leave of its table."""

from collections.abc import Mapping

from engine.finding import Value
from engine.rules.check import Input
from engine.rules.given import flag, maybe
from engine.trade.ampacity import (
    ENGINE_SPACE_AMBIENT_C,
    TABLE_AMBIENT_C,
    ambient_factor,
    engine_space_factor,
    insulation_column_c,
)
from engine.trade.conductor import CONDUCTORS, PLAIN

INSULATION = Input("insulation", "degC", "rating of the jacket", 60, 250, default=105.0, worse="less")
ENGINE_SPACE = Input("engine_space", "yes/no", "any part in an engine space", default=False, worse="more")
BUNDLED = Input("bundled", "", "loaded conductors in its bundle", 1, 500, default=2.0, worse="more")
CONDUCTOR = Input(
    "conductor",
    "choice",
    "its strands: plain copper, tinned copper or copper-clad aluminium",
    choices=CONDUCTORS,
    default=PLAIN,
    worse="more",
)
AMBIENT = Input("ambient", "degC", "warmest air around the wire", -40, 120, required=False, worse="more")


def surroundings_factor(given: Mapping[str, Value], insulation_c: float) -> float:
    """Return what engine space and warm air leave of the table's figure [no unit], 0 to 1.

    Nothing is left of it in air that is as hot as the jacket may be.

    Args:
        given: The inputs; ``engine_space`` and ``ambient`` are looked at.
        insulation_c: Rating of the jacket [degC].

    Source:
        33 CFR 183.425(c) and table 5 note 1; the air by a heat balance, as the trade's own function says.
    """
    ambient = maybe(given, "ambient")
    if ambient is not None and ambient > insulation_column_c(insulation_c) - 1:
        return 0.0
    by_air = 1.0 if ambient is None else ambient_factor(insulation_c, ambient)
    return min(engine_space_factor(insulation_c), by_air) if flag(given, "engine_space") else by_air


def air_c(given: Mapping[str, Value]) -> float:
    """Return the air that a wire lies in [degC]: as told, 30 where it is not, at least 50 in an engine space.

    Args:
        given: The inputs; ``engine_space`` and ``ambient`` are looked at.

    Source:
        The air that 33 CFR 183.425, table 5 and its note 1 stand for.
    """
    told = maybe(given, "ambient")
    outside = TABLE_AMBIENT_C if told is None else told
    return max(outside, ENGINE_SPACE_AMBIENT_C) if flag(given, "engine_space") else outside
