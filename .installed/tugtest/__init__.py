"""The program as it is installed: all that it brings lies in this folder, so that no other distribution's names meet.

``engine`` and ``tui`` stay the names inside the program, as in the repository; here they are put on its path, first.
"""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))


def main() -> int:
    """Carry out one command line and return its exit status."""
    from tui.cli import main as carry_out  # only now is it on the path

    return carry_out()
