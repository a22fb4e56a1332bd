"""Audits on other machines: a Dask scheduler that already runs, behind an optional extra of this distribution."""

from collections.abc import Iterator
from concurrent.futures import Executor
from contextlib import contextmanager
from importlib import import_module
from importlib.util import find_spec
from typing import Any


class NoScheduler(ValueError):
    """The scheduler cannot be used; the sentence says why, and what would be right."""


@contextmanager
def workers_at(address: str) -> Iterator[Executor]:
    """Connect to a scheduler and give its workers, which must have this distribution too.

    Args:
        address: Where it listens, such as ``tcp://bench.local:8786``.

    Raises:
        NoScheduler: if the extra is not installed, or nobody answers.
    """
    try:
        distributed: Any = import_module("distributed")  # local: only this option needs it
    except ImportError as absent:
        raise NoScheduler(
            "--scheduler needs the extra: in the program's folder, pip install '.[distributed]'"
        ) from absent
    try:
        client = distributed.Client(address, timeout="10s")
    except (OSError, ValueError) as silent:
        raise NoScheduler(
            f"{address}: no scheduler answers there; an address such as tcp://host:8786 is right"
        ) from silent
    try:
        if find_spec("tugtest"):  # installed: scheduler and workers put the packages on their path, as the command did
            for run in (client.run_on_scheduler, client.run):
                run(import_module, "tugtest")
        yield client.get_executor()
    finally:
        client.close()
