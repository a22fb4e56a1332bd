"""Names, descriptions and typed inputs of the checks."""

import shlex
import subprocess
import sys

import pytest

from engine.finding import Finding
from engine.published.profiles import profile
from engine.published.tables import tables, topics
from engine.rules import sources
from engine.rules.ask import describe, from_text, listing
from engine.rules.check import Check, Context, Input
from engine.rules.registry import CHECK_NAMES, UnknownCheck, check, run
from engine.source import Authority, Source
from engine.trade.ranges import OutOfRange

NAMES = [
    "dead",
    "polarity",
    "bank",
    "ampacity",
    "voltage-drop",
    "protection-size",
    "protection-place",
    "protection-kind",
    "weakest-part",
    "true-size",
    "strands",
    "strip",
    "pull",
    "torque",
    "hole",
    "panel-fit",
    "wire-left",
    "measured-drop",
    "joint",
    "heat",
    "spare-end",
    "leak",
    "lamp",
    "fuse-load",
    "solar",
    "solar-wire",
    "pump",
    "pin-map",
    "sensor",
    "splice",
    "stud",
    "fault-current",
    "waited",
    "volts-at-load",
]


def test_the_names_of_the_checks_are_these() -> None:
    assert sorted(CHECK_NAMES) == sorted(NAMES)


@pytest.mark.parametrize("name", CHECK_NAMES)
def test_each_name_leads_to_the_check_of_that_name(name: str) -> None:
    found = check(name)
    assert found.name == name
    assert found.title
    assert found.sources


def test_each_rule_is_carried_out_once() -> None:
    rules = [check(name).rule for name in CHECK_NAMES]
    assert len(set(rules)) == len(rules)


@pytest.mark.parametrize("name", CHECK_NAMES)
def test_the_example_of_a_check_runs(name: str) -> None:
    found = check(name)
    words = shlex.split(found.example)
    assert words[:3] == ["tugtest", "check", name]
    given = from_text(found, dict(word.split("=", 1) for word in words[3:]))
    assert isinstance(given, dict), given
    finding = found.run(given, Context(profile()))
    assert isinstance(finding, Finding)
    assert finding.sentence


@pytest.mark.parametrize("name", CHECK_NAMES)
def test_a_check_gives_a_value_that_it_names(name: str) -> None:
    found = check(name)
    given = from_text(found, dict(word.split("=", 1) for word in shlex.split(found.example)[3:]))
    assert isinstance(given, dict)
    values = found.run(given, Context(profile())).values
    assert {value for value, _ in found.gives} & values.keys()


def test_an_unknown_check_names_the_nearest() -> None:
    with pytest.raises(UnknownCheck, match='there is no check "voltage-dorp"; did you mean "voltage-drop"'):
        check("voltage-dorp")


def test_an_unknown_input_is_refused_with_those_there_are() -> None:
    with pytest.raises(OutOfRange, match='fuse-load has no input "amps"; it takes load, fuse'):
        run("fuse-load", {"amps": 1.0}, Context(profile()))


def test_a_check_is_loaded_only_when_it_is_asked_for() -> None:
    probe = "import sys, engine.rules.registry; print([m for m in sys.modules if m == 'engine.rules.solar'])"
    ran = subprocess.run([sys.executable, "-c", probe], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "[]"


def test_the_listing_has_one_line_a_check() -> None:
    lines = listing().splitlines()
    assert [line.split()[0] for line in lines] == list(CHECK_NAMES)


def test_a_description_names_units_ranges_defaults_and_sources() -> None:
    text = describe(check("ampacity"))
    assert "A, 0.001 to 2000; asked for" in text
    assert "degC, 60 to 250; 105 if left out" in text
    assert "a wire size, such as 8 AWG, SAE 10 or 16 mm2; asked for" in text
    assert "33 CFR part 183 subpart I, 183.425(b), table 5 (regulation, read)" in text
    assert "tugtest check ampacity" in text


EVERY = Check(
    name="every",
    rule="none",
    title="every kind of input",
    inputs=(
        Input(name="length", unit="mm", says="a length", low=0, high=100, required=False, default=5.0),
        Input(name="size", unit="wire", says="a size", required=False),
        Input(name="sure", unit="yes/no", says="sure", required=False),
        Input(name="kind", unit="choice", says="kind", choices=("red", "green"), required=False),
        Input(name="note", unit="words", says="a note", required=False),
        Input(name="open", unit="ohm", says="ohms", low=0, high=100, over_range=True, required=False),
        Input(name="parts", unit="A", says="parts", low=0, high=100, many=True, required=False),
    ),
    judge=lambda given, context: Finding(
        "every", run("fuse-load", {"load": 1.0, "fuse": 2.0}, context).verdict, "x", given
    ),
    sources=(Source(Authority.PROJECT, "a test"),),
)


@pytest.mark.parametrize(
    ("name", "text", "value"),
    [
        ("length", "33", 0.033),
        ("length", "1 in", 0.0254),
        ("size", "1/0", "1/0 AWG"),
        ("sure", "Yes", True),
        ("sure", "n", False),
        ("kind", " RED ", "red"),
        ("note", " dry fit ", "dry fit"),
        ("open", "OL", float("inf")),
        ("parts", "20; 30 A", (20.0, 30.0)),
        ("parts", "plug 30 A; 20", (("plug", 30.0), 20.0)),
        ("parts", "old plug=30; bow switch: 2.5 A", (("old plug", 30.0), ("bow switch", 2.5))),
    ],
)
def test_typed_text_becomes_a_value_in_base_units(name: str, text: str, value: object) -> None:
    given = from_text(EVERY, {name: text})
    assert given == {name: value} or given[name] == pytest.approx(value)  # type: ignore[call-overload]


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("sure", "maybe", "sure=maybe: This is a question of yes or no: type yes or no."),
        ("kind", "gren", "kind=gren: This must be one of red, green. Did you mean green?"),
        ("lenght", "3", 'lenght: every has no such input; did you mean "length"?'),
        ("x", "3", "x: every has no such input; it takes length, size, sure, kind, note, open, parts"),
    ],
)
def test_what_can_not_be_understood_gets_a_sentence(name: str, text: str, said: str) -> None:
    assert from_text(EVERY, {name: text}) == [said]


@pytest.mark.parametrize("text", ["", "thick", "3 kg", "1e999", "--3"])
def test_every_fault_names_its_input(text: str) -> None:
    faults = from_text(EVERY, {"length": text})
    assert isinstance(faults, list)
    assert faults[0].startswith("length=")


def test_all_faults_are_told_at_once() -> None:
    faults = from_text(EVERY, {"length": "x", "sure": "x"})
    assert isinstance(faults, list)
    assert len(faults) == 2


def test_a_default_in_millimetres_reaches_the_judge_in_metres() -> None:
    assert EVERY.run({}, Context(profile())).values["length"] == pytest.approx(0.005)


def test_over_range_is_let_through_only_where_it_is_an_answer() -> None:
    assert EVERY.run({"open": float("inf")}, Context(profile())).values["open"] == float("inf")
    with pytest.raises(OutOfRange, match="length is inf mm; it must be from 0 to 100 mm"):
        EVERY.run({"length": float("inf")}, Context(profile()))


def test_a_range_is_held_in_the_unit_that_it_is_written_in() -> None:
    assert EVERY.run({"length": 0.1}, Context(profile())).values["length"] == 0.1
    with pytest.raises(OutOfRange, match="length is 101 mm; it must be from 0 to 100 mm"):
        EVERY.run({"length": 0.101}, Context(profile()))


PRINTED = {str(found.source) for topic in topics() for found in tables(topic)}
ELSEWHERE = {"IEC_COPPER", "HEAT_BALANCE", "JOULE", "COMMON_PRACTICE", "E11_DROP"}
"""Sources of a law or of practice, which no table stands for."""


@pytest.mark.parametrize("name", [n for n in dir(sources) if n.isupper() and not n.startswith("_")])
def test_a_source_that_checks_name_is_the_source_of_a_table(name: str) -> None:
    found = getattr(sources, name)
    assert name in ELSEWHERE or str(found) in PRINTED
