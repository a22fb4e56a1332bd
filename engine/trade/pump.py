"""A pump's fuse and its running current: a jammed pump must blow its fuse before it burns."""

from engine.trade.ranges import within

STALL_GOOD, STALL_BEARABLE = 1.6, 1.35
"""Stall current over fuse: good from the first, bearable from the second. Source: common practice (memory)."""

RUN_LOW, RUN_HIGH = 0.50, 1.15
"""Running current over label: from the first to the second. Source: this project's rule, -50 % to +15 %."""


def stall_ratio(stall_a: float, fuse_a: float) -> float:
    """Return how many times its fuse a jammed pump draws [no unit].

    Args:
        stall_a: Stall current, by the maker or with a wedge and hands out [A], 0.1 to 500.
        fuse_a: Fuse fitted [A], 0.1 to 500.

    Returns:
        The ratio.

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        Worked by hand: 12 A on a 6 A fuse is 2.0.

    Example:
        >>> stall_ratio(12, 6)
        2.0
    """
    return within("stall_a", stall_a, 0.1, 500, "A") / within("fuse_a", fuse_a, 0.1, 500, "A")


def running_share(running_a: float, label_a: float) -> float:
    """Return the running current as a share of the label [no unit].

    Args:
        running_a: Current while it pumps [A], 0 to 500.
        label_a: Current on the label [A], 0.1 to 500.

    Returns:
        The share.

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        Worked by hand: 3.2 A of 4 A is 0.8.

    Example:
        >>> running_share(3.2, 4)
        0.8
    """
    return within("running_a", running_a, 0, 500, "A") / within("label_a", label_a, 0.1, 500, "A")
