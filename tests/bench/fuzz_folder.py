"""Fuzzes a whole folder under review: ``python tests/bench/fuzz_folder.py SECONDS [FIRST_ROUND]``.

Six sober logs lie beside one bad file: a log forged anywhere and sealed anew, bytes that are none, a pipe, an endless
device, a folder or a link under the name of a log, of the marks, of a page. Then all that a desk can do is done. Ends
with status 0 if the sober logs have the same lines as without the bad file, and a page and rows each; else it names
the round, which can be played again.
"""

import os
import random
import sys
import time
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from engine.review import desk as room
from engine.review.audit import audit_file
from engine.review.columns import LOG_COLUMNS, READING_COLUMNS
from engine.review.desk import Desk
from engine.review.export import as_csv, as_jsonl
from engine.review.listed import marked
from engine.review.marks import FILE
from engine.review.paper import BadPaper
from engine.session.scan import scan
from engine.view.log import log_parts
from engine.view.review import review_view
from engine.view.review_lines import cohort_lines, past_lines, rules_lines, table_lines
from tests.review.forging import CLEAN, MENDED, rebuilt
from tests.samples.remake import replayed

SOBER = 6
"""Sober logs in the folder [count]: one more than a spread is told from."""

EVENTS = 110
"""Events that they are cut to [count], so that a round is quick; the forged one is now and then whole."""

NUMBERS = (1e308, -1e308, 5e-324, 1e18, 10**18, -1, 0, 0.0, float("inf"), float("nan"), 2**63 - 1, 1e16)
TEXTS = (
    "", " ", "\x00", "\x1b[2J\x1b[31m", "\u202ezz", "zzz", "10 AWG", "9" * 150, "1e308", "-1", "OL", "2026-05-02",
    "9999-12-31T23:59:59+14:00", "0001-01-01T00:00:00+00:00", "2026-05-02T08:49:40", "../../x", "CON", "a" * 5000,
    "<script>alert(1)</script>", "=1+1", "\ud7ff", "𝟙𝟚", "fail", "evidence", "prove-dead",
)  # fmt: skip


FIGURES = ["number", "number", "digit", "raw", "at"]
"""What a forger of a reading changes first, the value itself twice as often."""


def forged(number: random.Random, source: Path, most: int) -> bytes:
    """Return a log with a few values of its events or of its header changed, and sealed anew."""

    def change(events: list[dict]) -> list[dict]:
        kept = events[:most]
        for _ in range(number.randint(1, 4)):
            at = number.randrange(len(kept))
            dice = number.random()
            if dice < 0.1:
                kept.insert(number.randrange(len(kept) + 1), dict(kept[at]))
            elif dice < 0.2:
                del kept[at]
            else:
                read = [n for n, event in enumerate(kept) if "number" in event]
                at, keys = (at, list(kept[at])) if dice < 0.6 or not read else (number.choice(read), FIGURES)
                key = number.choice(keys)
                kept[at] = {**kept[at], key: odd(number, kept[at].get(key, 0.0))}
        return kept

    header = dict(scan(source.read_bytes()).header or {})
    changed = {}
    if number.random() < 0.3:
        key = number.choice(list(header))
        changed = {key: odd(number, header[key])}
        if key == "procedure_text" and number.random() < 0.7:
            text = str(header[key])
            start = number.randrange(len(text))
            changed = {key: text[:start] + number.choice(TEXTS) + text[start + number.randrange(40) :]}
    return rebuilt(change, source, changed, renumber=number.random() < 0.9)


def odd(number: random.Random, was: object) -> object:
    """Return a value that no session would have written; mostly of the same kind as the one before."""
    if isinstance(was, bool):
        return not was
    if isinstance(was, int | float) and number.random() < 0.9:
        return number.choice(NUMBERS)
    if isinstance(was, list) and number.random() < 0.9:
        return [number.choice(TEXTS) for _ in range(number.randrange(4))]
    return number.choice(TEXTS)


def noise(number: random.Random) -> bytes:
    """Return bytes that are no log, or hardly one."""
    data = bytearray(CLEAN.read_bytes()[: number.randrange(1, 6000)])
    for _ in range(number.randrange(1, 30)):
        data[number.randrange(len(data))] = number.randrange(256)
    return bytes(data) if number.random() < 0.8 else os.urandom(number.randrange(3000))


def plant(folder: Path, number: random.Random, mended: Path) -> str:
    """Put one bad file into the folder, and say what."""
    name = number.choice(("zz-bad.toml", "aa bad.toml", FILE, "zz.answers.toml", "index.toml", "rig.toml"))
    path, dice = folder / name, number.random()
    if dice < 0.7:
        whole = number.random() < 0.15
        name = "zz-bad.toml" if name == FILE else name
        try:
            data = forged(number, number.choice((CLEAN, mended)), 10_000 if whole else EVENTS)
        except (ValueError, TypeError, OverflowError):  # such a value cannot even be written
            return plant(folder, number, mended)
        (folder / name).write_bytes(data)
        return "forged"
    if dice < 0.85:
        path.write_bytes(noise(number))
        return "noise"
    kinds: dict[str, Callable[[], object]] = {
        "pipe": lambda: os.mkfifo(path), "device": lambda: path.symlink_to("/dev/zero"), "folder": path.mkdir,
        "dangling": lambda: path.symlink_to(folder / "nowhere"), "itself": lambda: path.symlink_to(path),
        "large": lambda: (path.touch(), os.truncate(path, 10**11)),
    }  # fmt: skip
    kind = number.choice(list(kinds))
    kinds[kind]()
    return kind


def everything(folder: Path, pages: Path) -> dict[str, tuple]:
    """Do all that a desk does, and return the lines of the logs by name, without what comes from the others."""
    desk = Desk(folder)
    desk.look(jobs=1)
    desk.compare()
    told = [*table_lines(review_view(desk), why=True)]
    told += [line for cohort in desk.cohorts() for line in cohort_lines(cohort)]
    told += [line for asset in {r.asset for r in desk.rows if r.asset} for line in past_lines(desk.past(asset))]
    told += rules_lines(desk, "federal")
    told += as_csv(READING_COLUMNS, desk.readings())
    told += as_jsonl(LOG_COLUMNS, marked(desk.listed(), desk.rubric))
    assert {row.log for row in desk.readings()} == {row.name for row in desk.rows}
    for row in desk.rows:
        log_parts(audit_file(folder / row.name))
    told += desk.pages(pages)
    try:
        desk.accept_clean("a fuzzer")
    except BadPaper:
        assert desk.bad_marks
    desk.hidden = True
    told += [*table_lines(review_view(desk))]
    return {row.name: (row.sha256, row.first_bad, row.trusted, row.fails, row.differs, row.order) for row in desk.rows}


def sober(folder: Path) -> None:
    """Write the sober logs: the same job with other figures, cut to its first part."""
    for n in range(SOBER):
        number = random.Random(n)

        def change(events: list[dict], number: random.Random = number) -> list[dict]:
            for event in events:
                if event.get("event") == "reading" and isinstance(event.get("number"), float):
                    event["number"] *= number.uniform(0.98, 1.02)
            return events[:EVENTS]

        (folder / f"sober-{n}.toml").write_bytes(rebuilt(change))


def one_round(seed: int, place: Path, before: dict[str, tuple]) -> str:
    """Plant one bad file, look at everything, take it away again; return what it was."""
    folder, pages, number = place / "logs", place / "pages", random.Random(seed)
    standing = set(folder.iterdir())
    kind = plant(folder, number, place / f"{MENDED}.toml")
    try:
        rows = everything(folder, pages)
        assert {name: row for name, row in rows.items() if name.startswith("sober")} == before
        assert all((pages / f"sober-{n}.html").is_file() for n in range(SOBER))
    finally:
        for path in set(folder.iterdir()) - standing:
            path.rmdir() if path.is_dir() and not path.is_symlink() else path.unlink()
    return kind


def main() -> int:
    """Play rounds for so many seconds."""
    seconds, first = (float(sys.argv[1]) if len(sys.argv) > 1 else 20.0), int((sys.argv[2:] or ["0"])[0])
    done, seed, ends = Counter[str](), first, time.monotonic() + seconds
    with TemporaryDirectory() as name:
        place = Path(name)
        room.index_path = lambda: place / "index.sqlite"
        (place / "logs").mkdir()
        replayed(MENDED, place)
        sober(place / "logs")
        before = everything(place / "logs", place / "pages")
        (place / "logs" / FILE).unlink(missing_ok=True)
        while time.monotonic() < ends:
            try:
                done[one_round(seed, place, before)] += 1
            except BaseException:
                print(f"fuzz_folder: FOUND in round {seed}")
                raise
            seed += 1
    print(f"fuzz_folder: {done.total()} rounds from {first}, {dict(done)}: clean")
    return 0


if __name__ == "__main__":
    sys.exit(main())
