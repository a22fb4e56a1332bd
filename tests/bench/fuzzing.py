"""What the three fuzzers share: first entries, a dictionary, and one line a minute on how far the coverage came.

The fuzzer runs in a process of its own, since it reports to the error stream and ends its process itself.
"""

import os
import re
import subprocess
import sys
import time
from collections.abc import Callable, Iterable
from pathlib import Path
from tempfile import TemporaryDirectory

SAY_EVERY_S = 60.0
CHILD = "TUGTEST_FUZZ_FOLDER"
_COVERED = re.compile(r"^#(\d+)\s.*cov: (\d+) ft: (\d+)")


def fuzz(look: Callable[[bytes], None], seeds: Iterable[bytes], words: Iterable[bytes], longest_bytes: int) -> None:
    """Fuzz for the seconds of the command line, 20 if none are given, and end with status 0 if nothing was found.

    Args:
        look: Judges one input; raises if something is wrong.
        seeds: The first entries; every one is judged by hand beforehand.
        words: Pieces that an input is made of: the dictionary.
        longest_bytes: The longest input [bytes].
    """
    if CHILD in os.environ:
        _child(look, Path(os.environ[CHILD]), longest_bytes)
        return
    with TemporaryDirectory() as place:
        corpus = Path(place) / "corpus"
        corpus.mkdir()
        for number, seed in enumerate(seeds):
            look(seed)
            (corpus / str(number)).write_bytes(seed)
        quoted = ("".join(f"\\x{byte:02x}" for byte in word) for word in words)
        (Path(place) / "words").write_text("".join(f'"{word}"\n' for word in quoted), encoding="ascii")
        status = _parent(Path(place))
    sys.exit(status)


def _child(look: Callable[[bytes], None], place: Path, longest_bytes: int) -> None:
    import atheris

    seconds = int(sys.argv[1]) if len(sys.argv) > 1 else 20
    options = [f"-max_total_time={seconds}", f"-max_len={longest_bytes}", "-len_control=20", f"-dict={place}/words"]
    options += [f"-artifact_prefix={place}/found-", "-print_final_stats=1", "-reload=0"]
    atheris.Setup([sys.argv[0], *options, str(place / "corpus")], look)
    atheris.Fuzz()


def _parent(place: Path) -> int:
    """Run the fuzzer, say how far it came, and show what it found; return its status."""
    command = [sys.executable, *sys.argv]
    last, said_at, rest = "", time.monotonic(), list[str]()
    env = {**os.environ, CHILD: str(place)}
    with subprocess.Popen(command, env=env, stderr=subprocess.PIPE, text=True, errors="replace") as child:
        assert child.stderr is not None
        for line in child.stderr:
            if (match := _COVERED.match(line)) is None:
                rest = [*rest[-60:], line]
                continue
            last = f"{match[1]} inputs, {match[2]} edges, {match[3]} features"
            if time.monotonic() - said_at >= SAY_EVERY_S:
                said_at = time.monotonic()
                print(last, flush=True)
    print(f"{Path(sys.argv[0]).stem}: {last}; " + ("clean" if not child.returncode else "FOUND:"), flush=True)
    if child.returncode:
        print("".join(rest))
        for found in place.glob("found-*"):
            print(found.name, found.read_bytes())
    return child.returncode
