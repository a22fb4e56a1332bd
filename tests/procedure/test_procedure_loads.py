"""A sound procedure file becomes frozen dataclasses in base units, and so does its text in a log."""

import hashlib

import pytest

from engine.finding import Verdict
from engine.procedure.load import load, load_text, read_logged
from engine.procedure.model import Hold, Mend, Piece, Signal, Zone
from engine.procedure.model_circuit import Literal, Reference
from engine.source import Authority, Seen, Source
from tests.procedure.small import BLOCK, SMALL, blocks, changed, loaded


def test_an_operand_that_names_an_entry_is_a_reference() -> None:
    assert loaded().circuit[0].found["size"] == Reference(("wire_size",))


def test_an_operand_that_is_an_amount_is_a_literal_in_base_units() -> None:
    assert loaded().circuit[0].found["out"] == Literal("5.2 m", 5.2)


def test_a_wire_size_that_is_written_takes_its_one_spelling() -> None:
    assert loaded().circuit[0].planned["size"] == Literal("#6", "6 AWG")


def test_yes_and_no_that_are_written_become_true_and_false() -> None:
    assert loaded().circuit[0].found["engine_space"] == Literal("no", value=False)


def test_a_check_input_that_takes_many_is_many_even_with_one_name() -> None:
    check = loaded(changed('points = ["pair", "hull"]', 'points = "pair"')).step_by_id["prove-dead"].checks[0]
    assert check.inputs["points"] == Reference(("pair",), many=True)


def test_one_check_that_is_made_several_times_stands_under_names_of_its_own() -> None:
    twice = 'check.torque.one = { torque = "1 N m" }\ncheck.torque.two = { torque = "2 N m" }'
    found = loaded(changed("check.plan = {}", twice)).step_by_id["plan"].checks
    assert [(check.name, check.inputs["torque"].text) for check in found] == [("torque", "1 N m"), ("torque", "2 N m")]


def test_a_check_may_have_a_condition() -> None:
    text = changed("check.plan = {}", 'check.torque = { torque = "1 N m", when = \'taps == "yes"\' }')
    (check,) = loaded(text).step_by_id["plan"].checks
    assert (check.when.text, list(check.inputs)) == ('taps == "yes"', ["torque"])


def test_spans_of_time_stand_in_seconds() -> None:
    strip = loaded().step_by_id["strip"]
    assert (strip.lasts_s, strip.takes_s) == (43200.0, 2700.0)


def test_a_step_may_take_twenty_minutes_if_it_does_not_say() -> None:
    assert loaded().step_by_id["plan"].takes_s == 1200.0


def test_a_dated_look_stands_in_seconds_after_closing() -> None:
    assert loaded().step_by_id["covers-on"].due[0].after_s == 86400.0


def test_a_zone_says_how_the_procedure_leaves_it() -> None:
    assert loaded().zone_by_id == {"run": Zone("run", "the run", "live")}


def test_a_piece_rests_on_pieces() -> None:
    assert loaded().piece_by_id["joint"] == Piece("joint", "the joint", ("end",))


def test_a_step_says_what_it_does_to_zones_and_pieces() -> None:
    steps = loaded().step_by_id
    assert (steps["strip"].hands_on, steps["strip"].works, steps["strip"].proves) == (("run",), ("end",), ("end",))
    assert steps["prove-dead"].proves_dead == ("run",)
    assert steps["covers-on"].mends == (Mend("Strip it again", ("end",)),)


def test_a_step_that_does_not_say_needs_the_step_before() -> None:
    procedure = loaded()
    assert procedure.step_by_id["strip"].needs is None
    assert dict(procedure.needs) == {
        "plan": (), "prove-dead": ("plan",), "strip": ("prove-dead",), "covers-on": ("strip",)
    }  # fmt: skip


@pytest.mark.parametrize(("needs", "found"), [("[]", ()), ('["plan"]', ("plan",))])
def test_a_step_that_says_what_it_needs_needs_just_that(needs: str, found: tuple[str, ...]) -> None:
    text = changed('title = "Strip"', f'title = "Strip"\nneeds = {needs}')
    assert loaded(text).needs["strip"] == found


def test_a_limit_keeps_its_verdict_and_its_named_source() -> None:
    limit = loaded().step_by_id["strip"].limits[-1]
    source = Source(Authority.STANDARD, "a standard", "5.2", Seen.READ)
    assert (limit.otherwise, limit.source, limit.hands) == (Verdict.FAIL, source, "")


def test_a_limit_without_a_source_is_common_practice_from_memory() -> None:
    limit = loaded(changed(', from = "barrel" }', " }")).step_by_id["strip"].limits[-1]
    assert str(limit.source) == "common practice, no source (practice, unconfirmed: from memory)"


def test_a_written_limit_may_stop_all_work() -> None:
    text = changed(', from = "barrel" }', ', hands = "Off the wire.", from = "barrel" }')
    assert loaded(text).step_by_id["strip"].limits[-1].hands == "Off the wire."


def test_a_warning_stands_under_its_signal_word() -> None:
    (warning,) = loaded().step_by_id["strip"].warnings
    assert (warning.word, warning.hazard, warning.consequence) == (Signal.CAUTION, "Cut strands spring.", "")


def test_a_firm_hold_is_firm() -> None:
    assert loaded().step_by_id["prove-dead"].hold is Hold.FIRM


def test_a_section_and_a_step_without_a_title_are_called_by_their_names() -> None:
    text = changed('title = "Make safe"\n', "").replace('title = "Covers on"\n', "")
    assert (loaded(text).sections[0].title, loaded(text).step_by_id["covers-on"].title) == ("Make safe", "Covers on")


def test_facts_belong_to_the_procedure_and_to_the_step_that_asks_them() -> None:
    procedure = loaded()
    assert [fact.id for fact in procedure.facts] == list(procedure.step_by_id["plan"].asks)
    assert procedure.step_of_entry["taps"] == "plan"


def test_a_condition_may_name_any_entry() -> None:
    when = loaded(changed('title = "Strip"', 'title = "Strip"\nwhen = \'taps == "yes"\'')).step_by_id["strip"].when
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


def test_the_expanded_text_borrows_nothing_and_keeps_the_sources() -> None:
    text = loaded().text
    assert "borrow" not in text
    assert 'barrel = { authority = "standard"' in text


def test_newlines_of_another_system_change_nothing() -> None:
    assert loaded(SMALL.replace("\n", "\r\n")) == loaded()


def test_a_byte_order_mark_changes_nothing() -> None:
    assert loaded("\ufeff" + SMALL) == loaded()


def test_a_remark_and_another_way_to_write_a_row_change_neither_text_nor_hash() -> None:
    dotted = changed('fact.taps = { ask = "Are there taps", of = "yes/no" }',
                     'fact.taps.ask = "Are there taps"  # a remark\nfact.taps.of = "yes/no"')  # fmt: skip
    assert loaded(dotted).sha256 == loaded().sha256


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
