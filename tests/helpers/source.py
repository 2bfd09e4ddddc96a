"""Where the sources lie: the checkout, its tests, the folder of the package, and the package."""

from __future__ import annotations

from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
TESTS = ROOT / "tests"
SOURCE = ROOT / "tutor"
PACKAGE = SOURCE / "leverstep"
