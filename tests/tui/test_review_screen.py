"""The review on the screen: the table, moving in it, opening a log at its first bad step, marks, hidden names."""

import shutil
from collections.abc import Iterator
from dataclasses import replace
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from engine.review.desk import Desk
from engine.review.marks import read_marks
from engine.review.row import LogRow
from engine.view.review import review_view
from tests.review.forging import ALTERED, ALTERED_AT, CLEAN, MENDED, REVISION, rebuilt, without
from tests.review.sober import sober
from tests.tui.pressing import until
from tests.tui.screen_help import screen_text
from tui.draw.review import columns_for, head_line, row_line
from tui.review_app import ReviewApp
from tui.screens.asking import AskScreen
from tui.screens.picking import PickScreen
from tui.screens.reading import ReadScreen
from tui.screens.review import ReviewScreen

KEPT = ("grey-heron-clean.toml", "grey-heron-altered.toml")


class QuickReview(ReviewApp):
    """The review with a clock that runs a second at each look, so that no key is a double press."""

    _s = 0.0

    def seconds(self) -> float:
        self._s += 1.0
        return self._s


@pytest.fixture
def logs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a folder of the sample logs and one closed without its dead proof; the index stands beside it."""
    monkeypatch.setattr("engine.review.desk.index_path", lambda: tmp_path / "review.sqlite")
    made = tmp_path / "logs"
    made.mkdir()
    for log in (CLEAN, ALTERED, sober(MENDED)):
        shutil.copy(log, made)
    (made / "unproved.toml").write_bytes(rebuilt(without(event="hold_cleared", step="prove-dead")))
    return made


async def opened(pilot: Pilot[Any]) -> ReviewScreen:
    await until(pilot, lambda: isinstance(pilot.app.screen, ReviewScreen), 1500)
    await pilot.pause()
    assert isinstance(pilot.app.screen, ReviewScreen)
    return pilot.app.screen


async def on(pilot: Pilot[Any], kind: type) -> None:
    await until(pilot, lambda: isinstance(pilot.app.screen, kind), 500)
    await pilot.pause()


def said(pilot: Pilot[Any]) -> str:
    return " ".join(screen_text(pilot.app).split())


async def test_the_worst_log_stands_first_with_what_to_look_at(logs: Path) -> None:
    async with QuickReview(Desk(logs)).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        text = said(pilot)
    assert text.index("grey-heron-altered") < text.index("unproved") < text.index("grey-heron-clean")
    assert f"altered: event {ALTERED_AT}" in text.lower()


async def test_a_log_opens_at_its_first_bad_step_with_the_texts_as_typed(logs: Path) -> None:
    async with QuickReview(Desk(logs)).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await pilot.press("down", "enter")
        await on(pilot, ReadScreen)
        text = said(pilot)
    assert "Look here first: Prove it dead" in text
    assert 'typed "0.00"' in text


async def test_a_log_opens_and_escape_comes_back_to_its_line(logs: Path) -> None:
    async with QuickReview(Desk(logs)).run_test(size=(80, 24)) as pilot:
        table = await opened(pilot)
        await pilot.press("end", "enter")
        await on(pilot, ReadScreen)
        await pilot.press("escape")
        await on(pilot, ReviewScreen)
        assert table.here is not None
        assert table.here.file == "marsh-tern-mended.toml"


async def test_hidden_names_are_nowhere_in_table_or_log(logs: Path) -> None:
    async with QuickReview(Desk(logs)).run_test(size=(120, 40)) as pilot:
        await opened(pilot)
        await pilot.press("n", "end")
        await until(pilot, lambda: "names hidden" in said(pilot))
        table = said(pilot)
        await pilot.press("enter")
        await on(pilot, ReadScreen)
        log = said(pilot)
    for word in ("Marsh", "Fen", "Heron", "heron", "tern"):
        assert word not in table + log


async def test_a_mark_is_written_beside_the_logs_and_shown(logs: Path) -> None:
    before = {p.name: sha256(p.read_bytes()).hexdigest() for p in logs.iterdir()}
    async with QuickReview(Desk(logs), by="L. Heath").run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await pilot.press("end", "m")
        await on(pilot, AskScreen)
        for text in ("88.5", "well done"):
            pilot.app.screen.entry.value = text
            await pilot.press("enter")
            await pilot.pause()
        await on(pilot, ReviewScreen)
        await until(pilot, lambda: bool(read_marks(logs)))
    mark = read_marks(logs)["marsh-tern-mended.toml"]
    assert (mark.mark, mark.note, mark.by) == (88.5, "well done", "L. Heath")
    assert {name: sha256((logs / name).read_bytes()).hexdigest() for name in before} == before


async def test_a_mark_that_was_given_stands_in_the_table_and_is_no_longer_to_be_given(logs: Path) -> None:
    desk = Desk(logs)
    async with QuickReview(desk).run_test(size=(80, 24)) as pilot:
        table = await opened(pilot)
        desk.mark("marsh-tern-mended.toml", "61", "late")
        desk.show = "not marked"
        await pilot.press("n", "n")
        await until(pilot, lambda: len(table.view.lines) == 3)
        assert "only not marked" in said(pilot)
        assert "1 marked" in said(pilot)
        desk.show = "all"
        await pilot.press("n", "n")
        await until(pilot, lambda: len(table.view.lines) == 4)
        cells = next(line.cells for line in table.view.lines if line.file == "marsh-tern-mended.toml")
        assert cells[-1] == "61"


async def test_every_key_of_the_table_stands_at_the_foot(logs: Path) -> None:
    async with QuickReview(Desk(logs)).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        foot = " ".join(" ".join(screen_text(pilot.app).splitlines()[-2:]).split())
    assert foot == (
        "Enter open s sort f show / search m mark a accept clean n names c cohort y history w write page q quit h help"
    )


def test_sorted_by_mark_the_lowest_proposed_mark_stands_first() -> None:
    low, high = (replace(row, asked=10, given=given) for row, given in zip(rows(2), (4, 10), strict=True))
    view = review_view(Desk(Path("none"), rows=[high, low], sort="mark"))
    assert [line.file for line in view.lines] == [low.name, high.name]


async def test_a_mark_that_is_none_is_refused_in_a_sentence(logs: Path) -> None:
    async with QuickReview(Desk(logs)).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await pilot.press("m")
        await on(pilot, AskScreen)
        pilot.app.screen.entry.value = "good"
        await pilot.press("enter", "enter")
        await until(pilot, lambda: '"good" is no mark' in said(pilot))
    assert read_marks(logs) == {}


async def test_clean_logs_are_accepted_after_a_question(logs: Path) -> None:
    async with QuickReview(Desk(logs)).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await pilot.press("a")
        await on(pilot, PickScreen)
        assert "Accept these 2, which have nothing to look at and no mark?" in said(pilot)
        assert "grey-heron-clean.toml, marsh-tern-mended.toml" in said(pilot)
        await pilot.press("1")
        await until(pilot, lambda: len(read_marks(logs)) == 2)


async def test_a_search_shows_only_what_fits_and_says_so(logs: Path) -> None:
    async with QuickReview(Desk(logs)).run_test(size=(80, 24)) as pilot:
        table = await opened(pilot)
        await pilot.press("slash")
        await on(pilot, AskScreen)
        pilot.app.screen.entry.value = "fen"
        await pilot.press("enter")
        await on(pilot, ReviewScreen)
        await until(pilot, lambda: len(table.view.lines) == 1)
        assert '1 of 1 - "fen" - 4 logs' in said(pilot)


async def test_a_page_is_written_into_a_folder_of_its_own(logs: Path) -> None:
    async with QuickReview(Desk(logs)).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await pilot.press("end", "w")
        await until(pilot, (logs / "pages" / "marsh-tern-mended.html").exists, 500)


@pytest.mark.parametrize(
    ("key", "words"), [("c", f"bow-receptacle, revision {REVISION}: 4 logs"), ("y", "Readings over time")]
)
async def test_cohort_and_history_can_be_read(logs: Path, key: str, words: str) -> None:
    async with QuickReview(Desk(logs)).run_test(size=(120, 60)) as pilot:
        await opened(pilot)
        await pilot.press("down", key)
        await on(pilot, ReadScreen)
        assert words in said(pilot)


async def test_marks_that_cannot_be_read_are_told(logs: Path) -> None:
    (logs / "review-marks.toml").write_text("mark = [")
    app = QuickReview(Desk(logs))
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, lambda: "No mark is shown, and none can be given: review-marks.toml" in said(pilot), 1500)
    assert app.faults == []


def rows(count: int) -> Iterator[LogRow]:
    for n in range(count):
        yield LogRow(
            name=f"log-{n:05d}.toml", sha256=f"{n:064x}", chain="whole", trusted=True, ended="closed", clean=True
        )


async def test_of_ten_thousand_logs_only_those_on_the_screen_are_made(monkeypatch: pytest.MonkeyPatch) -> None:
    made: list[str] = []
    view = review_view(Desk(Path("none"), rows=list(rows(10_000))))
    plain = view.lines._make
    view.lines._make = lambda row: made.append(row.name) or plain(row)
    desk = Desk(Path("none"))
    monkeypatch.setattr(desk, "look", lambda *_: None)
    monkeypatch.setattr(desk, "compare", lambda *_: None)
    monkeypatch.setattr("tui.review_app.review_view", lambda _: view)
    async with QuickReview(desk).run_test(size=(80, 24)) as pilot:
        table = await opened(pilot)
        assert len(made) <= 3 * 24
        await pilot.press("end")
        await pilot.pause()
        assert table.here is not None
        assert table.here.file == "log-09999.toml"
        assert len(set(made)) <= 3 * 24
        assert "10000 of 10000" in said(pilot)


@pytest.mark.parametrize("width", [40, 80, 120])
def test_every_line_fits_the_width(width: int) -> None:
    view = review_view(Desk(Path("none"), rows=[next(rows(1))]))
    assert head_line(width).width + 1 <= width
    assert row_line(view.lines[0], width, here=True).width + 1 <= width
    assert columns_for(width)[0] == "log"


def test_a_desk_names_itself_without_its_logs() -> None:
    """The library names each piece of work after its repr: ten thousand lines in it would cost more than the table."""
    assert len(repr(Desk(Path("logs"), rows=tuple(rows(100))))) < 2_000
