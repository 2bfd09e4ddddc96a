"""A student made for measuring the diagnosis, who shares no arithmetic with the tutor.

`sheet` and `right` work every line in plain floats, from the givens alone; `moves` makes the wrong
moves that the catalogue of slips describes, and `entries` types lines as arithmetic and equations.
"""

from __future__ import annotations

import sys
from pathlib import Path

# The tutor is the one of this folder, whatever else is installed.
sys.path.insert(0, str(Path(__file__).resolve().parent.parent.parent.parent))
