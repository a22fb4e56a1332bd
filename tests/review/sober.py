"""Logs of sober people for the tests: the jobs of two samples, done at a hand's pace, by the machine's clock.

The shipped samples are demos that were played from a file, which a review asks about; these it has nothing to say of.
"""

import atexit
import os
import random
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from unittest.mock import patch

from tests.bench.people import Bench, Person, worked

KEPT = {
    "grey-heron-clean": {
        "live_pair": "25.3", "v_bank": "25.38", "v_battery_1": "12.71", "v_battery_2": "12.68", "v_line": "+25.37",
        "v_polarity": "+25.36", "i_load": "46.8", "v_bank_load": "24.36", "v_receptacle_load": "23.55", "mv_1": "14",
        "mv_2": "17",
    },
    "marsh-tern-mended": {"t_positive": "25.6", "t_negative": "25.2", "t_ambient": "18.7"},
}  # fmt: skip
"""What is typed as in the sample: figures that tests name. All else that is measured is the bench's own."""

WHO = {
    "grey-heron-clean": ("Grey Heron", "R. Marsh", datetime(2026, 5, 2, 8, 30, tzinfo=UTC)),
    "marsh-tern-mended": ("Marsh Tern", "D. Fen", datetime(2026, 5, 16, 9, 10, tzinfo=UTC)),
}


@cache
def sober(name: str) -> Path:
    """Return the log of a sober person by the name of a sample; the same bytes at every run."""
    asset, who, start = WHO[name]
    dice = random.Random(name)
    with patch.object(os, "fsync", lambda handle: None):
        person = Person(who, entry_s=11.0, work_s=60.0, sample=name)
        return worked(_place(), f"{name}.toml", person, Bench(asset, dice), dice, start, **KEPT[name])


@cache
def _place() -> Path:
    folder = TemporaryDirectory()
    atexit.register(folder.cleanup)
    return Path(folder.name)
