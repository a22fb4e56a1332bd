"""Plays the answers files of the samples; as a script it writes what is kept of them: the heads and the whole logs."""

import sys
import time
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory

TOP = Path(__file__).resolve().parents[2]
SAMPLES = TOP / "sample_sessions"
HEADS = SAMPLES / "heads.toml"
ENDING = ".answers.toml"

KEPT = ("grey-heron-clean", "sanderling-fault")
"""The samples whose logs are kept whole."""

ALTERED = ("grey-heron-clean", "grey-heron-altered", b'raw = "24.36"', b'raw = "24.06"')
"""The altered sample is the clean one with a reading changed afterwards, as by hand: from, to, old, new bytes."""

OPEN = ("grey-heron-facts",)
"""Answers that end before the job does: they open the demo and have no log."""

NAMES = tuple(n for n in sorted(p.name.removesuffix(ENDING) for p in SAMPLES.glob(f"*{ENDING}")) if n not in OPEN)
"""The samples that give a log."""

Sample = Callable[[str], Path]
"""What the fixture ``sample`` gives: the log of a sample by its name."""


class Stuck(Exception):
    """The answers of a sample do not lead to the end of its job. The message says where they stop."""


def replayed(name: str, folder: Path) -> Path:
    """Play the answers of a sample and return its log, under the sample's name.

    Raises:
        Stuck: if an answer is not taken.
    """
    from engine.procedure.load import load
    from engine.session.answers import load_answers
    from engine.session.play import play
    from engine.shipped import find

    answers = load_answers(SAMPLES / f"{name}{ENDING}")
    played = play(load(find(answers.procedure)), answers, folder)
    if played.stopped_at:
        raise Stuck(f"{name}: {played.stopped_at}")
    return played.path.rename(folder / f"{name}.toml")


def told(log: Path) -> dict[str, str]:
    """Return what is kept of every sample's log: the head of its chain, and how the job ended."""
    from engine.review.audit import audit_file

    found = audit_file(log)
    return {"head": found.head, "ended": found.ended}


def altered(clean: bytes) -> bytes:
    """Return the clean log with one reading changed after it was written."""
    assert clean.count(ALTERED[2]) == 1
    return clean.replace(ALTERED[2], ALTERED[3])


def _line(name: str, folder: Path) -> str:
    kept = told(replayed(name, folder))
    return f'{name} = {{ head = "{kept["head"]}", ended = "{kept["ended"]}" }}\n'


def main() -> None:
    """Write the heads of all samples and the logs that are kept whole, and say how long it took."""
    began = time.perf_counter()
    with TemporaryDirectory() as at, ProcessPoolExecutor(2) as pool:
        folder = Path(at)
        lines = list(pool.map(partial(_line, folder=folder), NAMES))
        for name in KEPT:
            (SAMPLES / f"{name}.toml").write_bytes((folder / f"{name}.toml").read_bytes())
        (SAMPLES / f"{ALTERED[1]}.toml").write_bytes(altered((folder / f"{ALTERED[0]}.toml").read_bytes()))
    about = "# What playing the answers files gives: the head of each log's chain, and how its job ended.\n"
    HEADS.write_text(about + "".join(lines), encoding="utf-8")
    sys.stdout.write(f"{len(lines)} samples played in {time.perf_counter() - began:.1f} s\n")


if __name__ == "__main__":
    sys.path.insert(0, str(TOP))
    main()
