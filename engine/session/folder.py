"""Where sessions are kept: the folder that was named, one from the environment, or the user's data folder; its logs."""

import os
from pathlib import Path

from engine.session.beside import has_trace_of_log

VARIABLE = "TUGTEST_FOLDER"
"""Environment variable that names the folder of sessions."""

MARKS = "review-marks.toml"
"""Where an instructor's marks stand, beside the logs."""

HEADS = "heads.toml"
"""Where the heads of sample logs stand, beside the samples."""


def logs_in(folder: Path) -> list[Path]:
    """Return the logs of a folder by name: its TOML files, apart from answers, marks and heads.

    A name alone hides no log: a file so named that has anything of a log in it is listed.

    Raises:
        OSError: if the folder cannot be read.
    """
    named = (p for p in folder.iterdir() if p.suffix == ".toml" and not p.name.startswith("."))
    return sorted((p for p in named if not _named_otherwise(p) or has_trace_of_log(p)), key=lambda p: p.name)


def _named_otherwise(path: Path) -> bool:
    return path.name.endswith(".answers.toml") or path.name in (MARKS, HEADS)


def sessions_folder(named: Path | None = None) -> Path:
    """Return the folder of session logs; it need not exist yet."""
    if named is not None:
        return named
    if from_environment := os.environ.get(VARIABLE):
        return Path(from_environment)
    from platformdirs import user_data_path  # local: saves start-up time when a folder is named

    return user_data_path("tugtest", appauthor=False) / "sessions"
