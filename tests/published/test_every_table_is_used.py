"""Nothing is printed here that no rule, profile or test uses."""

import re
from pathlib import Path

import pytest

from engine.published.profiles import profile, profile_names
from engine.published.tables import tables, topics
from engine.rules import sources
from engine.rules.registry import CHECK_NAMES, check
from engine.source import Seen

TOP = Path(__file__).parents[2]
TEXT = [path.read_text(encoding="utf-8") for folder in ("engine", "tests") for path in (TOP / folder).rglob("*.py")]
NAMED = {
    *(str(source) for name in CHECK_NAMES for source in check(name).sources),
    *(str(getattr(sources, name)) for name in dir(sources) if name.isupper()),
    *(str(source) for name in profile_names() for source in profile(name).sources.values()),
}


@pytest.mark.parametrize("topic", topics())
def test_every_table_is_read_or_is_the_source_of_a_rule(topic: str) -> None:
    for found in tables(topic):
        read = re.compile(rf'"{topic}",\s*"{found.name}"')
        used = str(found.source) in NAMED or any(read.search(text) for text in TEXT)
        assert used, found.name


@pytest.mark.parametrize("name", [name for name in CHECK_NAMES if check(name).firm])
def test_no_firm_check_rests_on_what_nobody_read(name: str) -> None:
    # Source: this project's rule: what may never be overridden does not rest on memory.
    assert [str(source) for source in check(name).sources if source.seen is Seen.MEMORY] == []
