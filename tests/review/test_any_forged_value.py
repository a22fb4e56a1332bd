"""Whatever a forger writes under any key of any event, a folder is looked at to its end: never a traceback."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from engine.review.audit import audit
from engine.review.kept import keep, pack
from engine.review.page.render import page
from engine.review.readings import readings
from engine.review.report import report_lines
from engine.session.clock import GivenClock
from engine.session.gates import applicable
from engine.session.runner import Runner
from engine.session.scan import scan
from engine.session.shelf import shelf
from engine.session.trouble import LogRefused
from engine.view.come_back import return_view
from engine.view.home import home_view
from engine.view.log import log_parts
from engine.view.step import step_view
from tests.review.forging import CLEAN, MENDED, rebuilt
from tests.samples.remake import Sample, replayed

NOW = datetime(2026, 5, 2, 12, tzinfo=UTC)


def first_of_each() -> dict[str, tuple[str, dict]]:
    """Return by name the first event of each kind in two samples, with the sample that it stands in."""
    found: dict[str, tuple[str, dict]] = {}
    with TemporaryDirectory() as folder:
        for name in (CLEAN.stem, MENDED):
            for event in scan(replayed(name, Path(folder)).read_bytes()).events:
                found.setdefault(str(event["event"]), (name, event))
    return found


def odd(value: object) -> Iterator[object]:
    """Yield values of the same type that no session would have written."""
    if isinstance(value, bool):
        yield not value
    elif isinstance(value, str):
        yield from ("", "zzz\x00\x1b[2J\u202e")
    elif isinstance(value, int | float):
        yield from (-1, 2**62)
    elif isinstance(value, list):
        yield ["zzz: zzz", ""]


CASES = [
    pytest.param(name, event["n"], key, id=f"{kind} {key}")
    for kind, (name, event) in first_of_each().items()
    for key in event
    if key not in ("event", "n", "digest", "mono", "more")
]


def look_at(data: bytes, folder: Path) -> None:
    log = folder / "forged.toml"
    log.write_bytes(data)
    found = audit(data, log.name)
    pack(keep(found, "0" * 64))
    readings(found)
    report_lines(found)
    log_parts(found)
    page(found)
    home_view(shelf(folder), (), folder, NOW)
    try:
        runner = Runner.resume(log, GivenClock(NOW, 5))
    except LogRefused:
        return
    try:
        return_view(runner.procedure, runner.state, NOW)
        for step in applicable(runner.procedure, runner.state)[::8]:
            step_view(runner.procedure, runner.state, step.id, NOW)
    finally:
        runner.close()


@pytest.mark.parametrize(("name", "n", "key"), CASES)
def test_no_value_of_an_event_ends_a_look(name: str, n: int, key: str, tmp_path: Path, sample: Sample) -> None:
    path = sample(name)
    was = next(e for e in scan(path.read_bytes()).events if e["n"] == n)[key]
    for value in odd(was):
        look_at(rebuilt(lambda es, v=value: [{**e, key: v} if e["n"] == n else e for e in es], path), tmp_path)
