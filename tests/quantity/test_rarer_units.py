"""Units that the table lacks: asked about, never taken silently, and only where a person has typed one whole."""

import pytest

from engine.quantity import Fault, Question, read
from engine.quantity import rarer as rarer_file

RARER = [
    ("3 yd", "mm", 2.7432, "3 yd is 2743 mm"),  # NIST SP 811, appendix B.8: 1 yd = 0.9144 m
    ("150 uA", "A", 150e-6, "150 uA is 0.00015 A"),  # SI Brochure, table 7
    ("2 GΩ", "ohm", 2e9, "2 GΩ is 2000 Mohm"),  # SI Brochure, table 7
    ("-3 kN", "N", -3000.0, "-3 kN is -3000 N"),  # SI Brochure, table 7
    ("1 hp", "W", 745.6999, "1 hp is 745.7 W"),  # NIST SP 811, appendix B.8: 550 ft lbf/s = 7.456999 E+02 W
    ("2 days", "h", 172800.0, "2 days is 48 h"),  # NIST SP 811, appendix B.8
]


@pytest.mark.parametrize(("text", "unit", "number", "said"), RARER)
def test_a_rarer_unit_is_asked_about_with_what_it_comes_to(text, unit, number, said):
    asked = read(text, unit)
    assert isinstance(asked, Question)
    assert said in asked.sentence
    [(_, meant)] = asked.choices
    assert meant.number == pytest.approx(number, rel=1e-6)
    assert meant.unit == unit


@pytest.mark.parametrize(
    ("text", "unit"),
    [("5 J", "N m"), ("5 psi", "N"), ("5 degR", "degC"), ("5 kcmil", "mm2"), ("1/2 yd", "m"), ("5 lambda", "V"),
     ("5 KV", "V"), ("5 ppm", "%"), ("5 dozen", ""), ("3 yd", "A"), ("5 ft 2 yd", "m"),
     ("3 mdegC", "m"), ("3 mdegC", "A")],
)  # fmt: skip
def test_what_is_no_such_unit_of_the_kind_is_still_a_fault(text, unit):
    assert isinstance(read(text, unit), Fault)


@pytest.mark.parametrize("text", ["5 v", "5 vo", "5 mil", "5 Mi", "5 mohm mohm", "5 V; 3 V", "5 __import__"])
def test_what_may_still_be_typed_on_does_not_load_the_library(text, monkeypatch):
    monkeypatch.setattr(rarer_file, "_library", lambda: pytest.fail("the unit library was asked"))
    read(text, "V")
