"""Finds procedures and samples: those that the program ships, in a checkout and in a wheel alike, and one's own."""

import os
from pathlib import Path

from engine.nearest import nearest

OWN = "TUGTEST_PROCEDURES"
"""Environment variable that names the folder of one's own procedures."""

_TOP = Path(__file__).resolve().parents[1]


class NotShipped(LookupError):
    """No procedure has that name, or no file stands at that path. The message names the nearest."""


def folder(name: str) -> Path:
    """Return a folder of shipped data: beside the engine, in a wheel as in a checkout.

    Args:
        name: ``procedures`` or ``sample_sessions``.

    Example:
        >>> folder("procedures").name
        'procedures'
    """
    return _TOP / name


def sample(named: Path, ending: str = ".toml") -> Path:
    """Return the path that was named, or the shipped sample of that name where there is no such file.

    Args:
        named: A path, the name of a sample such as ``grey-heron-clean``, or ``sample_sessions`` for all of them.
        ending: What the names of the samples wanted end with.

    Example:
        >>> sample(Path("grey-heron-facts"), ".answers.toml").name
        'grey-heron-facts.answers.toml'
    """
    all_of_them = folder("sample_sessions")
    if named.exists() or len(named.parts) != 1:
        return named
    found = (
        all_of_them if named.name == all_of_them.name else all_of_them / f"{named.name.removesuffix(ending)}{ending}"
    )
    return found if found.exists() else named


def shipped() -> list[Path]:
    """Return the files of the shipped procedures, in the order of the alphabet. Blocks are not among them."""
    return sorted(folder("procedures").glob("*.toml"))


def own_folder() -> Path:
    """Return the folder of one's own procedures: one from the environment, or in the user's data folder."""
    if from_environment := os.environ.get(OWN):
        return Path(from_environment)
    from platformdirs import user_data_path  # local: saves start-up time when a folder is named

    return user_data_path("tugtest", appauthor=False) / "procedures"


def own() -> list[Path]:
    """Return the files of one's own procedures, in the order of the alphabet; none if there is no such folder."""
    return sorted(path for path in own_folder().glob("*.toml") if not path.name.endswith(".answers.toml"))


def known() -> dict[str, Path]:
    """Return all procedures by name: the shipped ones, and one's own, which win."""
    return dict(sorted((path.stem, path) for path in shipped()) + [(path.stem, path) for path in own()])


def is_own(path: Path) -> bool:
    """Return whether a procedure is one's own: it does not lie with the shipped ones."""
    return path.parent != folder("procedures")


def find(name_or_path: str) -> Path:
    """Return the file of a procedure.

    Args:
        name_or_path: The id of a procedure, such as ``bow-receptacle``, or the path of a file.

    Raises:
        NotShipped: if there is neither; names the nearest shipped one.
    """
    path = Path(name_or_path)
    if path.suffix == ".toml" or len(path.parts) > 1:
        if path.is_file():
            return path
        raise NotShipped(
            f"{name_or_path}: there is no such file; give the path of a procedure, or the name of a shipped one"
        )
    by_name = known()
    if name_or_path in by_name:
        return by_name[name_or_path]
    hint = nearest(name_or_path, by_name, f"there are {', '.join(by_name) or 'none'}")
    raise NotShipped(f'no procedure is called "{name_or_path[:40]}"; {hint}')
