"""What goes on and off in which order, with which volts, behind which protection."""

import pytest

from engine.procedure.lint import lint_text
from tests.procedure.sound import SOUND, linted, of_step


def step(name):
    """Return the text of one step, from its id on."""
    text = of_step(name, f'id = "{name}"', f'id = "{name}"')[0]
    return text.removesuffix("[[section.step]]").rstrip()


def test_a_load_before_the_polarity_is_told():
    polarity, load = step("polarity"), step("load-test")
    text = SOUND.replace(polarity, "@").replace(load, polarity).replace("@", load)
    (fault,) = lint_text(text, "small.toml").faults
    assert 'step "load-test"' in fault.where
    assert fault.sentence == "loads circuit (measured-drop) before a polarity check of it; read the sign first"


def test_the_negative_comes_off_first():
    negative, positive = step("lift-negative"), step("lift-positive")
    turned = SOUND.replace(negative, "@").replace(positive, negative).replace("@", positive)
    (fault, unwarned) = lint_text(turned, "small.toml").faults
    assert 'step "lift-positive"' in fault.where
    assert fault.sentence == 'the positive goes off before the negative of "lift-negative"; change the two'
    assert unwarned.sentence.startswith("moves a lead of a battery")


def test_the_positive_goes_on_first():
    first = step("connect").replace("Land each ring, the negative last", "Land the negative").replace("Rings on", "On")
    second = first.replace('"connect"', '"second"').replace("Land the negative", "Land the positive")
    text = SOUND.replace(step("connect"), f"{first}\n\n[[section.step]]\n{second.replace('rings_firm', 'second_firm')}")
    (fault,) = lint_text(text, "small.toml").faults
    assert fault.sentence == 'the negative goes on before the positive of "second"; change the two'


@pytest.mark.parametrize(
    ("change", "where"),
    [
        (of_step("polarity", 'nominal = "nominal"', 'nominal = "12 V"'), 'step "polarity", check.polarity, nominal'),
        (
            ('found = { current = "amps", nominal = "nominal"', 'found = { current = "amps", nominal = "24 V"'),
            "circuit.lamp, found.nominal",
        ),
    ],
)
def test_one_system_has_one_nominal_voltage(change, where):
    (fault,) = linted(change).faults
    assert fault.where == where
    assert fault.sentence.endswith("one system has one nominal voltage")


def test_a_load_without_protection_is_told():
    start = SOUND.index("fuse = { kind")
    faults = linted((SOUND[start : SOUND.index("\n", start) + 1], "")).faults
    assert [f.sentence for f in faults] == ["has a load and no fuse or breaker; name the one that guards its wire"]
