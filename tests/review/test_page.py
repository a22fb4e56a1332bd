"""The page of a log: stands alone, asks for nothing, holds hostile texts as texts, says first what was not measured."""

import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from engine.review.audit import Audit, audit, audit_file
from engine.review.page import index, page
from engine.review.row import row_of
from tests.review.forging import ALTERED_AT, CLEAN, MENDED, first, rebuilt, without
from tests.samples.remake import Sample

HOSTILE = (
    '"><script>document.title="hit"</script><img src=x onerror=\'document.title="hit"\'>'
    "{{ 7*7 }}{% raw %}</style></title><svg onload=document.title='hit'>\u202eabc\x1b[31m"
)
MOST = 80
"""Longest name of a boat or person that the program records, in characters."""

VOID = {"meta", "link", "img", "br", "path", "line", "circle", "rect", "polyline"}


class Tags(HTMLParser):
    """Every tag and attribute of a page, and every text outside of style."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str]] = []
        self.text = ""
        self._inside = ""
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += [(name, value or "") for name, value in attrs]
        self._inside = tag if tag in ("style", "title") else self._inside

    def handle_endtag(self, tag: str) -> None:
        self._inside = "" if tag == self._inside else self._inside

    def handle_data(self, data: str) -> None:
        self.text += "" if self._inside else data


def hostile() -> Audit:
    """Return the audit of a log with hostile texts wherever a person types."""

    def change(events: list[dict]) -> None:
        first(events, event="opened").update(asset=HOSTILE, person=HOSTILE, place=HOSTILE)
        first(events, event="reading", entry="label_text").update(raw=HOSTILE, label=HOSTILE)
        first(events, event="reading", entry="v_bank").update(raw=HOSTILE)
        first(events, event="finding", step="polarity").update(sentence=HOSTILE, limits=[HOSTILE])
        events.insert(-1, {**_stamp(events[-1]), "event": "note", "step": HOSTILE, "text": HOSTILE})
        events.insert(-1, {**_stamp(events[-1]), "event": "file_attached", "step": "label", "name": HOSTILE,
                           "sha256": HOSTILE, "size": 3})  # fmt: skip

    return audit(rebuilt(change, header={"asset": HOSTILE}), HOSTILE)


def _stamp(event: dict) -> dict:
    return {key: event[key] for key in ("n", "at", "mono")}


@pytest.fixture(scope="module")
def clean() -> str:
    return page(audit_file(CLEAN))


@pytest.fixture(scope="module")
def bad() -> str:
    return page(hostile())


def test_the_page_has_no_script_frame_or_form(clean: str) -> None:
    assert not {"script", "iframe", "object", "embed", "form", "base", "audio", "video"} & set(Tags(clean).tags)


@pytest.mark.parametrize("which", ["clean", "bad"])
def test_no_attribute_leads_out_of_the_page(which: str, request: pytest.FixtureRequest) -> None:
    links = [v for n, v in Tags(request.getfixturevalue(which)).attributes if n in ("src", "href", "srcset", "action")]
    assert {link.split(":")[0] if ":" in link else link[:1] for link in links} <= {"data", "#"}


def test_the_style_asks_for_nothing(clean: str) -> None:
    assert not re.search(r"url\(|@import|https?:|expression\(", clean[: clean.index("</style>")])


def test_hostile_texts_bring_no_tag_and_no_attribute_of_their_own(clean: str, bad: str) -> None:
    assert set(Tags(bad).tags) <= set(Tags(clean).tags)
    assert not [name for name, _ in Tags(bad).attributes if name.startswith("on")]


def test_hostile_texts_are_still_there_to_be_read(bad: str) -> None:
    assert '<script>document.title="hit"</script>' in Tags(bad).text


def test_template_words_in_a_name_are_not_carried_out(bad: str) -> None:
    assert "{{ 7*7 }}{% raw %}" in Tags(bad).text


def test_signs_that_turn_or_steer_text_are_written_out(bad: str) -> None:
    assert "\u202e" not in bad
    assert "\x1b" not in bad
    assert "<U+202E>" in Tags(bad).text


def test_what_was_not_measured_stands_before_every_value_and_verdict() -> None:
    def skipped(events: list[dict]) -> list[dict]:
        gone = first(events, event="reading", entry="v_bank")
        at = events.index(gone)
        events[at] = {**_stamp(gone), "event": "not_measured", "entry": "v_bank", "step": gone["step"],
                      "reason": "cannot be reached"}  # fmt: skip
        return events

    text = Tags(page(audit(rebuilt(skipped), "x"))).text
    assert text.index("cannot be reached") < text.index("The circuit") < text.index("Step by step")


def test_an_altered_file_is_said_to_be_not_trusted_before_anything_of_it_is_shown() -> None:
    text = Tags(page(audit(CLEAN.read_bytes().replace(b'raw = "24.36"', b'raw = "24.06"'), "bad.toml"))).text
    assert text.index("not to be trusted") < text.index("The job")
    assert f"altered: event {ALTERED_AT}" in text


def test_what_does_not_agree_stands_on_the_page() -> None:
    text = Tags(page(audit(rebuilt(without(event="hold_cleared", step="polarity")), "x"))).text
    assert "the hold is not recorded as opened" in text


@pytest.mark.parametrize("data", [b"", b"hello", CLEAN.read_bytes()[:5000]])
def test_a_file_that_holds_no_events_still_gives_a_page(data: bytes) -> None:
    assert "</html>" in page(audit(data, "broken.toml"))


def test_the_whole_head_and_the_short_one_stand_on_the_page(clean: str) -> None:
    found = audit_file(CLEAN)
    assert found.head in Tags(clean).text
    assert found.whole_head in Tags(clean).text


def test_a_value_stands_as_typed_with_what_was_understood_and_what_it_replaced(sample: Sample) -> None:
    text = Tags(page(audit_file(sample(MENDED)))).text
    assert "10 AWG" in text
    assert "before: 10 AWG" in text


def test_every_source_that_is_pointed_to_is_there(clean: str) -> None:
    found = Tags(clean).attributes
    ids = {value for name, value in found if name == "id"}
    assert {value[1:] for name, value in found if name == "href" and value.startswith("#")} <= ids


def test_no_id_stands_twice(clean: str) -> None:
    ids = [value for name, value in Tags(clean).attributes if name == "id"]
    assert len(ids) == len(set(ids))


def colours(sheet: str) -> dict[str, str]:
    return dict(re.findall(r"--([a-z]+): (#[0-9a-f]{3,6})", sheet))


def contrast(one: str, two: str) -> float:
    """Return the contrast of two colours. Source: WCAG 2.2, relative luminance and contrast ratio (as read)."""
    high, low = sorted((_luminance(one), _luminance(two)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def _luminance(colour: str) -> float:
    full = "".join(c * 2 for c in colour[1:]) if len(colour) == 4 else colour[1:]
    parts = [int(full[n : n + 2], 16) / 255 for n in (0, 2, 4)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


SHEET = (Path(__file__).resolve().parents[2] / "engine" / "review" / "page" / "style.css").read_text(encoding="utf-8")
_DARK, _PRINT = SHEET.index("@media (prefers-color-scheme: dark)"), SHEET.index("@media print")


@pytest.mark.parametrize(
    "sheet",
    [SHEET[:_DARK], SHEET[_DARK : SHEET.index("* {")], SHEET[_PRINT:]],
    ids=["light", "dark", "print"],
)
@pytest.mark.parametrize("ground", ["ground", "box"])
def test_every_colour_of_text_has_a_contrast_of_seven_to_one(sheet: str, ground: str) -> None:
    named = colours(sheet)
    words = ("text", "quiet", "pass", "marginal", "undecided", "missing", "fail", "link")
    assert {name for name in words if contrast(named[name], named[ground]) < 7} == set()


def test_an_index_lists_every_log_with_its_record_and_links_to_its_page() -> None:
    rows = [row_of(audit_file(CLEAN)), row_of(hostile())]
    tags = Tags(index(rows, ["clean.html", "a b.html"]))
    assert "script" not in tags.tags
    assert {"clean.html", "a%20b.html"} <= {value for name, value in tags.attributes if name == "href"}
    assert "grey-heron-clean.toml" in tags.text


def test_what_did_not_pass_stands_before_the_job_with_the_step_that_says_so(sample: Sample) -> None:
    text = " ".join(Tags(page(audit_file(sample("kestrel-6-fault")))).text.split())
    at = text.index("Did not pass")
    assert text.index("Not measured, not done") < at < text.index("The job")
    assert "fail x The ground under load: " in text[at : text.index("The job")]


def test_a_job_that_passed_has_no_such_list(clean: str) -> None:
    assert "Did not pass" not in clean
