"""The journal: one session, one file, only ever appended to; what it says is recorded is on the disk."""

import contextlib
import threading
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Self

from engine.session.block import Unwritable, encode_event, encode_header, root
from engine.session.disk import DISK, Disk
from engine.session.holder import leave_note, read_note, remove_note
from engine.session.scan import MAX_BYTES, Scan, says, scan
from engine.session.simple_lines import Plain
from engine.session.trouble import LogBusy, LogRefused, NotRecorded

__all__ = ["Journal", "LogBusy", "LogRefused", "NotRecorded", "SetAside"]

Table = Mapping[str, Plain | tuple[str, ...]]
ENDING = ".toml"
_TRIES = 5
"""Times that a write or a sync is begun again when the system breaks it off [count]; a project rule."""

_MAX_NAMES = 1000
"""Numbers that are tried behind a name that is taken [count]; a project rule."""


@dataclass(frozen=True, slots=True)
class SetAside:
    """A half-written tail that was found on opening: the file it was put into, and its size [bytes]."""

    name: str
    size: int


class Journal:
    """A log opened for writing, by one process at a time. Made by ``create`` or ``open``.

    ``head`` is the digest of the last recorded block, ``count`` the number of recorded events, ``broken`` the reason
    why nothing more is written into this file, or empty. ``found`` is what the file held when it was opened.
    """

    def __init__(self, path: Path, handle: int, data: bytes, head: str, count: int, disk: Disk) -> None:
        self.path = path
        self.head = head
        self.count = count
        self.broken = ""
        self.set_aside: SetAside | None = None
        self.found: Scan | None = None
        self._handle = handle
        self._data = bytearray(data)
        self._disk = disk
        self._turn = threading.Lock()

    @classmethod
    def create(cls, folder: Path, stem: str, header: Table, *, disk: Disk = DISK) -> Self:
        """Return the journal of a new log, on the disk and locked.

        Args:
            folder: Where the logs are; made if it is not there.
            stem: The file's name without its ending; ``-2``, ``-3`` is added if a log of that name exists.
            header: Flat table for the ``[session]`` block.
            disk: The disk, or a stand-in.

        Raises:
            LogRefused: if the header or the disk does not allow it; an unfinished file is taken away.
        """
        try:
            data = encode_header(header)
        except Unwritable as error:
            raise LogRefused(f"the log cannot be begun: {error}") from None
        if len(data) > MAX_BYTES:
            raise LogRefused(f"the log cannot be begun: its header is larger than {MAX_BYTES // 1024 // 1024} MB")
        return cls._begin(folder, stem, data, root(data), 0, disk)

    @classmethod
    def open(cls, path: Path, *, disk: Disk = DISK) -> Self:
        """Return the journal of a log that exists, for writing on. A half-written tail is set aside and cut.

        Raises:
            LogBusy: if another process writes it.
            LogRefused: if it is altered, edited, newer, no log, or the disk does not allow it.
        """
        handle = -1
        try:
            path = path.resolve(strict=True)
            handle = disk.open(path)
            if not disk.lock(handle):
                raise LogBusy(f"{path.name} is being written by {read_note(path)}. Close it there, or read it here.")
            return cls._go_on(path, handle, disk)
        except BaseException as error:
            _close_quietly(disk, handle)
            if isinstance(error, OSError):
                raise LogRefused(f"{path.name} cannot be written: {says(error)}") from error
            raise

    def append(self, events: Sequence[Table]) -> str:
        """Record events, as one entry, and return the new head once they are on the disk: one write, one sync.

        Raises:
            NotRecorded: if they are not. After a failed sync the file is not written again.
        """
        with self._turn:
            if self.broken:
                raise NotRecorded(f"not recorded: {self.broken}")
            if not events:
                return self.head
            block, head = self._encode(events)
            self._demand_untouched(len(block))
            self._write(block)
            self._sync()
            self._data += block
            self.head = head
            self.count += len(events)
            return head

    def move(self, folder: Path) -> "Journal":
        """Carry on the same chain in another folder and return its journal; this one is closed, its file is left.

        Only what was recorded is taken along, from memory: the first folder may be gone.

        Raises:
            LogRefused: if the other folder cannot be written; this journal then stays as it is.
        """
        with self._turn:
            moved = Journal._begin(folder, self.path.stem, bytes(self._data), self.head, self.count, self._disk)
            self.broken = f"the log goes on as {moved.path}"
        self.close()
        return moved

    def close(self) -> None:
        """Let go of the file. Closing twice does no harm."""
        with self._turn:
            handle, self._handle = self._handle, -1
            self.broken = self.broken or "the log is closed"
        if handle >= 0:
            remove_note(self.path, self._disk)
            _close_quietly(self._disk, handle)

    def abandon(self) -> None:
        """Let go of a log in which nothing was recorded, and take its file away."""
        self.close()
        if self.count == 0:
            with contextlib.suppress(OSError):
                self._disk.remove(self.path)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    @classmethod
    def _begin(cls, folder: Path, stem: str, data: bytes, head: str, count: int, disk: Disk) -> Self:
        handle = -1
        try:
            disk.make_folder(folder)
            path, handle = _create_under_free_name(folder.resolve(), stem, disk)
            if not disk.lock(handle):
                raise LogRefused(f"{path.name} was opened by another program at the moment it was made; begin again")
            _write_all(disk, handle, data)
            _sync(disk.sync, handle)
            disk.sync_folder(path.parent)
        except BaseException as error:
            _close_quietly(disk, handle)
            if handle >= 0 and not isinstance(error, LogRefused):
                with contextlib.suppress(OSError):
                    disk.remove(path)
            if isinstance(error, OSError):
                raise LogRefused(f"no log can be begun in {folder}: {says(error)}; choose another folder") from error
            raise
        leave_note(path, disk)
        return cls(path, handle, data, head, count, disk)

    @classmethod
    def _go_on(cls, path: Path, handle: int, disk: Disk) -> Self:
        _sync(disk.settle, handle)
        data = disk.read(handle, MAX_BYTES + 1)
        found = scan(data)
        if found.state not in ("whole", "torn") or found.header is None:
            raise LogRefused(f"{path.name}: {found.sentence}", found)
        journal = cls(path, handle, data[: found.good_bytes] + found.lacks, found.head, len(found.events), disk)
        journal.found = found
        if found.state == "torn":
            journal.set_aside = _mend(path, handle, data, found, disk)
        leave_note(path, disk)
        return journal

    def _encode(self, events: Sequence[Table]) -> tuple[bytes, str]:
        blocks: list[bytes] = []
        head = self.head
        for number, event in enumerate(events, start=1):
            try:
                block, head = encode_event(event, head, more=number < len(events))
            except Unwritable as error:
                raise NotRecorded(f"not recorded: {error}") from None
            blocks.append(block)
        return b"".join(blocks), head

    def _demand_untouched(self, more_bytes: int) -> None:
        size = len(self._data)
        if size + more_bytes > MAX_BYTES:
            raise NotRecorded(f"not recorded: the log would grow beyond {MAX_BYTES // 1024 // 1024} MB")
        try:
            ours, there = self._disk.standing(self._handle), self._disk.standing_at(self.path)
        except FileNotFoundError:
            self._break(f"{self.path.name} is no longer in its folder: it was removed or renamed")
        except OSError as error:
            raise NotRecorded(f"not recorded: {self.path.name} cannot be reached: {says(error)}") from error
        if (ours.st_dev, ours.st_ino) != (there.st_dev, there.st_ino):
            self._break(f"{self.path.name} was replaced by another file")
        if ours.st_size != size:
            self._break(f"{self.path.name} was changed by another program: {ours.st_size} bytes instead of {size}")

    def _write(self, block: bytes) -> None:
        try:
            _write_all(self._disk, self._handle, block)
        except BaseException as error:
            cut_back = self._cut_back()
            if not isinstance(error, OSError):
                raise
            left = "nothing of it was left in the file" if cut_back else "a half-written block is left at the end"
            raise NotRecorded(f"not recorded: {says(error)}; {left}", cut_back=cut_back) from error

    def _cut_back(self) -> bool:
        try:
            self._disk.cut(self._handle, len(self._data))
        except OSError as error:
            self.broken = f"a half-written block could not be cut off {self.path.name}: {says(error)}"
            return False
        return True

    def _sync(self) -> None:
        try:
            _sync(self._disk.sync, self._handle)
        except BaseException as error:
            reason = says(error) if isinstance(error, OSError) else "interrupted"
            self.broken = f"the disk did not confirm the last write to {self.path.name}: {reason}"
            if not isinstance(error, OSError):
                raise
            raise NotRecorded(f"not recorded: {self.broken}; carry on in another folder", cut_back=False) from error

    def _break(self, reason: str) -> None:
        self.broken = reason
        raise NotRecorded(f"not recorded: {reason}; carry on in another folder")


def _create_under_free_name(folder: Path, stem: str, disk: Disk, ending: str = ENDING) -> tuple[Path, int]:
    for number in range(1, _MAX_NAMES):
        path = folder / f"{stem}{ending if number == 1 else f'-{number}{ending}'}"
        try:
            return path, disk.create(path)
        except FileExistsError:
            continue
    raise FileExistsError(f"there are {_MAX_NAMES} files of that name already")


def _mend(path: Path, handle: int, data: bytes, found: Scan, disk: Disk) -> SetAside | None:
    """Put a half-written tail into a file beside the log, then cut it off; put back missing line ends."""
    tail = data[found.good_bytes :]
    aside = _set_aside(path, tail, disk) if tail else None
    if tail:
        disk.cut(handle, found.good_bytes)
    if found.lacks:
        _write_all(disk, handle, found.lacks)
    _sync(disk.sync, handle)
    return aside


def _set_aside(path: Path, tail: bytes, disk: Disk) -> SetAside:
    aside, handle = _create_under_free_name(path.parent, path.stem, disk, ".torn")
    try:
        _write_all(disk, handle, tail)
        _sync(disk.sync, handle)
    finally:
        disk.close(handle)
    disk.sync_folder(path.parent)
    return SetAside(aside.name, len(tail))


def _write_all(disk: Disk, handle: int, data: bytes) -> None:
    left = memoryview(data)
    tries = _TRIES
    while left:
        try:
            taken = disk.write(handle, bytes(left) if len(left) < len(data) else data)
        except InterruptedError:
            taken = 0
        tries -= 1
        left = left[taken:]
        if left and tries == 0:
            raise OSError("the disk took only a part of it, several times")


def _sync(sync: Callable[[int], None], handle: int) -> None:
    for _ in range(_TRIES):
        try:
            sync(handle)
        except InterruptedError:
            continue
        return
    raise OSError("syncing was interrupted several times")


def _close_quietly(disk: Disk, handle: int) -> None:
    if handle >= 0:
        with contextlib.suppress(OSError):
            disk.close(handle)
