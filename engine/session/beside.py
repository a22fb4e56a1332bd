"""What may lie beside logs without being one: told by what it holds, and never where a log may have been."""

import re
import tomllib
from pathlib import Path

from engine.session.scan import read_plain_file

RIG_KEYS = ("schema", "title", "value", "planted")
"""The keys of a file that says what is known of a training rig."""

RUBRIC_KEYS = ("schema", "title", "points", "hold_weight", "rule")
"""The keys of a rubric."""

MOST_BYTES = 2_000_000
"""The largest file that is taken for a rig or a rubric [bytes]; a project rule."""

_TRACE = re.compile(rb'Tugtest session log|^\s*\[+\s*"?(?:session|event)\b|^\s*digest\s*=', re.MULTILINE)


def has_trace_of_log(path: Path) -> bool:
    """Return whether a file holds anything that only a log has; True also for one that cannot be read."""
    try:
        return _TRACE.search(read_plain_file(path)) is not None
    except (OSError, ValueError):
        return True


def lies_beside(path: Path) -> bool:
    """Return whether a file is a rig or a rubric by its keys, whole, and without any trace of a log.

    One with a fault in a value is still the reviewer's own paper: whoever uses it is told of the fault. A file that
    cannot be read, or that is no TOML, is not: it may have been a log.
    """
    try:
        data = read_plain_file(path)
        if len(data) > MOST_BYTES or _TRACE.search(data):
            return False
        keys = tomllib.loads(data.decode("utf-8")).keys()
    except (OSError, ValueError, RecursionError):
        return False
    rig = keys <= set(RIG_KEYS) and keys & {"value", "planted"}
    rubric = keys <= set(RUBRIC_KEYS) and {"points", "hold_weight", "rule"} <= keys
    return "schema" in keys and bool(rig or rubric)
