"""Draws the pictures of README anew: `python tests/pictures`."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from pictures.scenes import SCENES, picture

if __name__ == "__main__":
    for name in SCENES:
        path = Path(__file__).parent / f"{name}.svg"
        path.write_text(picture(name), encoding="utf-8", newline="\n")
        print(path.name)
