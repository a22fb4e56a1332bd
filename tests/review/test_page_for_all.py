"""The page for whoever hears it or sees it poorly: axe-core, run in the browser on the page itself, light and dark."""

import html
import json
import os
import re
import shutil
import subprocess
from pathlib import Path

import pytest

from engine.review.audit import Audit, audit, audit_file
from engine.review.page import index, page
from engine.review.row import row_of
from tests.review.forging import CLEAN, MENDED, rebuilt, without
from tests.samples.remake import Sample
from tests.tools import absent

BROWSER = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")

AXE = Path(os.environ.get("TUGTEST_AXE", "axe.min.js"))
"""The script axe.min.js of the npm package axe-core, as .ci/run puts it there."""

pytestmark = [
    pytest.mark.skipif(absent("chromium", there=bool(BROWSER)), reason="no Chromium on this machine"),
    pytest.mark.skipif(
        absent("axe", there=AXE.is_file()), reason="TUGTEST_AXE names no axe.min.js of the npm package axe-core"
    ),
]

RUN = """
axe.run(document, {resultTypes: ['violations']}).then(found => {
  const said = found.violations.map(v => v.id + ': ' + v.nodes.map(n => n.target).slice(0, 3).join(' '))
  const told = document.createElement('pre')
  told.id = 'axe-said'
  told.textContent = JSON.stringify({passes: found.passes.length, violations: said})
  document.body.append(told)
})
"""


def violations(tmp_path: Path, text: str, *options: str) -> list[str]:
    """Return what axe-core finds wrong; the page's own policy is taken out, since it stops scripts, axe-core's too."""
    open_to_scripts = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", text)
    script = f"<script>{AXE.read_text(encoding='utf-8')}</script><script>{RUN}</script></body>"
    (tmp_path / "page.html").write_text(open_to_scripts.replace("</body>", script), encoding="utf-8")
    fixed = ("--headless", "--no-sandbox", "--disable-gpu", "--virtual-time-budget=20000", "--dump-dom",
             f"--user-data-dir={tmp_path / 'user'}")  # fmt: skip
    command = [str(BROWSER), *fixed, *options, (tmp_path / "page.html").as_uri()]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=True)
    told = re.search(r'<pre id="axe-said">(.*?)</pre>', done.stdout, re.DOTALL)
    assert told, "axe-core did not end"
    found = json.loads(html.unescape(told[1]))
    assert found["passes"] > 10
    return list(found["violations"])


def unfinished() -> Audit:
    """Return a log with problems in every place that a page has for them."""
    return audit(rebuilt(without(event="hold_cleared", step="prove-dead")), "unfinished.toml")


LOOKS = [(), ("--blink-settings=preferredColorScheme=0",), ("--window-size=375,800",)]


@pytest.mark.parametrize("look", LOOKS, ids=["light", "dark", "phone"])
def test_axe_finds_nothing_wrong_with_the_page_of_a_log(tmp_path: Path, look: tuple[str, ...], sample: Sample) -> None:
    assert violations(tmp_path, page(audit_file(sample(MENDED))), *look) == []


@pytest.mark.parametrize("look", LOOKS[:2], ids=["light", "dark"])
def test_axe_finds_nothing_wrong_with_the_page_of_a_doubtful_log(tmp_path: Path, look: tuple[str, ...]) -> None:
    assert violations(tmp_path, page(unfinished()), *look) == []


def test_axe_finds_nothing_wrong_with_an_index(tmp_path: Path) -> None:
    rows = [row_of(audit_file(CLEAN)), row_of(unfinished())]
    assert violations(tmp_path, index(rows, ["clean.html", "unfinished.html"])) == []


def test_axe_would_have_said_so(tmp_path: Path) -> None:
    said = violations(tmp_path, page(audit_file(CLEAN)).replace("</main>", '<img src="data:,"></main>'))
    assert [line.split(":")[0] for line in said] == ["image-alt"]
