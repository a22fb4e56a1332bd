"""Makes the shipped sample logs anew from the answers files beside them: python tests/samples/remake.py."""

import sys
import tempfile
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
SAMPLES = TOP / "sample_sessions"

ALTERED = ("grey-heron-clean", "grey-heron-altered", b'raw = "24.36"', b'raw = "24.06"')
"""The altered sample is the clean one with a reading changed afterwards, as by hand: from, to, old, new bytes."""

OPEN = ("grey-heron-facts",)
"""Answers that end before the job does: they open the demo and have no log."""


def replayed(answers_file: Path, folder: Path) -> Path:
    """Play one answers file and return its log."""
    from engine.procedure.load import load
    from engine.session.answers import load_answers
    from engine.session.play import play
    from engine.shipped import find

    answers = load_answers(answers_file)
    played = play(load(find(answers.procedure)), answers, folder)
    if played.stopped_at:
        raise SystemExit(f"{answers_file.name}: {played.stopped_at}")
    return played.path


def altered(clean: bytes) -> bytes:
    """Return the clean log with one reading changed after it was written."""
    assert clean.count(ALTERED[2]) == 1
    return clean.replace(ALTERED[2], ALTERED[3])


def main() -> None:
    """Write every sample log."""
    for answers_file in sorted(SAMPLES.glob("*.answers.toml")):
        name = answers_file.name.removesuffix(".answers.toml")
        if name in OPEN:
            continue
        with tempfile.TemporaryDirectory() as folder:
            (SAMPLES / f"{name}.toml").write_bytes(replayed(answers_file, Path(folder)).read_bytes())
    (SAMPLES / f"{ALTERED[1]}.toml").write_bytes(altered((SAMPLES / f"{ALTERED[0]}.toml").read_bytes()))


if __name__ == "__main__":
    sys.path.insert(0, str(TOP))
    main()
