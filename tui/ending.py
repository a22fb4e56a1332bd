"""Ends the screens when the terminal is closed or the program is told to stop, even if nobody takes what they write."""

import asyncio
import os
import signal
import threading
from typing import Any

from textual.app import App

GRACE_S = 3.0
"""So long the screens have to put the terminal back in order [s]. Source: project rule."""


def end_on_signals(app: App[Any]) -> None:
    """End cleanly on a signal. Where a closed terminal keeps that from ending, end without it.

    Whatever was called recorded is on the disk; a program that stayed would keep its log from being gone on with.
    """
    loop = asyncio.get_running_loop()
    for name in ("SIGTERM", "SIGHUP"):
        if number := getattr(signal, name, None):
            try:
                loop.add_signal_handler(number, _end, app)
            except (NotImplementedError, RuntimeError, ValueError):  # Windows, or not the main thread
                return


def _end(app: App[Any]) -> None:
    app.exit()
    late = threading.Timer(GRACE_S, os._exit, (0,))
    late.daemon = True
    late.start()
