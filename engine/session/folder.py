"""Where sessions are kept: the folder that was named, one from the environment, or the user's data folder."""

import os
from pathlib import Path

VARIABLE = "TUGTEST_FOLDER"
"""Environment variable that names the folder of sessions."""


def sessions_folder(named: Path | None = None) -> Path:
    """Return the folder of session logs; it need not exist yet."""
    if named is not None:
        return named
    if from_environment := os.environ.get(VARIABLE):
        return Path(from_environment)
    from platformdirs import user_data_path  # local: saves start-up time when a folder is named

    return user_data_path("tugtest", appauthor=False) / "sessions"
