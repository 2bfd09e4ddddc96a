"""How fast the machine works at this moment, so that a busy or a slow one changes no test.

A limit in seconds says little where others use the cores too: it is multiplied by `slowness()`, so
that what is asserted is how long something takes beside a work that is always the same.
"""

from __future__ import annotations

import json
import time

_TREE = {f"line {i}": [{"text": f"F_m = {i * j} N", "right": bool(j % 2)} for j in range(9)]
         for i in range(40)}  # fmt: skip

USUAL = 0.0007
"""Seconds of processor time that the work takes on a free machine of the kind the limits suit."""

MOST = 4.0
"""A machine slower than this has the limits of one that is so slow."""


def slowness() -> float:
    """Return how many times as long as usual a standard work takes now, from 1 to `MOST`."""
    times = []
    for _ in range(5):
        began = time.process_time()
        json.dumps(_TREE, indent=1)  # with an indent, it is written in Python
        times.append(time.process_time() - began)
    return min(MOST, max(1.0, min(times) / USUAL))
