"""How worker processes are started: never as a copy of a process that may have threads."""

import sys
from collections.abc import Callable
from contextlib import redirect_stderr
from multiprocessing import get_all_start_methods, get_context, resource_tracker
from multiprocessing.connection import Connection
from multiprocessing.context import BaseContext
from typing import Any, TypeVar

Result = TypeVar("Result")

LOOK_EVERY_S = 0.05
"""Time between two questions whether to stop [s]; a project rule."""


class WorkerLost(Exception):
    """The process ended, or was stopped, before it had a result."""


def context() -> BaseContext:
    """Return the way in which workers are started on this system.

    The process that cleans up after them is given our standard error when it starts. A screen puts something else in
    its place that is no file: it is put back for that moment.
    """
    with redirect_stderr(sys.__stderr__):
        resource_tracker.ensure_running()
    return get_context("forkserver" if "forkserver" in get_all_start_methods() else "spawn")


def apart(work: Callable[..., Result], *told: object, stop: Callable[[], bool] | None = None) -> Result:
    """Return what ``work(*told)`` gives, done in a process of its own so that this one stays quick.

    Args:
        work: A function of a module.
        told: What it is told.
        stop: Is asked meanwhile; True ends the process.

    Raises:
        WorkerLost: if the process was stopped, or died.
    """
    started = context()
    here, there = started.Pipe(duplex=False)
    process = started.Process(target=_answer, args=(there, work, told), daemon=True)  # type: ignore[attr-defined]
    process.start()
    there.close()
    try:
        while not here.poll(LOOK_EVERY_S):
            if stop is not None and stop():
                raise WorkerLost
        result: Result = here.recv()
    except EOFError as gone:
        raise WorkerLost from gone
    finally:
        here.close()
        process.kill()
        process.join()
    return result


def _answer(there: Connection, work: Callable[..., Any], told: tuple[Any, ...]) -> None:
    there.send(work(*told))
    there.close()
