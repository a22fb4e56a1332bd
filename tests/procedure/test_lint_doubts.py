"""The linter doubts what makes a procedure hard to follow, each with file, line and place."""

import re

import pytest

from engine.procedure import jobs
from engine.procedure.lint_doubts import orders
from engine.procedure.lint_fit import rows_of
from engine.procedure.lint_words import hard_words, reading_grade, syllables
from engine.procedure.model import Step
from tests.procedure.linting import doubts, linted
from tests.procedure.small import BLOCK, SMALL, changed


@pytest.mark.parametrize(
    ("action", "verbs"),
    [
        ("Measure each point, then the known source again.", ["measure"]),
        ("Draw the panel out and hang it up.", ["draw", "hang"]),
        ("Cut the wire, strip the end.", ["cut", "strip"]),
        ("Turn it off. Wait ten minutes.", ["turn", "wait"]),
        ("Press the cap and plug in place", ["press"]),
        ("Red to position 2 and black to position 1.", []),
    ],
)
def test_the_orders_of_an_action_are_its_verbs(action: str, verbs: list[str]) -> None:
    assert orders(action)[: len(verbs)] == verbs


@pytest.mark.parametrize("action", ["Write way, fuse, wire and date.", "Read the marks on fuse and switch, both."])
def test_a_verb_with_nothing_after_it_is_the_thing_of_that_name(action: str) -> None:
    assert len(orders(action)) == 1


def test_a_verb_that_names_no_thing_counts_with_nothing_after_it() -> None:
    assert orders("Strip the end and dry.") == ["strip", "dry"]


def test_two_verbs_in_an_action_are_a_doubt() -> None:
    assert doubts(changed('"Strip the end."', '"Strip the end and measure it."')) == [
        'small.toml: line 53, step "strip", do: has 2 verbs (strip, measure); one action a step'
    ]


def test_a_question_of_more_than_66_characters_is_a_doubt() -> None:
    assert doubts(changed('"Bare length"', f'"{"x" * 67}"')) == [
        'small.toml: line 64, step "strip", read.strip_length, ask: has 67 characters; 66 fit on a line'
    ]


def test_a_question_of_66_characters_is_none() -> None:
    assert doubts(changed('"Bare length"', f'"{"x" * 66}"')) == []


def test_the_reason_of_a_limit_over_66_characters_is_a_doubt() -> None:
    assert doubts(changed('"copper must reach the end of the barrel"', f'"{"x" * 67}"')) == [
        'small.toml: line 66, step "strip", limit.length, is: has 67 characters; 66 fit on a line'
    ]


def test_a_step_that_does_not_fit_the_screen_is_a_doubt() -> None:
    text = changed('"Copper must reach the end."', '"""' + "This is said. " * 90 + '"""')
    assert any("fit on a screen of 80x24" in doubt for doubt in doubts(text))


def test_a_step_of_more_than_three_small_screens_is_a_doubt() -> None:
    text = changed('"Copper must reach the end."', '"""' + "This is said. " * 60 + '"""')
    assert any("screens of 40x12; 3 at most" in doubt for doubt in doubts(text))


def test_rows_are_counted_on_wrapped_text() -> None:
    step = Step(id="a", section="s", title="t", action="word " * 30, why="why")
    assert rows_of(step, [], 66).action == 3


def test_more_than_one_danger_is_a_doubt() -> None:
    danger = 'warn.DANGER = { hazard = "It burns.", avoid = "Stand off." }'
    text = changed("warn.CAUTION", "warn.DANGER")
    again = changed('closes = ["covers"]', f'closes = ["covers"]\n{danger}', text)
    assert doubts(again) == [
        "small.toml: 2 warnings say DANGER (strip, covers-on); keep the word for the one that kills"
    ]


def test_fewer_than_three_holds_are_a_doubt() -> None:
    assert doubts(changed('hold = "hold"\nhands_on', "hands_on")) == [
        "small.toml: has 2 holds; 3 to 7 are kept, fewer or more are not"
    ]


def steps_with(line: str, count: int) -> str:
    head = '[[section.step]]\nid = "more-NUMBER"\ntitle = "More"\ndo = "Look."\nwhy = "So."\n'
    step = f'{head}{line}\nparts.nut = {{ name = "nut" }}\n\n'
    return "".join(step.replace("NUMBER", str(number)) for number in range(count))


LAST = '[[section.step]]\nid = "covers-on"'


def test_more_than_seven_holds_are_a_doubt() -> None:
    text = changed(LAST, steps_with('hold = "hold"', 5) + LAST)
    assert doubts(text) == ["small.toml: has 8 holds; 3 to 7 are kept, fewer or more are not"]


def test_more_than_four_firm_holds_are_a_doubt() -> None:
    text = changed(LAST, steps_with('hold = "firm"', 4) + LAST)
    assert doubts(text) == ["small.toml: has 5 firm holds; 4 at most"]


def test_a_section_without_a_step_is_a_doubt() -> None:
    text = changed('[[section]]\nid = "work"', '[[section]]\nid = "rest"\nstep = []\n\n[[section]]\nid = "work"')
    assert doubts(text) == ['small.toml: line 46, section "rest": has no step']


CONDITION = "when = 'taps == \"yes\"'"


def conditional() -> str:
    """Return the small procedure with a reading that only one branch takes."""
    return changed('by = "cal" }', f'by = "cal", {CONDITION} }}')


def test_a_limit_on_a_value_that_one_branch_takes_is_a_doubt() -> None:
    assert doubts(conditional()) == [
        'small.toml: line 66, step "strip", limit.length, is: uses strip_length, which is only taken if taps == "yes"; '
        "give this the same condition"
    ]


def test_a_check_that_cannot_do_without_such_a_value_is_a_doubt() -> None:
    row = 'read.known_after = { ask = "Known source, after", V = [-100, 12, 13, 100]'
    assert doubts(SMALL, prove_dead=changed(row, f"{row}, {CONDITION}", BLOCK)) == [
        'small.toml: line 43, step "prove-dead", check.dead, in block "prove-dead" line 22: uses known_after, which is '
        'only taken if taps == "yes"; give this the same condition'
    ]


def test_a_step_of_the_same_branch_raises_none() -> None:
    assert doubts(changed('title = "Strip"', f'title = "Strip"\n{CONDITION}', conditional())) == []


def settled_by_the_other_branch() -> str:
    """Return the small procedure with a limit that holds by itself where its value is not taken."""
    limit = "strip_length >= barrel_depth - 1 mm"
    return changed(f'"{limit}"', f"'taps == \"no\" or {limit}'", conditional())


def test_a_limit_that_the_other_branch_settles_by_itself_raises_none() -> None:
    assert doubts(settled_by_the_other_branch()) == []


def test_past_so_many_ways_to_answer_the_doubt_stands(monkeypatch: pytest.MonkeyPatch) -> None:
    both = settled_by_the_other_branch()
    monkeypatch.setattr(jobs, "MOST_WAYS", 2)
    assert doubts(both) == []
    monkeypatch.setattr(jobs, "MOST_WAYS", 1)
    assert len(doubts(both)) == 1


@pytest.mark.parametrize(
    ("text", "sentences"),
    [
        ("Verify the volts.", ['"verify": say what to measure or see']),
        ("It complies with the rule.", ['"complies with": follows the figure of']),
        ("Tighten properly prior to use.", ['"properly": say how', '"prior to": before']),
        ("Use a multidimensional gauge.", ['"multidimensional" is a long word; use a plain one']),
        ("Measure the receptacle's polarity.", []),
        ("A capacitor drains.", []),
        ("An additional wire.", ['"additional" is a long word; use a plain one']),
        (" ".join(["so"] * 26) + ".", ["a sentence has 26 words; 25 at most"]),
        (" ".join(["so"] * 25) + ".", []),
    ],
)
def test_hard_words_and_sentences_are_named(text: str, sentences: list[str]) -> None:
    assert hard_words(text) == sentences


def test_a_hard_word_of_a_step_is_a_doubt_with_its_line() -> None:
    assert doubts(changed('"Copper must reach the end."', '"Ensure it."')) == [
        'small.toml: line 54, step "strip", why: "ensure": say what to look at'
    ]


@pytest.mark.parametrize(
    ("word", "count"), [("wire", 1), ("cable", 2), ("battery", 3), ("receptacle", 4), ("tightened", 2), ("rusted", 2)]
)
def test_syllables_are_counted_about_right(word: str, count: int) -> None:
    assert syllables(word) == count


def test_long_words_and_sentences_raise_the_grade() -> None:
    plain, hard = (
        "Lift the lead. Cap it.",
        "Subsequently disconnect every conductor individually while maintaining identification.",
    )
    assert reading_grade(plain) < 4 < 12 < reading_grade(hard)


def test_a_procedure_of_more_than_eight_minutes_of_keyboard_is_a_doubt() -> None:
    text = changed(LAST, steps_with("", 400) + LAST)
    told = [doubt for doubt in doubts(text) if "minutes of keyboard in one job" in doubt]
    assert [re.sub(r"\d+(\.\d)?", "N", doubt.split("about ")[1]) for doubt in told] == [
        "N minutes of keyboard in one job (N with cold fingers); N at most, ask for less"
    ]


def test_doubts_alone_give_exit_status_one() -> None:
    assert linted(changed('"Strip the end."', '"Strip the end and measure it."')).status == 1


def test_faults_give_exit_status_two() -> None:
    assert linted(changed('revision = "1"', "revision = 1")).status == 2


def test_neither_gives_exit_status_zero() -> None:
    assert linted().status == 0


def test_the_report_ends_in_a_line_that_counts() -> None:
    assert (
        linted(changed('"Strip the end."', '"Strip the end and measure it."')).lines()[-1]
        == "small.toml: 0 faults, 1 doubt"
    )


def test_the_report_as_data_has_each_place_apart() -> None:
    report = linted(changed('"Strip the end."', '"Strip the end and measure it."')).to_json()
    assert report == {
        "schema": 1,
        "file": "small.toml",
        "status": 1,
        "faults": [],
        "doubts": [
            {"file": "small.toml", "line": 53, "where": 'step "strip", do',
             "sentence": "has 2 verbs (strip, measure); one action a step"}
        ],
        "notes": [],
    }  # fmt: skip
