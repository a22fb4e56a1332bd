"""``python -m tugtest``: the same as the command."""

import sys

from tugtest import main

sys.exit(main())
