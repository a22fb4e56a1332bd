"""Whether a value is inside its limit, outside it, or too close to it for the instrument to tell."""

import math
from statistics import NormalDist

from engine.finding import Verdict
from engine.trade.ranges import OutOfRange, within

_MANY = 1e12


def at_most(value: float, limit: float, uncertainty: float = 0.0) -> Verdict:
    """Return pass, fail or undecided for a value that may be at most ``limit``.

    Args:
        value: What was measured [any unit].
        limit: The largest value allowed [the same unit].
        uncertainty: U, k = 2 [the same unit], zero or above; zero for a label, a count, a sign.

    Returns:
        ``pass`` if ``value + U`` is within the limit, ``fail`` if ``value - U`` is past it, else ``undecided``.

    Raises:
        OutOfRange: if a number is not finite or ``uncertainty`` is below zero.

    Source:
        JCGM 106:2012, 8.3.2, guard band w = U; ISO 14253-1:2017, rules for conformity and nonconformity.

    Example:
        >>> [str(at_most(x, 3.0, 0.2)) for x in (2.8, 2.9, 3.2, 3.3)]
        ['pass', 'undecided', 'undecided', 'fail']
    """
    _finite(value, limit)
    within("uncertainty", uncertainty, 0, _MANY)
    if value + uncertainty <= limit or math.isclose(value + uncertainty, limit, rel_tol=1e-12):
        return Verdict.PASS
    past = value - uncertainty > limit and not math.isclose(value - uncertainty, limit, rel_tol=1e-12)
    return Verdict.FAIL if past else Verdict.UNDECIDED


def at_least(value: float, limit: float, uncertainty: float = 0.0) -> Verdict:
    """Return pass, fail or undecided for a value that must be at least ``limit``.

    Args:
        value: What was measured [any unit].
        limit: The least value allowed [the same unit].
        uncertainty: U, k = 2 [the same unit], zero or above; zero for a label, a count, a sign.

    Returns:
        ``pass`` if ``value - U`` reaches the limit, ``fail`` if ``value + U`` does not, else ``undecided``.

    Raises:
        OutOfRange: if a number is not finite or ``uncertainty`` is below zero.

    Source:
        JCGM 106:2012, 8.3.2, guard band w = U; ISO 14253-1:2017.

    Example:
        >>> [str(at_least(x, 90, 3.3)) for x in (95, 91, 85)]
        ['pass', 'undecided', 'fail']
    """
    return at_most(-value, -limit, uncertainty)


def between(value: float, low: float, high: float, uncertainty: float = 0.0) -> Verdict:
    """Return pass, fail or undecided for a value that must lie from ``low`` to ``high``.

    Args:
        value: What was measured [any unit].
        low: The least value allowed [the same unit].
        high: The largest value allowed [the same unit], at least ``low``.
        uncertainty: U, k = 2 [the same unit], zero or above.

    Returns:
        The worse of both sides, where ``undecided`` is better than ``fail``.

    Raises:
        OutOfRange: if ``high`` is below ``low``, a number is not finite, or ``uncertainty`` is below zero.

    Source:
        JCGM 106:2012, 8.3.3, two-sided acceptance interval.

    Example:
        >>> [str(between(x, 12.5, 16.0, 0.1)) for x in (14.0, 15.95, 16.2)]
        ['pass', 'undecided', 'fail']
    """
    if high < low:
        raise OutOfRange(f"high is {high:g}; it must be at least low, {low:g}")
    return max(at_least(value, low, uncertainty), at_most(value, high, uncertainty), key=lambda v: v.severity)


def band_at_most(value: float, good: float, bearable: float, uncertainty: float = 0.0) -> Verdict:
    """Return the verdict of a value with two limits: good up to one, bearable up to the other.

    Args:
        value: What was measured [any unit].
        good: The largest value that passes [the same unit].
        bearable: The largest value that is marginal [the same unit], at least ``good``.
        uncertainty: U, k = 2 [the same unit], zero or above.

    Returns:
        ``pass`` and ``marginal`` only inside the guard band of their limit, ``fail`` past that of ``bearable``, else
        ``undecided``: what may be a pass or marginal is marginal, so that worse is never easier.

    Raises:
        OutOfRange: if ``bearable`` is below ``good``, a number is not finite, or ``uncertainty`` is below zero.

    Source:
        The guard band of JCGM 106:2012, 8.3.2, at both limits; that there are two is this project's rule.

    Example:
        >>> [str(band_at_most(x, 50, 100, 1)) for x in (28, 50, 60, 100, 110)]
        ['pass', 'marginal', 'marginal', 'undecided', 'fail']
    """
    if bearable < good:
        raise OutOfRange(f"bearable is {bearable:g}; it must be at least good, {good:g}")
    far = at_most(value, bearable, uncertainty)
    if far is not Verdict.PASS:
        return far
    return Verdict.PASS if at_most(value, good, uncertainty) is Verdict.PASS else Verdict.MARGINAL


def band_eased(value: float, good: float, bearable: float, uncertainty: float) -> Verdict:
    """Return the verdict where the good limit already holds U, so that no guard band stands inside it.

    Args:
        value: What was measured [any unit].
        good: The largest value that passes, U included [the same unit].
        bearable: The largest value that is marginal [the same unit].
        uncertainty: U, k = 2 [the same unit], zero or above.

    Returns:
        ``pass`` up to ``good``, ``marginal`` up to ``bearable``, ``fail`` where ``value - U`` is past it, else
        ``undecided``. Where ``good`` lies past ``bearable`` the reading is too coarse for the band: all that is not
        clear is then ``undecided``.

    Raises:
        OutOfRange: if a number is not finite or ``uncertainty`` is below zero.

    Source:
        This project's rule for two limits that would else fail honest work; the far one as JCGM 106:2012, 8.3.2.

    Example:
        >>> [str(band_eased(x, 0.15, 0.20, 0.05)) for x in (0.15, 0.16, 0.22, 0.26)]
        ['pass', 'marginal', 'undecided', 'fail']
    """
    if good > bearable:
        return band_at_most(value, max(0.0, good - uncertainty), bearable, uncertainty)
    if at_most(value, good) is Verdict.PASS:
        return Verdict.PASS
    if at_most(value, bearable) is Verdict.PASS:
        return Verdict.MARGINAL
    return at_most(value, bearable, uncertainty)


def band_at_least(value: float, good: float, bearable: float, uncertainty: float = 0.0) -> Verdict:
    """Return the verdict of a value with two lower limits: good down to one, bearable down to the other.

    Args:
        value: What was measured [any unit].
        good: The least value that passes [the same unit].
        bearable: The least value that is marginal [the same unit], at most ``good``.
        uncertainty: U, k = 2 [the same unit], zero or above.

    Returns:
        As ``band_at_most``.

    Raises:
        OutOfRange: if ``bearable`` is above ``good``, a number is not finite, or ``uncertainty`` is below zero.

    Source:
        As ``band_at_most``, the other way round.

    Example:
        >>> [str(band_at_least(x, 3.0, 1.5, 0.1)) for x in (4, 3, 2, 1.5, 1)]
        ['pass', 'marginal', 'marginal', 'undecided', 'fail']
    """
    return band_at_most(-value, -good, -bearable, uncertainty)


def conformance_probability(value: float, u: float, low: float = -math.inf, high: float = math.inf) -> float:
    """Return the chance that the true value lies inside the limits, if nothing else is known about it.

    Args:
        value: What was measured [any unit].
        u: Its standard uncertainty [the same unit], above zero.
        low: The least value allowed [the same unit], minus infinity for none.
        high: The largest value allowed [the same unit], infinity for none.

    Returns:
        The probability [no unit], 0 to 1.

    Raises:
        OutOfRange: if ``u`` is not above zero, ``value`` is not finite, or ``high`` is below ``low``.

    Source:
        JCGM 106:2012, 7.3.2 and 7.4: Phi((T_U - y) / u) - Phi((T_L - y) / u). Its example 7.3.3: -5.47 V with
        u = 0.05 V and at most -5.40 V: Phi(1.4) = 0.92.

    Example:
        >>> round(conformance_probability(-5.47, 0.05, high=-5.40), 2)
        0.92
    """
    _finite(value)
    if not 0 < u < math.inf:
        raise OutOfRange(f"u is {u:g}; it must be above 0")
    if high < low:
        raise OutOfRange(f"high is {high:g}; it must be at least low, {low:g}")
    normal = NormalDist(value, u)
    return (1.0 if high == math.inf else normal.cdf(high)) - (0.0 if low == -math.inf else normal.cdf(low))


def guarded_limit(limit: float, uncertainty: float, share: float = 1.0) -> float:
    """Return the acceptance limit A that lies a guard band inside an upper limit T.

    Args:
        limit: The upper limit T [any unit].
        uncertainty: U, k = 2 [the same unit], zero or above.
        share: The guard band as a multiple r of U [no unit], -3 to 3; below zero it lies outside.

    Returns:
        A = T - r U [the same unit].

    Raises:
        OutOfRange: if a number lies outside its range.

    Source:
        JCGM 106:2012, 8.3.2; ILAC-G8:09/2019, table of decision rules.

    Example:
        >>> round(guarded_limit(3.0, 0.2), 2)
        2.8
    """
    _finite(limit)
    return limit - within("share", share, -3, 3) * within("uncertainty", uncertainty, 0, _MANY)


def false_accept_percent(share: float) -> float:
    """Return the greatest chance that a value on the acceptance limit is in truth outside [%].

    Args:
        share: The guard band as a multiple r of U = 2 u [no unit], -3 to 3.

    Returns:
        The risk for one limit and a normal distribution [%].

    Raises:
        OutOfRange: if ``share`` lies outside its range.

    Source:
        JCGM 106:2012, 8.3.2. Worked by hand: r = 1: 1 - Phi(2) = 2.28 %.

    Example:
        >>> round(false_accept_percent(1.0), 2)
        2.28
    """
    return 100 * (1 - NormalDist().cdf(2 * within("share", share, -3, 3)))


def rectangular_false_accept_percent(steps: float) -> float:
    """Return the same risk if the reading's only doubt is a printed accuracy, a rectangle [%].

    Args:
        steps: The guard band in standard uncertainties [no unit], zero or above.

    Returns:
        (root 3 - k) / (2 root 3), in percent; zero from k = root 3 up [%].

    Raises:
        OutOfRange: if ``steps`` is below zero or above 10.

    Source:
        Derived from JCGM 100:2008, 4.3.7. Worked by hand: k = 0 gives 50 %, k = 1 gives 0.7321 / 3.4641 = 21.1 %.

    Example:
        >>> [round(rectangular_false_accept_percent(k), 1) for k in (0, 1, 2)]
        [50.0, 21.1, 0.0]
    """
    within("steps", steps, 0, 10)
    return 100 * max(0.0, (math.sqrt(3) - steps) / (2 * math.sqrt(3)))


def _finite(*values: float) -> None:
    for value in values:
        within("value", value, -_MANY, _MANY)
