"""A job through the app: refusals, questions, a full disk, corrections, notes, leaving, stopping, coming back."""

import threading
from typing import Any

import pytest

from engine.session.runner import Runner
from tests.tui.pressing import QuickApp, do_one, flat, on, opened, settled, typed, until
from tests.tui.screen_help import screen_text
from tests.tui.walker import MemoryLog, runner, walk
from tui.screens.agreeing import AgreeScreen
from tui.screens.asking import AskScreen
from tui.screens.closing import ClosingScreen
from tui.screens.coming_back import ReturnScreen
from tui.screens.picking import PickScreen
from tui.screens.reading import ReadScreen
from tui.screens.step import StepScreen


@pytest.fixture
def job() -> Runner:
    return runner()


async def test_a_recorded_value_stands_on_the_step_and_the_next_is_asked(job: Runner) -> None:
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await typed(pilot, "48")
        await settled(pilot)
        assert "Current of the new motor at full power: 48 A" in flat(pilot)
        assert "Recorded." in flat(pilot)
        assert pilot.app.screen.asked.id == "nominal"


async def test_a_value_in_a_wrong_unit_is_refused_and_kept_for_editing(job: Runner) -> None:
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await typed(pilot, "48 V")
        await settled(pilot)
        assert "motor_current" not in job.state.given
        assert pilot.app.screen.entry.value == "48 V"
        assert "no unit of a current" in flat(pilot) or "is a voltage" in flat(pilot)


async def test_a_slip_is_asked_with_two_keys_and_the_answer_is_recorded(job: Runner) -> None:
    walk(job, "old-run")
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await typed(pilot, "8 AWG")
        await settled(pilot)
        await typed(pilot, "0.52")
        screen = await on(pilot, PickScreen)
        assert len(screen.answers()) >= 2
        await pilot.press("1")
        await on(pilot, StepScreen)
        await settled(pilot)
        assert job.state.given["run_out"].taken.number == pytest.approx(0.52)


@pytest.mark.parametrize(("demo", "word"), [(True, "demo"), (False, "resume")], ids=["demo", "a job"])
async def test_who_leaves_reads_in_the_shell_how_to_go_on(
    demo: bool, word: str, capsys: pytest.CaptureFixture[str]
) -> None:
    job = runner(demo=demo)
    app = QuickApp(job)
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        app.end()
    assert capsys.readouterr().err == f"Everything recorded is in {job.path}\nTo go on: tugtest {word}\n"


async def test_several_values_are_taken_from_one_line(job: Runner) -> None:
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await typed(pilot, "48; 24")
        await settled(pilot)
        assert job.state.given["nominal"].taken.number == 24


async def test_a_full_disk_keeps_the_entry_and_offers_another_folder(job: Runner, tmp_path: Any) -> None:
    job._journal.full = True
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await typed(pilot, "48")
        await on(pilot, AskScreen)
        assert "Not recorded: the disk is full" in flat(pilot)
        await typed(pilot, str(tmp_path / "stick"))
        await on(pilot, AgreeScreen)
        assert "stick is not there." in flat(pilot)
        assert not (tmp_path / "stick").exists()
        await pilot.press("g")
        await on(pilot, StepScreen)
        await settled(pilot)
        assert job.state.given["motor_current"].taken.number == 48
        assert (tmp_path / "stick").is_dir()


async def test_a_folder_that_is_there_is_taken_without_a_question(job: Runner, tmp_path: Any) -> None:
    job._journal.full = True
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await typed(pilot, "48")
        await on(pilot, AskScreen)
        await typed(pilot, str(tmp_path))
        await on(pilot, StepScreen)
        await settled(pilot)
        assert job.state.given["motor_current"].taken.number == 48


async def test_a_word_that_is_no_folder_makes_none_without_a_yes(
    job: Runner, tmp_path: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    job._journal.full = True
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await typed(pilot, "48")
        await on(pilot, AskScreen)
        await typed(pilot, "again")
        await on(pilot, AgreeScreen)
        await pilot.press("escape")
        await on(pilot, AskScreen)
        assert "Not recorded: the disk is full" in flat(pilot)
    assert list(tmp_path.iterdir()) == []
    assert job.state.given == {}


class SlowLog(MemoryLog):
    """A log whose next block is on its way to the disk until ``through`` is set."""

    def __init__(self) -> None:
        super().__init__()
        self.writing, self.through = threading.Event(), threading.Event()

    def append(self, items: list[object]) -> None:
        self.writing.set()
        assert self.through.wait(10)
        super().append(items)


@pytest.mark.parametrize(
    ("step", "said", "keys"),
    [
        ("motor", "Your note is recorded.", ["escape", "n", *"more", "enter"]),
        ("motor", "Recorded.", [*"24", "enter"]),
        ("old-parts", "Recorded.", ["f4", "2"]),
        ("vapour", "Recorded.", ["1"]),
        ("plug-out", "Your note is recorded.", ["enter"]),
    ],
)
async def test_no_word_of_success_stands_while_the_next_command_is_written(
    job: Runner, step: str, said: str, keys: list[str]
) -> None:
    walk(job, step)
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        screen = pilot.app.screen
        assert isinstance(screen, StepScreen)
        screen.show_step(screen.view, said)
        assert said in flat(pilot)
        job._journal = slow = SlowLog()
        try:
            for key in keys:
                await pilot.press(key)
                await pilot.pause()
            await until(pilot, slow.writing.is_set)
            assert pilot.app.screen is screen
            assert said not in flat(pilot)
            assert "ecorded" not in flat(pilot)
        finally:
            slow.through.set()
        await settled(pilot)
        assert slow.count


async def test_a_full_disk_that_is_left_so_gives_the_text_back(job: Runner) -> None:
    job._journal.full = True
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await typed(pilot, "48")
        await on(pilot, AskScreen)
        await pilot.press("escape")
        await on(pilot, StepScreen)
        await settled(pilot)
        assert pilot.app.screen.entry.value == "48"
        assert job.state.given == {}


async def test_not_measured_takes_a_reason_from_a_list(job: Runner) -> None:
    walk(job, "old-parts")
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await pilot.press("f4")
        await on(pilot, PickScreen)
        await pilot.press("2")
        await on(pilot, StepScreen)
        await settled(pilot)
        assert job.state.absent["old_receptacle"] == "cannot be read"


async def test_a_note_is_recorded_and_the_half_typed_value_stays(job: Runner) -> None:
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        pilot.app.screen.entry.value = "4"
        await pilot.press("escape", "n")
        await on(pilot, AskScreen)
        await typed(pilot, "label is scratched")
        await on(pilot, StepScreen)
        await settled(pilot)
        assert [text for _, text, _ in job.state.notes] == ["label is scratched"] or job.state.notes
        assert pilot.app.screen.entry.value == "4"


async def test_back_and_forward_lose_nothing(job: Runner) -> None:
    walk(job, "old-run")
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await pilot.press("escape", "b")
        await settled(pilot)
        first = pilot.app.screen.view.id
        await pilot.press("b")
        await settled(pilot)
        assert pilot.app.screen.view.id != first
        await pilot.press("enter")
        await settled(pilot)
        await pilot.press("space")
        await settled(pilot)
        assert pilot.app.screen.view.id == "old-run"


async def test_redo_asks_first_and_then_opens_the_step(job: Runner) -> None:
    walk(job, "old-run")
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await pilot.press("escape", "b")
        await settled(pilot)
        step = pilot.app.screen.view.id
        await pilot.press("r")
        await on(pilot, AgreeScreen)
        await pilot.press("g")
        await on(pilot, StepScreen)
        await settled(pilot)
        assert pilot.app.screen.view.id == step
        assert step not in job.state.done


async def test_a_deviation_needs_a_reason_of_ten_letters_and_initials(job: Runner) -> None:
    walk(job, "vapour")
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        for answer in ("2", "1"):
            await pilot.press(answer)
            await settled(pilot)
        await pilot.press("d")
        await on(pilot, AskScreen)
        await typed(pilot, "too short")
        assert "10 characters or more" in flat(pilot)
        await typed(pilot, "one hatch is stuck, fan on")
        await typed(pilot, "AB")
        await on(pilot, StepScreen)
        await settled(pilot)
        assert "deviation: one hatch is stuck, fan on" in flat(pilot)


async def test_the_plan_the_sum_and_the_volts_can_be_read(job: Runner) -> None:
    walk(job, "plan-verdict")
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        for key, words in (("s", "window = [load"), ("p", "run to the bow"), ("w", "6 AWG"), ("v", "lost here")):
            await pilot.press(key)
            await on(pilot, ReadScreen)
            assert words in flat(pilot)
            await pilot.press("escape")
            await on(pilot, StepScreen)


@pytest.mark.parametrize("key", ["f1", "question_mark"])
async def test_help_is_one_key_away(job: Runner, key: str) -> None:
    walk(job, "plan-verdict")
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await pilot.press(key)
        await on(pilot, ReadScreen)
        assert "Help" in flat(pilot)


async def test_leaving_writes_a_line_and_ends_the_program(job: Runner) -> None:
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await pilot.press("escape", "l")
        await on(pilot, AskScreen)
        await typed(pilot, "left hand wire still loose")
        await until(pilot, lambda: job.state.left_line)
        assert job.state.left_line == "left hand wire still loose"


async def test_stopping_asks_why_and_how_it_is_left(job: Runner) -> None:
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await pilot.press("escape", "x")
        await on(pilot, AskScreen)
        await typed(pilot, "the hull is cracked at the bow")
        await typed(pilot, "batteries off, two wires loose, tag on")
        await on(pilot, AgreeScreen)
        await pilot.press("g")
        await on(pilot, ClosingScreen)
        assert "stopped, unfinished" in flat(pilot)
        assert job.state.stopped


async def test_after_a_break_the_last_entries_are_read_before_going_on(job: Runner) -> None:
    walk(job, "lift-negative")
    job.resumed = True
    job.state.away_s, job.state.left_line = 3600.0, "plug is drawn"
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await on(pilot, ReturnScreen)
        text = flat(pilot)
        assert "You wrote: plug is drawn" in text
        assert "Look at the last two" in text
        assert "[DEMO]" in text
        await pilot.press("enter")
        assert isinstance(pilot.app.screen, ReturnScreen)
        await pilot.press("g")
        await on(pilot, StepScreen)


async def test_another_person_is_recorded(job: Runner) -> None:
    walk(job, "lift-negative")
    job.resumed = True
    job.state.away_s = 3600.0
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await on(pilot, ReturnScreen)
        await pilot.press("o")
        await on(pilot, AskScreen)
        await typed(pilot, "C. D.")
        await until(pilot, lambda: job.state.person == "C. D.")


async def test_the_palette_offers_answers_and_what_can_work(job: Runner) -> None:
    walk(job, "vapour")
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await pilot.press("ctrl+p")
        await until(pilot, lambda: "answer: yes" in screen_text(pilot.app))
        assert "step: go through" not in screen_text(pilot.app)
        assert "step: note" in screen_text(pilot.app)


async def test_a_mistake_in_the_program_is_told_and_stops_nothing(job: Runner, monkeypatch: pytest.MonkeyPatch) -> None:
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        monkeypatch.setattr(pilot.app.desk.job, "send", lambda command: 1 / 0)
        await typed(pilot, "48")
        await until(pilot, lambda: pilot.app.faults)
        await pilot.pause()
        assert "The program made a mistake" in flat(pilot)
        assert isinstance(pilot.app.screen, StepScreen)


async def test_closing_names_what_is_left_and_a_digit_goes_there(job: Runner) -> None:
    walk(job)
    job.state.done.pop("label")
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        assert isinstance(pilot.app.screen, StepScreen)
        assert pilot.app.screen.view.id == "label"


async def test_a_job_that_has_ended_can_be_read_and_its_look_answered(job: Runner) -> None:
    walk(job)
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await on(pilot, ClosingScreen)
        await pilot.press("g")
        await settled(pilot)
        await until(pilot, lambda: pilot.app.screen.view.ended)
        assert "Head of the log:" in flat(pilot)
        await pilot.press("1")
        await on(pilot, AskScreen)
        await typed(pilot, "cool, dry, tight")
        await typed(pilot, "AB")
        await on(pilot, ClosingScreen)
        await until(pilot, lambda: any(due.outcome for due in job.state.due.values()))


async def test_a_demo_is_marked_on_every_screen_over_its_steps() -> None:
    job = runner(demo=True)
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await do_one(pilot, job)
        for keys in (("escape", "n"), ("escape", "c"), ("escape", "h"), ("escape", "x"), ("escape", "l")):
            await pilot.press(*keys)
            await pilot.pause(0.2)
            assert screen_text(pilot.app).lstrip().startswith("[DEMO]"), keys
            await pilot.press("escape")
            await pilot.pause(0.2)
