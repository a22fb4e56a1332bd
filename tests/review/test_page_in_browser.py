"""The page in a real browser: it opens without a word of complaint, asks for nothing, and prints with nothing cut."""

import json
import shutil
import subprocess
from pathlib import Path

import pytest

from engine.review.audit import audit, audit_file
from engine.review.page import page
from tests.review.forging import CLEAN, first, rebuilt
from tests.review.test_page import hostile
from tests.tools import absent

BROWSER = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
PDF_TEXT = shutil.which("pdftotext")

pytestmark = pytest.mark.skipif(absent("chromium", there=bool(BROWSER)), reason="no Chromium on this machine")
READABLE = pytest.mark.skipif(absent("pdftotext", there=bool(PDF_TEXT)), reason="no pdftotext on this machine")


def browse(tmp_path: Path, html: str, *options: str) -> subprocess.CompletedProcess[str]:
    file = tmp_path / "page.html"
    file.write_text(html, encoding="utf-8")
    fixed = ("--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--no-first-run",
             f"--user-data-dir={tmp_path / 'user'}")  # fmt: skip
    command = [str(BROWSER), *fixed, *options, file.as_uri()]
    return subprocess.run(command, capture_output=True, text=True, timeout=120, check=True)


def printed(tmp_path: Path, html: str) -> str:
    browse(tmp_path, html, "--no-pdf-header-footer", f"--print-to-pdf={tmp_path / 'page.pdf'}")
    done = subprocess.run([str(PDF_TEXT), "-layout", str(tmp_path / "page.pdf"), "-"], capture_output=True, check=True)
    return done.stdout.decode()


def test_hostile_texts_do_nothing_when_the_page_is_opened(tmp_path: Path) -> None:
    probe = "<script>document.title='probe ran'</script>"
    dom = browse(tmp_path, page(hostile()).replace("</main>", f"{probe}</main>"), "--dump-dom").stdout
    assert "<title>hit" not in dom
    assert "<title>probe ran" not in dom  # the page's own policy stops even a script that stands in it


def test_nothing_is_said_on_the_console(tmp_path: Path) -> None:
    done = browse(tmp_path, page(audit_file(CLEAN)), "--enable-logging=stderr", "--v=0", "--dump-dom")
    assert "CONSOLE" not in done.stderr


def asked_for(tmp_path: Path, html: str) -> set[str]:
    """Return what the page itself asks for; what the browser asks of its maker at its start has no page behind it."""
    log = tmp_path / "net.json"
    browse(tmp_path, html, f"--log-net-log={log}", "--dump-dom")
    told = [event.get("params", {}) for event in json.loads(log.read_text(encoding="utf-8"))["events"]]
    return {str(said["url"]) for said in told if said.get("initiator", "not an origin") != "not an origin"}


def test_no_request_leaves_the_page(tmp_path: Path) -> None:
    assert asked_for(tmp_path, page(hostile())) == set()


def test_a_page_that_does_ask_for_something_would_be_noticed(tmp_path: Path) -> None:
    assert asked_for(tmp_path, "<img src='http://127.0.0.1:9/x.png'>") == {"http://127.0.0.1:9/x.png"}


@READABLE
def test_the_printed_page_holds_the_head_the_last_reading_and_the_last_source(tmp_path: Path) -> None:
    text = printed(tmp_path, page(audit_file(CLEAN)))
    assert audit_file(CLEAN).head in text
    assert "Bow motor 48 A 24 V; 6 AWG 105 degC; breaker 60 A at bank" in " ".join(text.split())
    assert "Where the limits come from" in text


@READABLE
def test_the_first_sheet_says_what_who_how_it_ended_what_was_gone_round_and_the_head(tmp_path: Path) -> None:
    def left_out(events: list[dict]) -> None:
        gone = first(events, event="reading", entry="v_bank")
        kept = {key: gone[key] for key in ("n", "at", "mono", "step")}
        gone.clear()
        gone.update(kept, event="not_measured", entry="v_bank", reason="cannot be reached")

    told = audit(rebuilt(left_out), "job.toml")
    sheet = " ".join(printed(tmp_path, page(told)).split("\f")[0].split())
    assert "Grey Heron: Bow-motor receptacle swap" in sheet
    for words in ("R. Marsh", "cannot be reached", "Hold points", "as planned: every part passes", told.head):
        assert words in sheet
    assert sheet.index("cannot be reached") < sheet.index("The job") < sheet.index("The circuit")


@READABLE
def test_the_main_job_takes_eight_sheets_at_most_and_each_carries_the_head_and_its_number(tmp_path: Path) -> None:
    told = audit_file(CLEAN)
    sheets = printed(tmp_path, page(told)).split("\f")[:-1]
    assert len(sheets) <= 8
    for number, sheet in enumerate(sheets, start=1):
        assert f"head {told.head}" in sheet
        assert f"{number} of {len(sheets)}" in sheet


@pytest.mark.parametrize("size", ["A4", "Letter"])
@READABLE
def test_on_either_paper_no_word_runs_over_the_right_edge(tmp_path: Path, size: str) -> None:
    html = page(audit_file(CLEAN)).replace("@page { margin: 14mm; }", f"@page {{ size: {size}; margin: 14mm; }}")
    browse(tmp_path, html, "--no-pdf-header-footer", f"--print-to-pdf={tmp_path / 'page.pdf'}")
    done = subprocess.run(
        [str(PDF_TEXT), "-bbox", str(tmp_path / "page.pdf"), "-"], capture_output=True, text=True, check=True
    )
    edges = [float(part.split('"')[1]) for part in done.stdout.split("xMax=")[1:]]
    widths = [float(part.split('"')[1]) for part in done.stdout.split("<page width=")[1:]]
    margin_pt = 14 / 25.4 * 72
    assert widths
    assert max(edges) <= widths[0] - margin_pt + 1


def test_on_a_phone_nothing_but_the_drawings_is_wider_than_the_screen(tmp_path: Path) -> None:
    page_html = page(audit_file(CLEAN)).replace(
        "svg { display: block; width: 100%; min-width: 34rem;", "svg { display: none;"
    )
    policy = "default-src 'none'; style-src 'unsafe-inline'"
    probe = (
        "<script>addEventListener('load', () => { document.title = 'w ' + "
        "Math.max(...[...document.querySelectorAll('body *')].map(e => e.getBoundingClientRect().right)) + "
        "' of ' + innerWidth })</script></body>"
    )
    html = page_html.replace(policy, f"{policy}; script-src 'unsafe-inline'").replace("</body>", probe)
    framed = f"<iframe srcdoc='{html.replace(chr(39), '&#39;')}' width=375 height=800></iframe>"
    copied = "onload = () => document.title = document.querySelector('iframe').contentDocument.title"
    shown = f"<body>{framed}<script>{copied}</script>"
    dom = browse(tmp_path, shown, "--dump-dom", "--virtual-time-budget=3000").stdout
    told = dom[dom.index("<title>w ") + 9 :].split("<")[0].split(" of ")
    assert float(told[0]) <= float(told[1])
