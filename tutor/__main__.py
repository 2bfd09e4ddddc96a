"""`python -m tutor` is the same as the command `leverstep`."""

import sys

from tutor.cli import main

sys.exit(main())
