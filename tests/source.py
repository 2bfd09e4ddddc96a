"""Where the sources lie: the checkout, the folder of the package, and the package."""

from __future__ import annotations

from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
SOURCE = ROOT / "tutor"
PACKAGE = SOURCE / "leverstep"
