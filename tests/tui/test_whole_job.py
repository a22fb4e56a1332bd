"""The whole bow-receptacle job through the app, key by key; and every step of it whole at every size."""

import pytest

from engine.session.answer import Understood, understand
from engine.session.apply import apply
from engine.session.events import Stamped
from engine.session.gates import current_step, open_entries
from engine.session.runner import Runner
from engine.view.models import StepView
from tests.bench.bench_keying import GOAL_MIN, keyed
from tests.tui.pressing import QuickApp, do_one, opened, press_to_the_end, settled
from tests.tui.screen_help import SIZES, OneScreen, screen_text
from tests.tui.walker import GOOD, WAITED_S, answer, bow_receptacle, commands, runner, view_of, walk
from tui.awaited import Awaited
from tui.draw.pages import Room, paged
from tui.draw.step import place_lines, step_blocks
from tui.screens.closing import ClosingScreen
from tui.screens.step import StepScreen

MOST_PAGES_OF_A_PLAN = {(40, 12): 3, (60, 20): 2, (80, 24): 1}
MOST_PAGES = {(40, 12): 3, (60, 20): 2}
"""Pages that a step may need in a small window; one in any other."""


async def test_the_job_is_keyed_from_the_first_fact_to_closed() -> None:
    job = runner()
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await press_to_the_end(pilot, job)
        assert "closed, clean" in screen_text(pilot.app)
        assert pilot.app.faults == []
    assert job.state.closed
    assert job.state.clean


async def test_the_job_is_keyed_with_the_values_of_a_step_in_one_line() -> None:
    job = runner()
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        lines = 0
        while not isinstance(pilot.app.screen, ClosingScreen):
            screen = pilot.app.screen
            if isinstance(screen, StepScreen) and screen.awaited is Awaited.TYPED and screen.read_to_end:
                screen.entry.value = line_of(job, screen.view.id)
                lines += ";" in screen.entry.value
                await pilot.press("enter")
                await settled(pilot)
            else:
                await do_one(pilot, job)
        await pilot.press("g")
        await settled(pilot)
        assert pilot.app.faults == []
    assert job.state.clean
    assert lines > 20


def test_that_way_it_takes_six_minutes_of_keyboard_at_most() -> None:
    """By the keystroke-level model at a usual pace; that a line is one argument, with one thought, is from memory."""
    assert keyed(runner()).in_lines.seconds() <= 60 * GOAL_MIN


def line_of(job: Runner, step: str) -> str:
    """Return the values of a step that are still to be typed, in one line, up to one whose time is not there yet."""
    ahead, texts = job.state.copy(), []
    while asked := open_entries(job.procedure, ahead, job.procedure.step_by_id[step]):
        if texts and asked[0].id in WAITED_S:
            break
        texts.append(answer(job, asked[0].id))
        taken = understand(asked[0], step, texts[-1])
        assert isinstance(taken, Understood)
        apply(ahead, Stamped(ahead.count, ahead.last_at, ahead.last_mono, taken.taken))
    return "; ".join(texts)


def words_of(view: StepView) -> list[str]:
    """Return every word that a step must show, in pieces that a line end may part."""
    texts = [view.title, view.action, view.why, *view.stop_if, *(w.text for w in view.warnings)]
    texts += [w.word for w in view.warnings]
    texts += [r.ask for r in view.rows] + [r.shown for r in view.rows] + [p.name for p in view.parts]
    texts += [v.sentence for v in view.verdicts] + [v.label for v in view.verdicts]
    if view.connector:
        texts += [view.connector.title, view.connector.seen_from, *(p.sentence for p in view.connector.positions)]
    if view.plan:
        texts += [view.plan.found_sentence, view.plan.planned_sentence, view.plan.weakest, view.plan.remedy]
        texts += [part.name for part in view.plan.chain]
    return [word for text in texts for word in text.split()]


@pytest.fixture(scope="module")
def views() -> list[StepView]:
    """Return every step as it is met, and once more with all its values given and all its verdicts."""
    job: Runner = runner(bow_receptacle())
    met: list[StepView] = []
    while step := current_step(job.procedure, job.state, job.clock.glance()):
        met.append(view_of(job, step))
        for command in commands(job, step):
            last = view_of(job, step)
            job.send(command)
        met.append(last)
    return met


@pytest.mark.parametrize("size", SIZES)
async def test_no_word_of_any_step_is_cut_off(size: tuple[int, int], views: list[StepView]) -> None:
    screen = StepScreen(views[0])
    async with OneScreen(screen).run_test(size=size) as pilot:
        for view in views:
            screen.show_step(view)
            screen.page, screen.read_to_end = 0, False
            screen.refill()
            await pilot.pause()
            seen = screen_text(pilot.app)
            pages = screen.page_count
            while not screen.read_to_end:
                screen.action_next_page()
                await pilot.pause()
                seen += "\n" + screen_text(pilot.app)
            assert pages <= MOST_PAGES.get(size, 1), (view.id, pages)
            missing = [word for word in words_of(view) if word not in seen]
            assert not missing, (view.id, missing)


@pytest.mark.parametrize("size", SIZES)
async def test_a_step_that_is_shut_says_what_it_needs(size: tuple[int, int]) -> None:
    job = runner()
    view = view_of(job, "prove-dead")
    assert view.status == "shut"
    async with OneScreen(StepScreen(view)).run_test(size=size) as pilot:
        seen = screen_text(pilot.app)
        while not pilot.app.screen.read_to_end:
            await pilot.press("pagedown")
            await pilot.pause()
            seen += "\n" + screen_text(pilot.app)
        first = " ".join(view.shut[0].sentence.split())
        assert f"{first[:1].upper()}{first[1:]}." in " ".join(seen.split())


@pytest.mark.parametrize("size", MOST_PAGES_OF_A_PLAN, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize(
    "worse",
    [{"new_wire": "8 AWG"}, {"new_wire": "10 AWG", "new_breaker": "40"}, {"new_receptacle": "30", "new_plug": "30"}],
    ids=["marginal wire", "thin wire", "weak receptacle"],
)
def test_a_plan_that_fails_fits_too(
    size: tuple[int, int], worse: dict[str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    for entry, text in worse.items():
        monkeypatch.setitem(GOOD, entry, text)
    job = runner()
    walk(job, "plan-verdict")
    view = view_of(job, "plan-verdict")
    room = Room(*size)
    rows = room.height - 1 - len(place_lines(view, room))
    assert view.verdicts[0].verdict != "pass"
    assert len(paged(step_blocks(view, room), rows, room.height - 2)) <= MOST_PAGES_OF_A_PLAN[size]


def test_views_cover_the_job(views: list[StepView]) -> None:
    assert len({view.id for view in views}) > 40
    assert any(view.connector for view in views)
    assert any(view.plan for view in views)
