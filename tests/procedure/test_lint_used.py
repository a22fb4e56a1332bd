"""What is asked and used by nothing is a doubt, at its row."""

from tests.procedure.sound import line_of, linted, of_step


def test_a_reading_that_nothing_uses_is_a_doubt():
    change = of_step("strip", "check.strip", 'read.colour = { ask = "Colour", one_of = ["red", "blue"] }\ncheck.strip')
    (doubt,) = linted(change).doubts
    assert (doubt.where, doubt.line) == ('step "strip", read.colour', line_of("read.colour", change))
    assert doubt.sentence.startswith("nothing uses it")


def test_what_a_condition_an_offer_or_the_circuit_uses_is_let_be():
    words = 'read.label = { ask = "Label", of = "words", offers = ["<colour>"] }\n'
    colour = 'read.colour = { ask = "Colour", one_of = ["red", "blue"] }\n'
    assert linted(of_step("strip", "check.strip", f"{colour}{words}check.strip")).doubts == ()


def test_a_check_that_is_gone_leaves_its_readings_unused():
    change = of_step("strip", 'check.strip = { depth = "depth", strip = "bare" }\n', "")
    assert [doubt.where for doubt in linted(change).doubts] == ['step "strip", read.depth', 'step "strip", read.bare']
