"""Wire sizes as people mark them, the one label each is kept under, and the trap of a bare figure."""

import pytest

from engine.quantity import Fault, Question, WireSize, read
from engine.quantity.wire import AWG_GAUGES, SAE_GAUGES, awg_area_mm2
from engine.trade.conductor import area_mm2

MARKED = [
    ("8 AWG", "8 AWG"),
    ("8awg", "8 AWG"),
    ("AWG 8", "8 AWG"),
    ("#8", "8 AWG"),
    ("# 8 AWG", "8 AWG"),
    ("1/0", "1/0 AWG"),
    ("1 / 0", "1/0 AWG"),
    ("2/0 AWG", "2/0 AWG"),
    ("00", "2/0 AWG"),
    ("0000", "4/0 AWG"),
    ("0 AWG", "1/0 AWG"),
    ("5 AWG", "5 AWG"),
    ("16 mm2", "16 mm2"),
    ("16mm²", "16 mm2"),
    ("16 mm^2", "16 mm2"),
    ("16 sq mm", "16 mm2"),
    ("2,5 mm2", "2.5 mm2"),
    ("2.50 mm2", "2.5 mm2"),
    ("0.75 mm2", "0.75 mm2"),
    ("SAE 10", "SAE 10"),
    ("10 SAE", "SAE 10"),
    ("sae10", "SAE 10"),
    ("SAE 1/0", "SAE 1/0"),
]


@pytest.mark.parametrize(("text", "label"), MARKED)
def test_a_marked_size_has_one_label(text, label):
    meant = read(text, "wire")
    assert isinstance(meant, WireSize)
    assert meant.label == label


@pytest.mark.parametrize(("text", "label"), MARKED)
def test_a_label_is_read_back_as_itself(text, label):
    assert read(label, "wire").label == label


def test_the_bare_figure_eight_asks_for_its_system():
    """ASTM B258: 8 AWG is 8.37 mm2, so that the figure alone tells nothing."""
    asked = read("8", "wire")
    assert asked.sentence == "8 AWG is 8.37 mm2. Which system is the 8 of: AWG, SAE or mm2?"
    assert [meant.label for _, meant in asked.choices] == ["8 AWG", "SAE 8", "8 mm2"]


@pytest.mark.parametrize(
    ("text", "labels"), [("7", ["7 AWG", "7 mm2"]), ("50", ["50 mm2"]), ("0", ["1/0 AWG", "SAE 1/0"])]
)
def test_only_systems_that_have_the_size_are_offered(text, labels):
    assert [meant.label for _, meant in read(text, "wire").choices] == labels


def test_a_gauge_without_its_system_is_asked_about_because_trailer_cable_is_sae():
    assert [meant.system for _, meant in read("10 ga", "wire").choices] == ["AWG", "SAE"]


def test_a_decimal_without_a_unit_is_asked_about():
    asked = read("2.5", "wire")
    assert isinstance(asked, Question)
    assert [meant.label for _, meant in asked.choices] == ["2.5 mm2"]


@pytest.mark.parametrize(
    ("text", "column"),
    [
        ("", 0),
        ("5/0", 0),
        ("41 AWG", 0),
        ("SAE 7", 4),
        ("-8", 0),
        ("8/2", 0),
        ("200 mm2", 0),
        ("0.1 mm2", 0),
        ("8 mm", 1),
        ("8 AWG SAE", 1),
        ("1 5/16 in", 0),
        ("fat", 0),
        ("999", 0),
        ("2.4.9 mm2", 3),
        ("250 MCM", 3),
    ],
)
def test_what_is_no_size_is_refused_in_its_place(text, column):
    fault = read(text, "wire")
    assert isinstance(fault, Fault)
    assert fault.column == column


def test_a_gauge_with_two_systems_is_refused():
    assert read("SAE 8 AWG", "wire").sentence.startswith("AWG and SAE are two systems: type one of them.")


@pytest.mark.parametrize("gauge", AWG_GAUGES)
def test_the_area_said_in_a_question_is_the_one_the_trade_computes_with(gauge):
    """ASTM B258, worked in two places that may not import each other."""
    assert awg_area_mm2(gauge) == pytest.approx(area_mm2(f"{gauge} AWG"), rel=1e-12)


@pytest.mark.parametrize("gauge", SAE_GAUGES)
def test_every_sae_gauge_that_is_accepted_has_a_printed_area(gauge):
    """SAE J1127 and J1128 least areas, as quoted."""
    assert area_mm2(f"SAE {gauge}") > 0
