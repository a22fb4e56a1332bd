"""The linter doubts what makes a procedure hard to follow, each with file, line and place."""

import re

import pytest

from engine.procedure import lint_branch
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
        'small.toml: line 68, step "strip", action: has 2 verbs (strip, measure); one action a step'
    ]


def test_a_question_of_more_than_66_characters_is_a_doubt() -> None:
    assert doubts(changed('"Bare length"', f'"{"x" * 67}"')) == [
        'small.toml: line 79, step "strip", reading "strip_length", ask: has 67 characters; 66 fit on a line'
    ]


def test_a_question_of_66_characters_is_none() -> None:
    assert doubts(changed('"Bare length"', f'"{"x" * 66}"')) == []


def test_the_reason_of_a_limit_over_66_characters_is_a_doubt() -> None:
    assert doubts(changed('"copper must reach the end of the barrel"', f'"{"x" * 67}"')) == [
        'small.toml: line 87, step "strip", limit 1, says: has 67 characters; 66 fit on a line'
    ]


def test_a_reading_without_a_likely_range_is_a_doubt() -> None:
    assert doubts(changed('  likely = ["8 mm", "20 mm"]\n', "")) == [
        'small.toml: line 77, step "strip", reading "strip_length": "likely" is missing; '
        "without it no slip of the pen can be asked about"
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
    text = changed('word = "CAUTION"', 'word = "DANGER"')
    again = text.replace(
        "  [[step.due]]",
        '  [[step.warning]]\n  word = "DANGER"\n  hazard = "It burns."\n  avoid = "Stand off."\n  [[step.due]]',
    )
    assert doubts(again) == [
        "small.toml: 2 warnings say DANGER (strip, covers-on); keep the word for the one that kills"
    ]


def test_fewer_than_three_holds_are_a_doubt() -> None:
    assert doubts(changed('hold = "hold"\nlasts', "lasts")) == [
        "small.toml: has 2 holds; 3 to 7 are kept, fewer or more are not"
    ]


def steps_with(line: str, count: int) -> str:
    head = '[[step]]\nid = "more-NUMBER"\nsection = "work"\ntitle = "More"\naction = "Look."\nwhy = "So."\n'
    step = head + 'LINE\n[[step.part]]\nid = "nut"\nname = "nut"\n\n'
    return "".join(step.replace("NUMBER", str(number)).replace("LINE", line) for number in range(count))


def test_more_than_seven_holds_are_a_doubt() -> None:
    text = changed('[[step]]\nid = "covers-on"', steps_with('hold = "hold"', 5) + '[[step]]\nid = "covers-on"')
    assert doubts(text) == ["small.toml: has 8 holds; 3 to 7 are kept, fewer or more are not"]


def test_more_than_four_firm_holds_are_a_doubt() -> None:
    text = changed('[[step]]\nid = "covers-on"', steps_with('hold = "firm"', 4) + '[[step]]\nid = "covers-on"')
    assert doubts(text) == ["small.toml: has 5 firm holds; 4 at most"]


def test_a_section_that_is_gone_back_to_is_a_doubt() -> None:
    text = changed('id = "covers-on"\nsection = "work"', 'id = "covers-on"\nsection = "make-safe"')
    assert doubts(text) == [
        'small.toml: line 95, step "covers-on", section: goes back to section "make-safe"; steps of '
        "one section stand together"
    ]


def test_a_section_without_a_step_is_a_doubt() -> None:
    text = changed('[[section]]\nid = "work"', '[[section]]\nid = "rest"\ntitle = "Rest"\n\n[[section]]\nid = "work"')
    assert doubts(text) == ['small.toml: section "rest" has no step']


CONDITION = "when = 'taps == \"yes\"'"


def test_a_limit_on_a_value_that_one_branch_takes_is_a_doubt() -> None:
    assert doubts(changed('instrument = "cal"', CONDITION)) == [
        'small.toml: line 85, step "strip", limit 1, is: uses strip_length, which is only taken if taps == "yes"; '
        "give this the same condition"
    ]


def test_a_check_that_cannot_do_without_such_a_value_is_a_doubt() -> None:
    block = BLOCK.replace('ask = "Known source, after"', f'ask = "Known source, after"\n  {CONDITION}')
    assert doubts(SMALL, prove_dead=block) == [
        'blocks/prove-dead.toml: line 44, step "prove-dead", check "dead", with: uses known_after, which is only taken '
        'if taps == "yes"; give this the same condition'
    ]


def test_a_step_of_the_same_branch_raises_none() -> None:
    text = changed('instrument = "cal"', CONDITION).replace('lasts = "12 h"', CONDITION)
    assert doubts(text) == []


def settled_by_the_other_branch() -> str:
    """Return the small procedure with a limit that holds by itself where its value is not taken."""
    text = changed('instrument = "cal"', CONDITION)
    limit = 'is = "strip_length'
    assert text.count(limit) == 1
    line = next(each for each in text.splitlines() if limit in each)
    return text.replace(line, line.replace('is = "', 'is = \'taps == "no" or ')[:-1] + "'")


def test_a_limit_that_the_other_branch_settles_by_itself_raises_none() -> None:
    assert doubts(settled_by_the_other_branch()) == []


def test_past_so_many_ways_to_answer_the_doubt_stands(monkeypatch: pytest.MonkeyPatch) -> None:
    both = settled_by_the_other_branch()
    monkeypatch.setattr(lint_branch, "MOST_WAYS", 2)
    assert doubts(both) == []
    monkeypatch.setattr(lint_branch, "MOST_WAYS", 1)
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
        'small.toml: line 69, step "strip", why: "ensure": say what to look at'
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
    text = changed('[[step]]\nid = "covers-on"', steps_with("", 400) + '[[step]]\nid = "covers-on"')
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
            {"file": "small.toml", "line": 68, "where": 'step "strip", action',
             "sentence": "has 2 verbs (strip, measure); one action a step"}
        ],
    }  # fmt: skip
