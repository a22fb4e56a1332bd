"""A sound procedure file becomes frozen dataclasses in base units, and so does its text in a log."""

import hashlib

import pytest

from engine.finding import Verdict
from engine.procedure.load import load, load_text, read_logged
from engine.procedure.model import Hold, Known, Signal
from engine.procedure.model_circuit import Literal, Reference
from engine.source import Authority, Seen
from tests.procedure.small import BLOCK, SMALL, blocks, changed, loaded


def test_ranges_stand_in_base_units() -> None:
    depth = loaded().entry_by_id["barrel_depth"]
    assert (depth.hard, depth.likely) == ((0.005, 0.04), (0.01, 0.02))


def test_a_fact_is_read_from_a_label_unless_it_says_otherwise() -> None:
    assert loaded().entry_by_id["motor_current"].known is Known.LABEL


def test_a_reading_is_measured_unless_it_says_otherwise() -> None:
    assert loaded().entry_by_id["strip_length"].known is Known.MEASURED


@pytest.mark.parametrize(("word", "known"), [("seen", Known.SEEN), ("told", Known.TOLD), ("measured", Known.MEASURED)])
def test_how_a_thing_is_known_is_said_in_one_word(word: str, known: Known) -> None:
    text = changed('ask = "Are there taps"', f'ask = "Are there taps"\nknown = "{word}"')
    assert loaded(text).entry_by_id["taps"].known is known


def test_an_operand_that_names_an_entry_is_a_reference() -> None:
    assert loaded().circuit[0].found["size"] == Reference(("wire_size",))


def test_an_operand_that_is_an_amount_is_a_literal_in_base_units() -> None:
    assert loaded().circuit[0].found["out"] == Literal("5.2 m", 5.2)


def test_a_wire_size_that_is_written_takes_its_one_spelling() -> None:
    assert loaded().circuit[0].planned["size"] == Literal("#6", "6 AWG")


def test_yes_and_no_that_are_written_become_true_and_false() -> None:
    assert loaded().circuit[0].found["engine_space"] == Literal("no", value=False)


def test_a_check_input_that_takes_many_is_many_even_with_one_name() -> None:
    text = BLOCK.replace('points = ["{points}"]', 'points = "pair"').replace(
        'points = "the readings', 'others = "the readings'
    )
    small = SMALL.replace('points = ["pair", "hull"]', 'others = "x"')
    check = loaded(small, prove_dead=text).step_by_id["prove-dead"].checks[0]
    assert check.inputs["points"] == Reference(("pair",), many=True)


def test_the_gates_of_a_section_are_gates_of_each_of_its_steps() -> None:
    assert loaded().step_by_id["strip"].needs == ("prove-dead",)


def test_spans_of_time_stand_in_seconds() -> None:
    strip = loaded().step_by_id["strip"]
    assert (strip.lasts_s, strip.lasts_away_s) == (43200.0, 600.0)


def test_a_dated_look_stands_in_seconds_after_closing() -> None:
    assert loaded().step_by_id["covers-on"].due[0].after_s == 86400.0


def test_a_limit_keeps_its_verdict_and_source() -> None:
    limit = loaded().step_by_id["strip"].limits[0]
    assert (limit.otherwise, limit.source.authority, limit.source.seen) == (
        Verdict.FAIL,
        Authority.PRACTICE,
        Seen.MEMORY,
    )


def test_a_warning_keeps_its_signal_word() -> None:
    assert loaded().step_by_id["strip"].warnings[0].word is Signal.CAUTION


def test_a_firm_hold_is_firm() -> None:
    assert loaded().step_by_id["prove-dead"].hold is Hold.FIRM


def test_a_condition_may_name_any_entry() -> None:
    text = changed('title = "Strip"', 'title = "Strip"\nwhen = \'taps == "yes"\'')
    when = loaded(text).step_by_id["strip"].when
    assert when is not None
    assert when.holds({"taps": False}) is False


def test_the_text_in_a_log_gives_the_same_procedure() -> None:
    assert read_logged(loaded().text) == loaded()


def test_the_same_text_of_a_log_is_read_once() -> None:
    text = loaded().text
    assert read_logged(text) is read_logged(text)


def test_the_hash_is_that_of_the_expanded_text() -> None:
    procedure = loaded()
    assert procedure.sha256 == hashlib.sha256(procedure.text.encode()).hexdigest()


def test_the_expanded_text_has_no_use_left() -> None:
    assert "use =" not in loaded().text


def test_newlines_of_another_system_change_nothing() -> None:
    assert loaded(SMALL.replace("\n", "\r\n")) == loaded()


def test_a_byte_order_mark_changes_nothing() -> None:
    assert loaded("\ufeff" + SMALL) == loaded()


def test_a_remark_changes_neither_text_nor_hash() -> None:
    assert loaded("# a remark\n" + SMALL).sha256 == loaded().sha256


def test_a_changed_word_changes_the_hash() -> None:
    assert loaded(changed("Copper must reach the end.", "It must reach the end.")).sha256 != loaded().sha256


def test_a_file_is_read_with_the_blocks_beside_it(tmp_path) -> None:
    (tmp_path / "blocks").mkdir()
    (tmp_path / "blocks" / "prove-dead.toml").write_text(BLOCK, encoding="utf-8")
    (tmp_path / "small.toml").write_text(SMALL, encoding="utf-8")
    assert load(tmp_path / "small.toml") == load_text(SMALL, "small.toml", block_reader=blocks)


def test_loading_metric_units_does_not_import_the_unit_library(fresh_python) -> None:
    code = "import sys; from tests.procedure.small import loaded; loaded(); print('pint' in sys.modules)"
    assert fresh_python(code) == "False"
