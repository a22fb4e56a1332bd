"""Garbage is not collected while a job is opened: what is made there stays, and looking through it takes its time."""

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def not_collecting() -> Iterator[None]:
    """Put collecting off; afterwards leave aside what was made, so that no key press waits for a look through it."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.freeze()
            gc.enable()
