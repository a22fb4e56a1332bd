"""``tugtest page --procedure``: a procedure to read, with all that a person must see, in its order."""

import re
from html import unescape
from pathlib import Path

import pytest

from engine.procedure.load import load
from engine.shipped import find, shipped
from tests.cli.running import Tugtest


@pytest.mark.parametrize("name", [path.stem for path in shipped()])
def test_the_page_has_every_step_in_order_with_its_warnings_entries_and_limits(
    tugtest: Tugtest, tmp_path: Path, name: str
) -> None:
    target = tmp_path / "job.html"
    assert tugtest("page", "--procedure", name, "-o", str(target)).status == 0
    said = unescape(re.sub(r"<[^>]+>", "", target.read_text(encoding="utf-8")))
    procedure, at = load(find(name)), 0
    for number, step in enumerate(procedure.steps, start=1):
        at = said.index(f"{number} {step.title}", at)
        wanted = [warning.hazard for warning in step.warnings] + [entry.ask for entry in procedure.entries_of(step)]
        wanted += [step.action, *(limit.says for limit in step.limits), *(part.name for part in step.parts)]
        end = said.find(f"{number + 1} {procedure.steps[number].title}", at) if number < len(procedure.steps) else None
        assert [text for text in wanted if text not in said[at:end]] == []
    assert [zone.name for zone in procedure.zones if zone.name not in said] == []


def test_what_a_file_says_is_text_on_the_page_and_no_markup(tugtest: Tugtest, tmp_path: Path) -> None:
    job = tmp_path / "anchor-light.toml"
    tugtest("new", str(job))
    text = job.read_text(encoding="utf-8").replace("Pull the pair", "<script>Pull</script>")
    job.write_text(text, encoding="utf-8")
    target = tmp_path / "job.html"
    assert tugtest("page", "--procedure", str(job), "-o", str(target)).status == 0
    page = target.read_text(encoding="utf-8")
    assert "<script" not in page
    assert "&lt;script&gt;Pull" in page


def test_it_is_put_over_nothing_but_a_page(tugtest: Tugtest, tmp_path: Path) -> None:
    target = tmp_path / "mine.html"
    target.write_text("mine", encoding="utf-8")
    assert tugtest("page", "--procedure", "outlet-12v", "-o", str(target)).status == 2
    assert target.read_text(encoding="utf-8") == "mine"


def test_without_a_log_and_a_procedure_it_says_what_to_name(tugtest: Tugtest) -> None:
    ran = tugtest("page")
    assert ran.status == 2
    assert "--procedure" in ran.err
