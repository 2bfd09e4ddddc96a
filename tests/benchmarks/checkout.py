"""The checkout that these benchmarks measure, whatever else is installed: import it first."""

from __future__ import annotations

import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "tutor"), str(ROOT / "tests")]
