"""The step screen alone: what it shows at each size, which keys it takes, what it reports."""

import pytest

from engine.view.models import ConnectorPicture, PartRow, PositionRow, Preview, Shut
from tests.tui.screen_help import SIZES, OneScreen, row, screen_text, step, verdict, warning
from tui.screens.step import StepScreen


def told(app: OneScreen) -> list:
    """Return what was reported."""
    return app.told


def flat(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize("size", SIZES)
async def test_a_plain_step_is_whole_at_every_size(size: tuple[int, int]) -> None:
    view = step(warnings=(warning(),))
    async with OneScreen(StepScreen(view)).run_test(size=size) as pilot:
        text = flat(screen_text(pilot.app))
        for part in (view.place, view.title, view.action):
            assert part in text


async def test_the_order_is_place_warning_action_why_values_verdict_keys() -> None:
    view = step(warnings=(warning(),), rows=(row(state="given", shown="25.1 V"),), verdicts=(verdict(),))
    async with OneScreen(StepScreen(view)).run_test(size=(80, 24)) as pilot:
        text = screen_text(pilot.app)
        parts = [view.place, "WARNING", "Take the most", "Why:", "Volts across", "[MARGINAL ~]", " Enter "]
        places = [text.index(part) for part in parts]
        assert places == sorted(places)


@pytest.mark.parametrize("key", ["enter", "space"])
async def test_one_key_ends_a_plain_step(key: str) -> None:
    async with OneScreen(StepScreen(step())).run_test() as pilot:
        await pilot.press(key)
        assert [type(message) for message in told(pilot.app)] == [StepScreen.Confirmed]


async def test_a_second_press_within_the_time_of_a_resting_glove_is_not_taken() -> None:
    app = OneScreen(StepScreen(step(verdicts=(verdict(),))))
    app.seconds = lambda: 5.0
    async with app.run_test() as pilot:
        await pilot.press("s", "s", "s")
        assert len(told(app)) == 1


async def test_digits_may_be_typed_as_fast_as_one_likes() -> None:
    app = OneScreen(StepScreen(step(rows=(row(),), ready=False)))
    app.seconds = lambda: 5.0
    async with app.run_test() as pilot:
        await pilot.press("2", "2", "2")
        assert app.one.entry.value == "222"


async def test_enter_after_a_value_counts_however_soon_it_follows_another() -> None:
    app = OneScreen(StepScreen(step(rows=(row(),), ready=False)))
    app.seconds = lambda: 5.0
    async with app.run_test() as pilot:
        await pilot.press("enter", "2", "enter", "enter")
        (entered,) = told(app)
        assert entered.text == "2"


async def test_a_value_is_reported_as_typed() -> None:
    async with OneScreen(StepScreen(step(rows=(row(),), ready=False))).run_test() as pilot:
        await pilot.press("2", "4", "full_stop", "9", "enter")
        (entered,) = told(pilot.app)
        assert (entered.entry, entered.text) == ("bank-volts", "24.9")


async def test_enter_alone_takes_the_words_that_are_offered() -> None:
    offering = row(unit="words", hint="Enter alone takes: 6 AWG; 2 May", offer="6 AWG; 2 May", known="seen")
    async with OneScreen(StepScreen(step(rows=(offering,), ready=False))).run_test() as pilot:
        assert "Enter alone takes: 6 AWG; 2 May\n" in screen_text(pilot.app)
        await pilot.press("enter")
        (entered,) = told(pilot.app)
        assert (entered.entry, entered.text) == ("bank-volts", "6 AWG; 2 May")


async def test_up_brings_the_offered_words_into_the_entry_to_be_changed() -> None:
    offering = row(unit="words", hint="Enter alone takes: 6 AWG; 2 May", offer="6 AWG; 2 May")
    async with OneScreen(StepScreen(step(rows=(offering,), ready=False))).run_test() as pilot:
        assert "Up  change these words" in screen_text(pilot.app)
        await pilot.press("up", "backspace", "backspace", "backspace", "J", "u", "n", "e", "up", "enter")
        (entered,) = told(pilot.app)
        assert entered.text == "6 AWG; 2 June"


async def test_words_that_are_typed_stand_in_the_place_of_those_offered() -> None:
    offering = row(unit="words", hint="Enter alone takes: 6 AWG", offer="6 AWG")
    async with OneScreen(StepScreen(step(rows=(offering,), ready=False))).run_test() as pilot:
        await pilot.press(*"other", "enter")
        (entered,) = told(pilot.app)
        assert entered.text == "other"


async def test_several_values_in_one_line_are_reported_together() -> None:
    view = step(rows=(row("a"), row("b")), ready=False)
    async with OneScreen(StepScreen(view)).run_test() as pilot:
        pilot.app.one.entry.value = "24.9; 23.8"
        await pilot.press("enter")
        (entered,) = told(pilot.app)
        assert (entered.step, entered.text) == ("lift-negative", "24.9; 23.8")


async def test_every_printable_key_is_text_in_an_entry() -> None:
    async with OneScreen(StepScreen(step(rows=(row(),), ready=False))).run_test() as pilot:
        await pilot.press("n", "b", "x", "g", "space", "h")
        assert pilot.app.one.entry.value == "nbxg h"
        assert told(pilot.app) == []


@pytest.mark.parametrize("keys", [("escape", "n"), ("f2",)])
async def test_a_command_in_the_middle_of_an_entry_keeps_the_text(keys: tuple[str, ...]) -> None:
    async with OneScreen(StepScreen(step(rows=(row(),), ready=False))).run_test() as pilot:
        await pilot.press("2", "4", *keys)
        (wished,) = told(pilot.app)
        assert wished.wish == "note"
        assert pilot.app.one.entry.value == "24"


async def test_escape_shows_the_commands_and_closes_them_again() -> None:
    async with OneScreen(StepScreen(step(rows=(row(),), ready=False))).run_test(size=(80, 24)) as pilot:
        assert "not measured" not in screen_text(pilot.app)
        await pilot.press("escape")
        assert "not measured" in screen_text(pilot.app)
        await pilot.press("escape", "7")
        assert pilot.app.one.entry.value == "7"


@pytest.mark.parametrize("key", ["enter", "space"])
async def test_the_usual_key_does_not_go_through_a_hold(key: str) -> None:
    async with OneScreen(StepScreen(step(hold="firm"))).run_test() as pilot:
        await pilot.press(key)
        assert told(pilot.app) == []
        assert "press g to go through" in flat(screen_text(pilot.app))


async def test_g_goes_through_a_hold_that_is_open() -> None:
    async with OneScreen(StepScreen(step(hold="hold"))).run_test() as pilot:
        await pilot.press("g")
        assert [type(message) for message in told(pilot.app)] == [StepScreen.Confirmed]


async def test_g_does_nothing_at_a_hold_without_its_evidence() -> None:
    bad = verdict("fail", needs="evidence")
    view = step(hold="firm", ready=False, wants="only evidence opens this hold", verdicts=(bad,))
    async with OneScreen(StepScreen(view)).run_test() as pilot:
        await pilot.press("g")
        assert told(pilot.app) == []
        assert "Only evidence opens this hold." in screen_text(pilot.app)


async def test_a_hold_says_so_in_words() -> None:
    async with OneScreen(StepScreen(step(hold="firm"))).run_test() as pilot:
        assert "[FIRM HOLD]" in screen_text(pilot.app)


@pytest.mark.parametrize(("key", "said"), [("1", "yes"), ("y", "yes"), ("2", "no"), ("n", "no")])
async def test_yes_and_no_have_a_letter_and_a_digit(key: str, said: str) -> None:
    view = step(rows=(row(choices=("yes", "no")),), ready=False)
    async with OneScreen(StepScreen(view)).run_test() as pilot:
        await pilot.press(key)
        (entered,) = told(pilot.app)
        assert entered.text == said


async def test_a_letter_that_two_choices_share_is_no_answer() -> None:
    view = step(rows=(row(choices=("bright", "brown")),), ready=False)
    async with OneScreen(StepScreen(view)).run_test() as pilot:
        await pilot.press("b")
        assert told(pilot.app) == []


async def test_parts_are_counted_and_have_a_digit_each() -> None:
    parts = (
        PartRow("nut", "Gland nut", "thread to the plug", seen=True),
        PartRow("plate", "Cover plate", "", seen=False),
    )
    async with OneScreen(StepScreen(step(parts=parts, ready=False))).run_test() as pilot:
        assert "On the wire: 1 of 2" in screen_text(pilot.app)
        await pilot.press("2")
        (seen,) = told(pilot.app)
        assert seen.part == "plate"


async def test_a_connector_is_drawn_with_a_sentence_a_position_and_its_side() -> None:
    positions = (
        PositionRow("1", "bottom", "negative", "position 1, bottom: negative"),
        PositionRow("2", "top left", "positive", "position 2, top left: positive"),
        PositionRow("3", "top right", "empty", "position 3, top right: stays empty"),
    )
    picture = ConnectorPicture("Receptacle", "seen from the wire side", positions)
    async with OneScreen(StepScreen(step(connector=picture))).run_test() as pilot:
        text = screen_text(pilot.app)
        assert "seen from the wire side" in text
        assert "| 2     3 |" in text
        assert "|    1    |" in text
        assert all(each.sentence in text for each in positions)


async def test_a_preview_is_echoed_with_its_verdict() -> None:
    screen = StepScreen(step(rows=(row(),), ready=False))
    async with OneScreen(screen).run_test() as pilot:
        await pilot.press("4")
        screen.show_preview(Preview(echo="4.00 m (13 ft 1 in)", verdicts=(verdict("fail", sentence="too short."),)))
        await pilot.pause()
        assert "= 4.00 m (13 ft 1 in)" in screen_text(pilot.app)
        assert "[FAIL x] too short." in screen_text(pilot.app)


async def test_a_fault_stands_under_its_place_in_the_text() -> None:
    screen = StepScreen(step(rows=(row(),), ready=False))
    async with OneScreen(screen).run_test() as pilot:
        screen.entry.value = "2.4.9"
        await pilot.pause()
        screen.show_preview(Preview(problem="two decimal points", column=3))
        await pilot.pause()
        lines = screen_text(pilot.app).split("\n")
        typed = next(line for line in lines if "2.4.9" in line)
        caret = lines[lines.index(typed) + 1]
        assert caret.index("^") == typed.index("2.4.9") + 3


async def test_a_refusal_gives_the_text_back_and_one_key_goes_to_the_step() -> None:
    screen = StepScreen(step(rows=(row(),), ready=False))
    async with OneScreen(screen).run_test() as pilot:
        screen.entry.value = "24.9"
        await pilot.press("enter")
        screen.show_refusal('needs step 3, "Breaker off", first', "breaker-off", "24.9")
        await pilot.pause()
        assert 'Needs step 3, "Breaker off", first.' in screen_text(pilot.app)
        assert screen.entry.value == "24.9"
        await pilot.press("escape", "t")
        assert told(pilot.app)[-1].wish == "goto"


async def test_a_shut_step_says_what_it_needs_and_t_goes_there() -> None:
    view = step(status="shut", shut=(Shut("needs step 3 first", "breaker-off"),), ready=False)
    async with OneScreen(StepScreen(view)).run_test() as pilot:
        assert "Needs step 3 first." in screen_text(pilot.app)
        await pilot.press("t")
        assert told(pilot.app)[-1].wish == "goto"


@pytest.mark.parametrize(("needs", "key", "wish"), [("accept", "a", "accept"), ("deviate", "d", "deviate")])
async def test_a_verdict_is_settled_by_its_own_key(needs: str, key: str, wish: str) -> None:
    view = step(ready=False, verdicts=(verdict(needs=needs),))
    async with OneScreen(StepScreen(view)).run_test() as pilot:
        await pilot.press(key)
        assert [message.wish for message in told(pilot.app)] == [wish]


async def test_a_key_that_cannot_work_does_nothing() -> None:
    async with OneScreen(StepScreen(step(previous=""))).run_test() as pilot:
        await pilot.press("b", "m", "a", "d", "t", "w", "g")
        assert told(pilot.app) == []


async def test_resizing_in_the_middle_of_an_entry_keeps_the_text() -> None:
    async with OneScreen(StepScreen(step(rows=(row(),), ready=False))).run_test(size=(120, 40)) as pilot:
        await pilot.press("2", "4", "full_stop")
        await pilot.resize_terminal(40, 12)
        await pilot.press("9")
        await pilot.resize_terminal(80, 24)
        assert pilot.app.one.entry.value == "24.9"
        assert "24.9" in screen_text(pilot.app)


async def test_a_small_window_shows_what_is_asked_while_it_is_typed() -> None:
    view = step(warnings=(warning(),), rows=(row(),), ready=False)
    screen = StepScreen(view)
    async with OneScreen(screen).run_test(size=(40, 12)) as pilot:
        await pilot.press("2")
        screen.show_preview(Preview(echo="2 V", verdicts=(verdict(),)))
        await pilot.pause()
        text = flat(screen_text(pilot.app))
        assert "Volts across the bank at rest" in text
        assert "= 2 V" in text
        assert "drop 4.6 % is over 3 %; allowed to 5 %." in text


async def test_the_demo_mark_is_on_every_page() -> None:
    screen = StepScreen(step(demo=True, warnings=(warning(), warning("CAUTION")), rows=(row(),)))
    async with OneScreen(screen).run_test(size=(40, 12)) as pilot:
        marks = ["[DEMO]" in screen_text(pilot.app)]
        while not screen.read_to_end:
            await pilot.press("pagedown")
            marks.append("[DEMO]" in screen_text(pilot.app))
        assert len(marks) > 1
        assert all(marks)


async def test_offered_words_are_not_brought_in_before_the_step_was_read() -> None:
    offering = row(unit="words", hint="Enter alone takes: 6 AWG", offer="6 AWG")
    screen = StepScreen(step(warnings=(warning(), warning("CAUTION")), rows=(offering,), ready=False))
    async with OneScreen(screen).run_test(size=(80, 10)) as pilot:
        assert not screen.read_to_end
        assert "change these words" not in screen_text(pilot.app)
        await pilot.press("up")
        assert screen.entry.value == ""


async def test_a_page_with_more_after_it_says_so_also_after_all_was_read() -> None:
    screen = StepScreen(step(warnings=(warning(), warning("CAUTION")), rows=(row(),)))
    async with OneScreen(screen).run_test(size=(80, 24)) as pilot:
        assert "PgDn" not in screen_text(pilot.app)
        await pilot.resize_terminal(40, 12)
        await pilot.press("pageup", "pageup")
        await pilot.pause()
        assert screen.read_to_end
        assert "PgDn  more" in screen_text(pilot.app)
        while screen.page + 1 < screen.page_count:
            await pilot.press("pagedown")
        assert "PgDn  more" not in screen_text(pilot.app)


async def test_a_second_report_waits_for_the_first_to_be_answered() -> None:
    async with OneScreen(StepScreen(step())).run_test() as pilot:
        await pilot.press("enter", "space", "enter")
        assert len(told(pilot.app)) == 1


async def test_a_click_on_a_choice_is_its_digit() -> None:
    view = step(rows=(row(choices=("yes", "no")),), ready=False)
    async with OneScreen(StepScreen(view)).run_test(size=(80, 24)) as pilot:
        lines = screen_text(pilot.app).split("\n")
        at = next(number for number, line in enumerate(lines) if "2 or n no" in line)
        await pilot.click(offset=(6, at))
        (entered,) = told(pilot.app)
        assert entered.text == "no"


async def test_hostile_names_are_shown_as_they_are() -> None:
    view = step(title="[red]Lift[/red] \x1b[31mthe\x1b[0m \u202enegative")
    async with OneScreen(StepScreen(view)).run_test() as pilot:
        assert "[red]Lift[/red] <U+001B>[31mthe<U+001B>[0m <U+202E>negative" in screen_text(pilot.app)


async def test_a_value_of_four_figures_takes_at_most_seven_keys() -> None:
    async with OneScreen(StepScreen(step(rows=(row(),), ready=False))).run_test() as pilot:
        keys = ["2", "4", "full_stop", "8", "5", "enter"]
        await pilot.press(*keys)
        (entered,) = told(pilot.app)
        assert entered.text == "24.85"
        assert len(keys) <= 7


async def test_a_message_on_a_small_window_does_not_keep_the_step_from_being_read() -> None:
    screen = StepScreen(step(warnings=(warning(),), why="Why it matters is said here at some length. " * 5))
    async with OneScreen(screen).run_test(size=(40, 12)) as pilot:
        screen.show_problem("Something else went wrong")
        await pilot.press("enter", "enter", "enter")
        assert screen.read_to_end


@pytest.mark.parametrize(("rows", "said"), [(1, False), (2, True)])
async def test_the_key_line_says_that_the_next_value_can_follow_where_there_is_one(rows: int, said: bool) -> None:
    view = step(rows=tuple(row(f"v-{n}") for n in range(rows)), ready=False)
    async with OneScreen(StepScreen(view)).run_test(size=(80, 24)) as pilot:
        assert (";  and the next value" in screen_text(pilot.app)) is said
