"""What is loaded before the first screen is painted: nothing that takes its time."""

import subprocess
import sys

SLOW = ("pint", "jinja2", "schemdraw", "engine.procedure", "engine.session", "engine.view", "tomllib")


def test_the_app_is_imported_without_anything_slow() -> None:
    text = f"import sys, tui.app; print([name for name in {SLOW!r} if name in sys.modules])"
    done = subprocess.run([sys.executable, "-c", text], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_the_first_screen_is_shown_without_what_a_job_needs() -> None:
    text = (
        "import sys, tui.choosing, tui.screens.home, engine.session.shelf, engine.view.home\n"
        "print([name for name in ('tui.desk', 'engine.session.runner', 'engine.plan') "
        "if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", text], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_the_engine_is_opened_without_the_unit_library() -> None:
    text = (
        "import sys, tui.opening, tui.screens.step\n"
        "from engine.procedure.load import load\nfrom engine.shipped import find\n"
        "load(find('bow-receptacle'))\nprint('pint' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", text], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
