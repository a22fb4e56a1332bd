"""Three faces, one engine: the same answers under a given clock give the same log, byte for byte."""

import pytest
from by_hand import by_hand

from engine.procedure.load import load
from engine.session.answers import load_answers
from engine.session.runner import Runner
from engine.shipped import find, folder
from tests.samples.remake import Sample


@pytest.fixture(scope="module")
def clean(tmp_path_factory: pytest.TempPathFactory) -> tuple[Runner, str]:
    answers = load_answers(folder("sample_sessions") / "grey-heron-clean.answers.toml")
    return by_hand(load(find(answers.procedure)), answers, tmp_path_factory.mktemp("plain"))


def test_the_plain_face_writes_what_the_unattended_face_writes(clean: tuple[Runner, str], sample: Sample) -> None:
    assert clean[0].state.clean
    assert clean[0].path.read_bytes() == sample("grey-heron-clean").read_bytes()


def test_the_plain_face_never_writes_an_escape_byte_and_ends_every_line(clean: tuple[Runner, str]) -> None:
    said = clean[1]
    assert not [c for c in said if ord(c) < 32 and c != "\n"]
    assert said.endswith("\n")
    assert max(len(line) for line in said.splitlines()) <= 80
    assert said.isascii()


def test_the_plain_face_says_the_steps_in_the_order_of_the_screens(clean: tuple[Runner, str]) -> None:
    said = clean[1]
    at = said.index("Bank negative off")
    place, warning = said.rindex("[DEMO] Step", 0, at), said.index("DANGER", at)
    action, why = said.index("Lift the negative", at), said.index("Why:", at)
    assert place < at < warning < action < why
