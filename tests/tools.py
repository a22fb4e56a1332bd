"""Outside tools that some tests need: a test is skipped where its tool is not, unless the run demands the tool.

``.ci/run`` names in TUGTEST_TOOLS what it has installed: there a test that cannot find its tool must not look passed.
"""

import os


def absent(tool: str, *, there: bool) -> bool:
    """Return whether tests that need a tool are to be skipped.

    Raises:
        LookupError: if the tool is not there although this run demands it.
    """
    if not there and tool in os.environ.get("TUGTEST_TOOLS", "").split():
        raise LookupError(f"{tool} is not found, and TUGTEST_TOOLS says that it is here")
    return not there
