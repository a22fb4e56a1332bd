"""The other ways through a splice repair: a piece let in, the loom's own battery, a fuel line beside the heat."""

import re
from pathlib import Path

from engine.procedure.load import load
from engine.review.audit import audit_file
from engine.session.answers import load_answers
from engine.session.play import play
from engine.session.scan import read_log
from engine.session.shelf import state_of
from engine.session.state import State
from engine.shipped import find, folder

CLEAN = "godwit-clean.answers.toml"
CHANGES = (
    ('"joined", say = "pulled together"', '"joined", say = "a piece let in"'),
    ('"splices", say = "1"', '"splices", say = "2"'),
    ('"fuel_line", say = "no"', '"fuel_line", say = "yes"'),
    ('"supply", say = "tow plug only"', '"supply", say = "both"'),
    ('{ done = "splice-plan" },', '{ accept = "splice", step = "splice-plan", reason = "400 mm is rubbed" },\n@'),
    (
        '{ done = "tow-out" },',
        '@\n{ done = "negative-off" },\n{ give = "rings_lifted", say = "2" },\n{ done = "battery-off" },',
    ),
    ('{ done = "cut" },', '{ accept = "splice", step = "cut", reason = "400 mm is rubbed" },\n@'),
    (
        '{ give = "glue_shows", say = "yes" },',
        '{ give = "line_shielded", say = "moved away" },\n{ done = "shield" },\n@',
    ),
    (
        '{ give = "pins", say = "cleaned" },',
        '{ give = "rings_back", say = "2" },\n{ give = "rings_firm", say = "do not turn" },\n'
        '{ give = "v_battery", say = "+12.6" },\n{ done = "battery-on" },\n@',
    ),
    (
        '{ give = "label_text"',
        '{ give = "posts_covered", say = "yes" },\n{ give = "battery_moves", say = "2 mm" },\n'
        '{ done = "covers-on" },\n@',
    ),
)


def changed(text: str) -> str:
    for old, new in CHANGES:
        assert text.count(old) == 1, old
        text = text.replace(old, new.replace("@", old))
    text = re.sub(r'  \{ give = "wire_free".*?\{ done = "wire-left" \},', PIECE, text, flags=re.DOTALL)
    return text.replace('{ done = "pull-c" },', '{ done = "pull-c" },\n' + far_ends(text))


PIECE = '{ give = "piece_like", say = "same size or thicker, jacket as hot" },\n{ done = "piece" },'


def far_ends(text: str) -> str:
    """Return what is done at the far end of the piece: the same as at the near end, under the names of that end."""
    last = '{ done = "pull-c" },'
    near = text[text.index('{ give = "strands_a"') : text.index(last)] + last
    return re.sub(r'([_-])([abc])"', r'\1\g<2>2"', near)


def played(tmp_path: Path, text: str) -> State:
    answers = tmp_path / "piece.answers.toml"
    answers.write_text(text, encoding="utf-8")
    result = play(load(find("harness-splice")), load_answers(answers), tmp_path / "jobs")
    assert audit_file(result.path).replay is not None
    return state_of(read_log(result.path))


def test_a_piece_let_in_closes_with_two_pulled_splices_in_each_wire(tmp_path: Path) -> None:
    state = played(tmp_path, changed((folder("sample_sessions") / CLEAN).read_text(encoding="utf-8")))
    assert state.clean
    pulls = [f"pull-{wire}{end}" for wire in "abc" for end in ("", "2")]
    assert set(pulls) | {"shield", "battery-on", "tow-in"} <= set(state.done)
    assert "wire-left" not in state.done


def test_a_far_end_that_slips_in_its_barrel_stops_the_job(tmp_path: Path) -> None:
    text = changed((folder("sample_sessions") / CLEAN).read_text(encoding="utf-8"))
    slips = text.replace('"slip_b2", say = "no"', '"slip_b2", say = "yes"')
    assert slips != text
    state = played(tmp_path, slips)
    assert not state.clean
    assert "pull-b2" not in state.done
