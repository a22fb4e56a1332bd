"""Files that belong to a session (photos): copied into a folder beside the log, with their name, size and SHA-256."""

import hashlib
import os
import shutil
import stat
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from engine.session.commands import Attach
from engine.session.disk import DISK
from engine.session.names import legal_stem
from engine.session.state import State

MOST_BYTES = 64 * 1024 * 1024
"""Largest file that is attached [bytes]; a project rule."""


class NotAttached(ValueError):
    """A file cannot be attached; the sentence says why."""


@dataclass(frozen=True, slots=True)
class FileCheck:
    """An attached file as the audit finds it: ``whole``, ``missing`` (or not to be read) or ``changed``."""

    name: str
    verdict: str


def files_folder(log: Path) -> Path:
    """Return the folder of a log's files: it stands beside the log and has its name."""
    return log.with_suffix("")


def copy_beside(log: Path, source: Path, step: str) -> Attach:
    """Copy a file beside its log and return the command that records it. The copy is on the disk when this returns.

    Raises:
        NotAttached: if it is no plain file, too large, or cannot be read or written.
    """
    name = f"{legal_stem(source.stem, 'file')}{_ending(source)}"
    try:
        status = os.lstat(source)
        if not stat.S_ISREG(status.st_mode):
            raise NotAttached(f"{source.name} is not a plain file; attach the file itself")
        if status.st_size > MOST_BYTES:
            raise NotAttached(f"{source.name} has {status.st_size} bytes; at most {MOST_BYTES} are taken")
        folder = files_folder(log)
        if folder.is_symlink():
            raise NotAttached(f"{folder.name} is a link; files are only put into a folder beside the log")
        folder.mkdir(exist_ok=True)
        target = _free(folder, name)
        _copy(source, target)
    except OSError as problem:
        raise NotAttached(f"{source.name} cannot be attached: {problem.strerror or problem}") from problem
    data = target.read_bytes()
    return Attach(step, target.name, hashlib.sha256(data).hexdigest(), len(data))


def bring_along(was: Path, log: Path, state: State) -> None:
    """Copy the files of a log that went on elsewhere beside it, as far as they can still be read.

    The audit says of each that could not be brought that it is missing.
    """
    for name, sha256, _ in state.files:
        with suppress(OSError):
            if _verdict(files_folder(was), name, sha256) == "whole":
                files_folder(log).mkdir(exist_ok=True)
                _copy(files_folder(was) / name, files_folder(log) / name)


def _copy(source: Path, target: Path) -> None:
    """Copy a file so that it is on the disk under its name; nothing is left of a copy that failed."""
    try:
        with source.open("rb") as inlet, target.open("xb") as outlet:
            shutil.copyfileobj(inlet, outlet)
            outlet.flush()
            os.fsync(outlet.fileno())
        DISK.sync_folder(target.parent)
        DISK.sync_folder(target.parent.parent)
    except FileExistsError:
        raise
    except OSError:
        target.unlink(missing_ok=True)
        raise


def check_files(log: Path, state: State) -> tuple[FileCheck, ...]:
    """Return how each attached file stands now. Nothing outside the log's own folder is looked at."""
    return tuple(FileCheck(name, _verdict(files_folder(log), name, sha256)) for name, sha256, _ in state.files)


def _verdict(folder: Path, name: str, sha256: str) -> str:
    path = folder / name
    try:
        if path.parent != folder or not path.is_file() or path.is_symlink():
            return "missing"
        with path.open("rb") as file:
            return "whole" if hashlib.file_digest(file, "sha256").hexdigest() == sha256 else "changed"
    except (OSError, ValueError):  # a name that no file can have, or a file that cannot be read
        return "missing"


def _ending(source: Path) -> str:
    ending = "".join(c for c in source.suffix.lower() if c.isascii() and c.isalnum())[:8]
    return f".{ending}" if ending else ""


def _free(folder: Path, name: str) -> Path:
    stem, ending = Path(name).stem, Path(name).suffix
    number = 2
    path = folder / name
    while path.exists():
        path = folder / f"{stem}-{number}{ending}"
        number += 1
    return path
