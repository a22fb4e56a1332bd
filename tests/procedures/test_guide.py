"""The guide for authors: every example is sound, every key is named, and followed to the letter it leads to a job."""

import re
import shlex
import tomllib
from pathlib import Path

import pytest

from engine.procedure.language import STEP
from engine.procedure.limit import parse
from engine.procedure.load import load_text
from engine.procedure.rows import ENTRY, UNIT_OF
from engine.session.answers import _ACTIONS, load_answers
from engine.shipped import folder
from tests.cli.running import Tugtest

GUIDE = (folder("procedures") / "README.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"```toml\n(.*?)```", GUIDE, re.DOTALL)
PROSE = re.sub(r"```.*?```", "", GUIDE, flags=re.DOTALL)
SHIPPED = "\n".join(path.read_text(encoding="utf-8") for path in folder("procedures").rglob("*.toml"))

HEAD = 'schema = 2\nid = "example"\ntitle = "Example"\nrevision = "1"\nsummary = "One"\nscope = "One"\n'
SECTION = '[[section]]\nid = "work"\n[[section.step]]\n'
STEP_OF = f'{SECTION}id = "one"\ndo = "Do it."\nwhy = "It is an example."\n'


@pytest.fixture
def tugtest(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Tugtest:
    return Tugtest(monkeypatch, capsys, tmp_path / "sessions")


def fault_of(example: str, where: Path) -> str:
    """Load an example as what it is; the fault of one that is not sound."""
    try:
        if example.startswith("schema = 1"):
            file = where / "example.answers.toml"
            file.write_text(example, encoding="utf-8")
            load_answers(file)
        elif "[parameters]" in example:
            text = f'{HEAD}{SECTION}borrow = "glands"\nfill = {{ where = "at the mast" }}\n'
            assert len(load_text(text, "example.toml", block_reader=lambda name: example).steps) == 1
        elif example.startswith("["):
            assert [line for line in example.splitlines() if line not in SHIPPED.splitlines()] == []
        else:
            assert load_text(f"{HEAD}{STEP_OF}{example}", "example.toml").entry_by_id
    except ValueError as fault:
        return str(fault)
    return ""


@pytest.mark.parametrize("example", EXAMPLES, ids=[text.split("\n")[0][:40] for text in EXAMPLES])
def test_each_example_is_read_as_it_stands(example: str, tmp_path: Path) -> None:
    assert fault_of(example, tmp_path) == ""


def test_an_example_with_a_slip_would_be_found(tmp_path: Path) -> None:
    assert "mmm" in fault_of('read.depth = { ask = "Depth", mmm = [1, 2, 3, 4] }\n', tmp_path)


UNITS = {
    **dict.fromkeys(("gap", "depth", "strip"), "mm"),
    **dict.fromkeys(("v_one", "v_two"), "V"),
    **dict.fromkeys(("space", "glued"), "choice"),
    "taps": "",
}


@pytest.mark.parametrize(
    "limit", re.findall(r"^\| `([^`]+)` \|.*\|$", GUIDE.split("| a limit")[1].split("\n\n")[0], re.M)
)
def test_each_limit_of_the_table_is_one(limit: str) -> None:
    assert parse(limit, UNITS).names <= set(UNITS)


def test_the_page_names_every_key_of_a_step_and_of_a_row_and_every_action() -> None:
    ticked = set(re.findall(r"[a-z_]+", " ".join(re.findall(r"`([^`]+)`", PROSE))))
    keys = {*STEP.keys, *ENTRY.keys, *_ACTIONS} - set(UNIT_OF) | {"borrow", "fill", "fill_each", "makes"}
    assert keys - ticked - {"ask", "one_of", "of"} == set()


def test_followed_to_the_letter_it_leads_to_a_new_job_that_plays_clean(
    tugtest: Tugtest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    lines = [line.split("#")[0] for line in re.findall(r"^tugtest (.*)$", GUIDE, re.M)]
    new, lint, dry, play, _ = (shlex.split(line) for line in lines[:5])
    assert tugtest(*new).status == 0
    job, answers = Path("anchor-light.toml"), Path("anchor-light.answers.toml")
    text = job.read_text(encoding="utf-8")
    row = next(line for line in EXAMPLES[0].splitlines() if line.startswith("read.tugged"))
    added = row.replace("tugged", "still_firm").replace("pulled hard by hand", "after a night")
    borrowed = '[[section.step]]\nborrow = "glands"\nfill = { where = "at the mast", zones = ["branch"] }\n\n'
    text = text.replace(row, f"{row}\n{added}").replace(
        '[[section]]\nid = "prove"', f'{borrowed}[[section]]\nid = "prove"'
    )
    job.write_text(text.replace('"posts", "fuse"]', '"posts", "fuse", "gland"]'), encoding="utf-8")
    Path("blocks").mkdir()
    block = next(example for example in EXAMPLES if "[parameters]" in example)
    Path("blocks/glands.toml").write_text(block, encoding="utf-8")
    said = answers.read_text(encoding="utf-8")
    done = '  { done = "land" },\n'
    more = '  { give = "still_firm", say = "holds" },\n' + done
    more += '  { give = "gland_turns", say = "does not turn" },\n  { done = "glands" },\n'
    answers.write_text(said.replace(done, more), encoding="utf-8")
    linted = tugtest(*lint)
    assert linted.out == "anchor-light.toml: 0 faults, 0 doubts\n"
    assert tugtest(*dry).status == 0
    played = tugtest(*play)
    assert (played.status, played.err) == (0, "")
    assert "closed, clean" in played.out
    log = tomllib.loads(next(Path("trial").glob("*.toml")).read_text(encoding="utf-8"))
    assert "gland_turns" in str(log["event"])
