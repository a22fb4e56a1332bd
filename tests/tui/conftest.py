"""What all screen tests share: a terminal with colours, whatever the machine that runs them says."""

import os

os.environ.pop("NO_COLOR", None)
os.environ.pop("TUGTEST_LOOKS", None)
os.environ["COLORTERM"] = "truecolor"
