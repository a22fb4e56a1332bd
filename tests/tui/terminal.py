"""A program on a pseudo-terminal: started, typed to, read, ended."""

import fcntl
import os
import pty
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from pathlib import Path

PROGRAM = """
import sys
from tui.cli import main
sys.exit(main(["start", "bow-receptacle", "--asset", "Grey Heron", "--folder", sys.argv[1]]))
"""
"""The main job, begun by the command line."""


class Terminal:
    """A program on a pseudo-terminal. ``out`` is everything that it wrote."""

    def __init__(
        self, folder: Path, program: str = PROGRAM, size: tuple[int, int] = (80, 24), **environment: str
    ) -> None:
        self.master, slave = pty.openpty()
        fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", size[1], size[0], 0, 0))
        self.before = termios.tcgetattr(slave)
        self.slave = slave
        env = {**os.environ, "TERM": "xterm-256color", "COLORTERM": "truecolor", **environment}
        self.process = subprocess.Popen(
            [sys.executable, "-c", program, str(folder)], stdin=slave, stdout=slave, stderr=slave, env=env,
            start_new_session=True, preexec_fn=_take_terminal,  # noqa: PLW1509  (no threads here)
        )  # fmt: skip
        self.out = b""

    def until(self, text: bytes, seconds: float = 30.0) -> None:
        """Read until some bytes were written."""
        end = time.monotonic() + seconds
        while text not in self.out:
            assert time.monotonic() < end, self.out[-2000:]
            self.read(0.1)

    def ended(self, seconds: float = 20.0) -> int:
        """Read until the program has ended; return its status."""
        end = time.monotonic() + seconds
        while self.process.poll() is None and time.monotonic() < end:
            self.read(0.1)
        self.read(0.1)
        return self.process.wait(1)

    def close(self) -> None:
        """Kill the program if it still runs, and let go of the terminal."""
        if self.process.poll() is None:
            self.process.kill()
            self.process.wait()
        os.close(self.master)
        os.close(self.slave)

    def press(self, keys: bytes) -> None:
        os.write(self.master, keys)

    def read(self, seconds: float) -> None:
        """Read what was written within some seconds."""
        if select.select([self.master], [], [], seconds)[0]:
            try:
                self.out += os.read(self.master, 65536)
            except OSError:
                return


def _take_terminal() -> None:
    """Make the terminal the program's own, so that closing it hangs the program up, as in a new window."""
    signal.signal(signal.SIGHUP, signal.SIG_DFL)
    fcntl.ioctl(0, termios.TIOCSCTTY, 0)
