"""Rules of the screen that are a number, measured over every step of every shipped procedure and every clean sample.

Sources: project rules for the screen (H01 to H50), each named at its test.
"""

import re
import tomllib
from pathlib import Path

import pytest

from engine.procedure.load import load
from engine.procedure.model import Hold, Procedure, Signal
from engine.shipped import shipped
from engine.view.models import StepView
from tests.samples import remake
from tests.samples.remake import Sample
from tests.tui.test_shipped_steps_fit import steps
from tui.draw.pages import Room
from tui.draw.step import step_blocks
from tui.lines import Block
from tui.screens.step import HELP

WIDE, SMALL = Room(80, 24), Room(40, 12)
NAMES = {"AWG", "SAE", "LED", "DC", "OL", "AUTO", "MANUAL", "OFF", "ON", "AGM", "HOLD", "FIRM", "CAN", "GPS"}
"""Words that are written in capitals since they are names: of systems, of kinds, on switches, of signs."""
PROCEDURES = pytest.mark.parametrize("path", shipped(), ids=lambda path: path.stem)
SAMPLES = pytest.mark.parametrize("name", [name for name in remake.NAMES if name.endswith("-clean")])


def drawn(path: Path, room: Room = WIDE) -> list[tuple[StepView, list[Block]]]:
    return [(view, step_blocks(view, room, view.rows[0].id if view.rows else "")) for view in steps(path)]


def events(log: Path) -> list[dict[str, object]]:
    return list(tomllib.loads(log.read_text(encoding="utf-8"))["event"])


@pytest.fixture(params=shipped(), ids=lambda path: path.stem)
def work(request: pytest.FixtureRequest) -> Procedure:
    return load(request.param)


@PROCEDURES
@pytest.mark.parametrize(("room", "most"), [(WIDE, 66), (SMALL, 36)], ids=["80", "40"])
def test_no_line_is_longer_than_the_measure(path: Path, room: Room, most: int) -> None:
    """H02."""
    lines = [line for _, blocks in drawn(path, room) for block in blocks for line in block.lines]
    assert max(line.width for line in lines) <= most


@PROCEDURES
def test_a_step_keeps_its_budget_of_rows(path: Path) -> None:
    """H04: three rows a warning, four of action, three of why."""
    most = {"warning": 3, "action": 4, "why": 3}
    over = {view.id for view, blocks in drawn(path) for block in blocks if len(block.lines) > most.get(block.name, 99)}
    assert over == set()


@PROCEDURES
def test_at_most_one_word_a_line_is_shouted(path: Path) -> None:
    """H08: capitals only for signal words; names of systems and switches are written as they are."""
    texts = [line.text for _, blocks in drawn(path) for block in blocks for line in block.lines]
    shouted = [[w for w in re.findall(r"\b[A-Z]{2,}\b", text) if w not in NAMES] for text in texts]
    assert [words for words in shouted if len(words) > 1] == []
    assert {word for words in shouted for word in words} <= set(Signal)


@PROCEDURES
def test_everything_that_is_drawn_is_ascii(path: Path) -> None:
    """H46."""
    texts = [line.text for _, blocks in drawn(path) for block in blocks for line in block.lines]
    assert [text for text in texts if not text.isascii()] == []


@SAMPLES
def test_numbers_have_a_leading_zero_and_stand_apart_from_their_unit(name: str, sample: Sample) -> None:
    """H09."""
    sentences = [str(event["sentence"]) for event in events(sample(name)) if event["event"] == "finding"]
    assert [text for text in sentences if re.search(r"(?<![\d.])\.\d", text)] == []
    assert [text for text in sentences if re.search(r"\d(V|A|mm|ohm|Ah)\b", text)] == []


def test_holds_are_few(work: Procedure) -> None:
    """H20: three to seven holds, at most four firm ones."""
    holds = [step.hold for step in work.steps if step.hold is not Hold.NONE]
    assert 3 <= len(holds) <= 7
    assert holds.count(Hold.FIRM) <= 4


def test_one_danger_at_most(work: Procedure) -> None:
    """H23."""
    words = [warning.word for step in work.steps for warning in step.warnings]
    assert words.count(Signal.DANGER) <= 1


def test_every_cut_has_a_gate_and_says_that_it_cannot_be_undone(work: Procedure) -> None:
    """H25."""
    cuts = [step for step in work.steps if step.irreversible]
    assert [step.id for step in cuts if not work.needs[step.id]] == []
    named = [step.id for step in work.steps if re.match(r"(Cut|Drill|Grind)\b", step.action)]
    assert set(named) <= {step.id for step in cuts}


@SAMPLES
def test_soft_questions_are_few(name: str, sample: Sample) -> None:
    """H27: at most one in eight steps of a normal run."""
    kinds = [event["event"] for event in events(sample(name))]
    assert kinds.count("slip_answered") * 8 <= kinds.count("step_done")


def test_every_polarity_reading_demands_its_sign(work: Procedure) -> None:
    """H33."""
    polarity = [e for e in work.entry_by_id.values() if e.id.startswith("v_polarity")]
    assert [entry.id for entry in polarity if not entry.signed] == []


def test_reasons_for_not_measuring_fit_one_list(work: Procedure) -> None:
    """H34: at most six."""
    assert [entry.id for entry in work.entry_by_id.values() if len(entry.skip) > 6] == []


@SAMPLES
def test_a_verdict_says_its_reason_on_one_line(name: str, sample: Sample) -> None:
    """H36: 66 characters before the figures, which stand in brackets; the plan names its weakest part too."""
    reasons = [
        str(event["sentence"]).partition(" (")[0].removeprefix("wanted: ")
        for event in events(sample(name))
        if event["event"] == "finding" and event["check"] == "limit"
    ]
    assert [text for text in reasons if len(text) > 66] == []


def test_perishable_proof_expires(work: Procedure) -> None:
    """H40: no silence over an hour stands between a dead proof and hands; heat is evidence for 30 minutes."""
    hands = [step for step in work.steps if step.hands_on]
    assert hands
    assert [step.id for step in hands if step.takes_s > 3600.0] == []
    heat = [step.lasts_s for step in work.steps if step.id == "heat-test"]
    assert set(heat) <= {1800.0}


def test_the_help_says_how_to_read_it_from_further_away() -> None:
    """H05: letters of 20 arc minutes at 1.4 m need a window of 40 columns (ISO 9241-3 as quoted)."""
    assert "40 columns are enough" in HELP


def test_nothing_on_the_screen_waits_for_a_clock() -> None:
    """H17, H48: no timed prompt and no bell."""
    texts = {path.name: path.read_text(encoding="utf-8") for path in Path("tui").rglob("*.py")}
    timed = ("set_interval", "set_timer", ".bell(")
    assert [name for name, text in texts.items() if any(word in text for word in timed)] == []
