"""The reader of the printed tables: lazy, cached, and plain about what is not printed."""

import re
import subprocess
import sys

import pytest

from engine.published.tables import NotPrinted, number, table, tables, topics
from engine.source import Seen


def test_nothing_is_read_when_the_modules_are_imported() -> None:
    probe = (
        "import engine.rules.registry, engine.rules.voltage_drop, engine.published.profiles as p\n"
        "import engine.published.tables as t\n"
        "print(t.table.cache_info().currsize, t._topic.cache_info().currsize, p.profile.cache_info().currsize)"
    )
    ran = subprocess.run([sys.executable, "-c", probe], capture_output=True, text=True, check=True)
    assert ran.stdout.split() == ["0", "0", "0"]


def test_a_table_is_read_once() -> None:
    assert table("overcurrent", "location") is table("overcurrent", "location")


def test_an_unknown_topic_names_what_there_is() -> None:
    with pytest.raises(NotPrinted, match='there is no topic "colours"; there are aircraft_wire, '):
        table("colours", "x")


def test_an_unknown_table_names_what_there_is() -> None:
    with pytest.raises(NotPrinted, match='topic interrupting has no table "x"; it has by_cranking_amps, large_bank'):
        table("interrupting", "x")


def test_a_path_is_no_topic() -> None:
    with pytest.raises(NotPrinted, match="there is no topic"):
        table("profiles/house", "settings")


def test_a_missing_row_names_the_table_and_the_cells() -> None:
    with pytest.raises(NotPrinted, match=r"33 CFR part 183 subpart I, 183\.425\(b\), table 5, has no row for awg 5"):
        table("conductor_current", "table5").row(awg="5")


def test_a_missing_column_is_said() -> None:
    with pytest.raises(NotPrinted, match="has no column colour"):
        table("conductor_current", "table5").column("colour")


@pytest.mark.parametrize("key", ["awg", "nothing"])
def test_a_word_or_an_empty_cell_is_no_number(key: str) -> None:
    with pytest.raises(NotPrinted, match=f"no number is printed under {key}"):
        number(table("conductor_current", "table5").rows[0], key)


def test_rows_can_not_be_changed() -> None:
    with pytest.raises(TypeError):
        table("conductor_current", "table5").rows[0]["awg"] = "9"


@pytest.mark.parametrize("topic", topics())
def test_every_table_names_title_document_and_place(topic: str) -> None:
    for found in tables(topic):
        assert found.title, found.name
        assert found.source.document, found.name
        assert found.source.place, found.name


def test_a_figure_from_memory_says_so() -> None:
    found = table("conductor_size", "sae_minimum_area").source
    assert found.seen is Seen.MEMORY
    assert str(found) == "SAE J1127 / J1128, minimum areas (standard, unconfirmed: from memory)"


NUMBER_WORDS = (
    *("_a", "_v", "_mm", "_mm2", "_in", "_ft", "_n", "_m", "_mil", "_lbf", "_c", "_k", "_h", "_s", "_w", "_nm", "_um"),
    *("_ohm", "_kg", "_percent", "_lbf_in", "_n_m", "_hours", "_base", "_psi", "circular_mil", "_cmil", "_h", "_degc"),
)
UNITLESS = {
    *("factor", "counts", "strands_min", "strands_max", "max_nicked", "max_broken", "r", "z", "k", "u", "reading"),
    *("conductors_min", "conductors_max", "probability", "probability_inside_rounded", "limit_low", "limit_high"),
    *("specific_gravity", "percent_of_reading", "percent_of_range", "fraction_of_height", "cca_min", "cca_max"),
    *("area_circular_mil", "max_fl_oz_per_hour"),
}


def units_are_named(key: str) -> bool:
    lowered = key.lower()
    words = lowered.split("_")
    units = {word.strip("_") for word in NUMBER_WORDS} | {"n", "percent", "ohm", "awg", "cca", "105c", "75c", "20c"}
    return key in UNITLESS or any(word in units for word in words) or re.search(r"_\d+c$", lowered) is not None


@pytest.mark.parametrize("topic", topics())
def test_every_number_names_its_unit_or_is_a_known_count(topic: str) -> None:
    bare = {
        (found.name, key)
        for found in tables(topic)
        for row in found.rows
        for key, cell in row.items()
        if isinstance(cell, int | float) and not isinstance(cell, bool) and not units_are_named(key)
    }
    assert bare == set()
