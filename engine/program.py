"""Which program this is, to the byte: by it, what an earlier one judged is told from what this one would judge."""

from functools import cache
from hashlib import sha256
from pathlib import Path

from engine import __version__

DECIDES = frozenset({".py", ".toml"})
"""Endings of the files that decide a verdict: arithmetic, rules, tables, the session's gates, how texts are read."""


@cache
def program_digest() -> str:
    """Return the SHA-256 over every file of the engine that decides a verdict, with its place; once in a process.

    About 350 files of 1.5 MB are read, which takes some 20 ms on a laptop: only a review pays it. The version stands
    before them, for an engine that is not a folder of files.
    """
    whole, top = sha256(__version__.encode()), Path(__file__).parent
    for path in sorted(top.rglob("*")):
        if path.suffix in DECIDES and path.is_file():
            whole.update(f"\n{path.relative_to(top).as_posix()}\n".encode())
            whole.update(path.read_bytes())
    return whole.hexdigest()
