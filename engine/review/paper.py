"""Reads what an instructor wrote beside the logs (marks, a rubric, a rig): a plain file of TOML of a sober size."""

import tomllib
from pathlib import Path
from typing import Any

from engine.session.scan import read_plain_file, says

MOST_BYTES = 2_000_000
"""The largest of these files that is read [bytes]; a project rule."""


class BadPaper(ValueError):
    """A file of the instructor's that cannot be used: ``FILE: WHERE: what is wrong, what would be right``."""


class NoPaper(BadPaper):
    """There is no such file."""


def read_paper(path: Path) -> dict[str, Any]:
    """Return the tables of a file. A pipe or a device is not opened, and the size is looked at before reading.

    Raises:
        NoPaper: if it is not there.
        BadPaper: if it cannot be read, or is no TOML.
    """
    try:
        if path.stat().st_size > MOST_BYTES:
            raise BadPaper(f"{path.name}: it is larger than {MOST_BYTES // 1_000_000} MB, which no such file is")
        return tomllib.loads(read_plain_file(path).decode("utf-8"))
    except FileNotFoundError:
        kind = BadPaper if path.is_symlink() else NoPaper
        raise kind(f"{path.name}: there is no such file") from None
    except OSError as problem:
        raise BadPaper(f"{path.name}: {says(problem)}") from problem
    except RecursionError as problem:
        raise BadPaper(f"{path.name}: tables or lists stand too deep inside one another") from problem
    except BadPaper:
        raise
    except ValueError as problem:
        raise BadPaper(f"{path.name}: {problem}") from problem
