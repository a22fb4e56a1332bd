"""A hole in a panel and what must cover it, bear on it and fit behind it; lengths in metres."""

from dataclasses import dataclass

from engine.trade.ranges import OutOfRange

BEND_DIAMETERS = 5.0
"""Room to bend a cable behind a body, in its own diameters. Source: this project's rule; FAA AC 43.13-1B asks for ten
in general and three at terminals (memory)."""

EDGE_DIAMETERS = 1.5
"""Least distance from a screw's centre to the hole's edge, in screw diameters. Source: common practice (quoted)."""


@dataclass(frozen=True, slots=True)
class PanelFit:
    """What is over or short: ``thread_spare_m`` beyond nut and one pitch, ``depth_spare_m`` behind body and bend."""

    thread_spare_m: float
    depth_spare_m: float
    needed_depth_m: float


def least_overlap_m(cover_m: float, hole_m: float, body_m: float) -> float:
    """Return the least width of panel that a cover bears on, with the body pushed to one side of the hole [m].

    Args:
        cover_m: Outside diameter of the flange, or the bearing diameter of the nut [m], 0.005 to 0.5.
        hole_m: Largest width of the hole [m], 0.005 to 0.5.
        body_m: Diameter of the body that stands in the hole [m], 0.005 to 0.5.

    Returns:
        The overlap [m]; below zero the hole shows.

    Raises:
        OutOfRange: if a length lies outside 5 to 500 mm.

    Source:
        Worked by hand: flange 70, hole 62, body 58 mm: centred (70 - 62) / 2 = 4 mm, pushed aside by
        (62 - 58) / 2 = 2 mm leaves 2 mm = (70 + 58) / 2 - 62.

    Example:
        >>> round(1000 * least_overlap_m(0.070, 0.062, 0.058), 1)
        2.0
    """
    for name, length_m in (("cover", cover_m), ("hole", hole_m), ("body", body_m)):
        _within_m(name, length_m, 0.005, 0.5)
    return (cover_m + body_m) / 2 - hole_m


def screw_edge_spare_m(edge_m: float, screw_m: float) -> float:
    """Return how much further from the hole's edge a screw stands than it must [m].

    Args:
        edge_m: From the screw's centre to the edge of the hole [m], 0 to 0.2.
        screw_m: Diameter of the screw [m], 0.001 to 0.02.

    Returns:
        The spare distance [m]; below zero the edge may break out.

    Raises:
        OutOfRange: if a length lies outside its range.

    Source:
        Common practice, 1.5 diameters (quoted). Worked by hand: 8 mm from the edge, 4 mm screw: 8 - 6 = 2 mm.

    Example:
        >>> round(1000 * screw_edge_spare_m(0.008, 0.004), 1)
        2.0
    """
    _within_m("edge", edge_m, 0.0, 0.2)
    return edge_m - EDGE_DIAMETERS * _within_m("screw", screw_m, 0.001, 0.02)


def panel_fit(
    panel_m: float,
    thread_m: float,
    nut_m: float,
    seal_m: float,
    pitch_m: float,
    depth_m: float,
    body_m: float,
    cable_m: float,
    bend_m: float = 0.0,
) -> PanelFit:
    """Return whether a nut finds thread behind the panel, and whether body and bent cable find room.

    Args:
        panel_m: Thickness of the panel [m], 0.0005 to 0.1.
        thread_m: Length of thread below the flange [m], 0 to 0.2.
        nut_m: Height of the backing nut [m], 0 to 0.1.
        seal_m: Thickness of the gasket, pressed [m], 0 to 0.02.
        pitch_m: Pitch of the thread, one turn to show past the nut [m], 0 to 0.01.
        depth_m: Free depth behind the panel [m], 0 to 2.
        body_m: How far the body, with its boot, reaches behind the panel [m], 0 to 0.5.
        cable_m: Outside diameter of the cable or of one wire [m], 0.001 to 0.1.
        bend_m: Bend radius that the cable's maker gives [m], 0 to 1; five diameters are taken if they are more.

    Returns:
        The spare thread, the spare depth and the depth needed [m]; below zero it does not fit.

    Raises:
        OutOfRange: if a length lies outside its range.

    Source:
        This project's rule. Worked by hand: thread 22 - panel 6 - seal 2 - nut 10 - pitch 2 = 2 mm spare; depth 120 -
        body 70 - 5 x 7 = 15 mm spare.

    Example:
        >>> fit = panel_fit(0.006, 0.022, 0.010, 0.002, 0.002, 0.120, 0.070, 0.007)
        >>> round(1000 * fit.thread_spare_m, 1), round(1000 * fit.depth_spare_m, 1)
        (2.0, 15.0)
    """
    _within_m("panel", panel_m, 0.0005, 0.1)
    _within_m("thread", thread_m, 0, 0.2)
    _within_m("nut", nut_m, 0, 0.1)
    _within_m("seal", seal_m, 0, 0.02)
    _within_m("pitch", pitch_m, 0, 0.01)
    _within_m("depth", depth_m, 0, 2)
    _within_m("body", body_m, 0, 0.5)
    _within_m("cable", cable_m, 0.001, 0.1)
    _within_m("bend", bend_m, 0, 1)
    needed = body_m + max(bend_m, BEND_DIAMETERS * cable_m)
    return PanelFit(thread_m - panel_m - seal_m - nut_m - pitch_m, depth_m - needed, needed)


def _within_m(name: str, length_m: float, low_m: float, high_m: float) -> float:
    if low_m <= length_m <= high_m:
        return length_m
    raise OutOfRange(f"{name} is {1000 * length_m:g} mm; it must be from {1000 * low_m:g} to {1000 * high_m:g} mm")
