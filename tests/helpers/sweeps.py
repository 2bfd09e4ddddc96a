"""How many sets of numbers a test draws of a problem: few in each run, more where asked for.

`SWEEP=5 python -m pytest tests/diagram` goes over five times as many.
"""

from __future__ import annotations

import os

TIMES = int(os.environ.get("SWEEP", "1"))


def seeds(count: int) -> list[str]:
    """Return the seeds of so many sets of numbers, or of as many times that as is asked for."""
    return [str(seed) for seed in range(count * TIMES)]
