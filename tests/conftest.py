"""What holds for all tests: properties are tried at random at work, and with the same examples at every run of CI."""

import os

from hypothesis import settings

settings.register_profile("ci", derandomize=True)
if os.environ.get("CI"):
    settings.load_profile("ci")
