"""The force that a termination must hold, by the kind of termination and the size of its wire."""

from dataclasses import dataclass

from engine.published.tables import NotPrinted, Table, number, table
from engine.source import Source
from engine.trade.ranges import OutOfRange

LBF_N = 4.4482216152605
"""One pound-force [N]. Source: 0.45359237 kg x 9.80665 m/s2, both exact by definition."""

KINDS = ("set-screw", "crimp", "crimp-ul", "friction")

_FRICTION_LBF = "friction_connector_min_lbf"
_FROM = {
    "set-screw": (("termination", "set_screw_pull", "force_n"),),
    "crimp": (("pull_force", "small_craft", "force_lbf"), ("pull_force", "small_craft_rest", "force_lbf")),
    "crimp-ul": (("pull_force", "crimp", "commercial_lbf"),),
}


@dataclass(frozen=True, slots=True)
class Pull:
    """A force to hold [N], for how long [s], and who says so."""

    force_n: float
    hold_s: float
    source: Source


def pull_to_hold(size: str, kind: str) -> Pull:
    """Return the least pull that a termination must hold.

    Args:
        size: Size of its wire as marked: ``8 AWG`` or ``SAE 8`` (the figures are by gauge number).
        kind: ``set-screw``, ``crimp`` (small-craft figures), ``crimp-ul`` (the higher crimp figures) or ``friction``
            (blades and bullets, any size).

    Returns:
        The force [N], the time [s] and the source.

    Raises:
        OutOfRange: if the kind is not known.
        NotPrinted: if no force is printed for that size; nothing is put between two gauges.

    Source:
        Set screws: UL 486E as quoted. Crimps: ABYC E-11 table XVI as quoted, its 8, 6, 5 AWG and 1/0 up from memory;
        UL 486A-486B as quoted.

    Example:
        >>> pull_to_hold("8 AWG", "set-screw").force_n
        90.0
        >>> round(pull_to_hold("16 AWG", "crimp").force_n, 1)
        66.7
    """
    if kind not in KINDS:
        raise OutOfRange(f'kind is "{kind}"; it must be one of {", ".join(KINDS)}')
    if kind == "friction":
        printed = table("pull_force", "small_craft")
        return Pull(number(printed.figures, _FRICTION_LBF) * LBF_N, _hold_s(printed), printed.source)
    gauge = _gauge(size)
    for topic, name, key in _FROM[kind]:
        printed = table(topic, name)
        for row in printed.rows:
            if row["awg"] == gauge:
                return Pull(
                    number(row, key) * (LBF_N if key.endswith("lbf") else 1.0), _hold_s(printed), printed.source
                )
    raise NotPrinted(f"no pull is printed for {size} in a {kind} terminal: ask for the maker's figure")


def _gauge(size: str) -> str:
    return size.removesuffix(" AWG").removeprefix("SAE ")


def _hold_s(printed: Table) -> float:
    return number(printed.figures, "hold_s") if "hold_s" in printed.figures else 60.0
