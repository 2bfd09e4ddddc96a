"""Problem files broken in many ways: what comes of reading, deriving and vetting them.

Run as `python tests/benchmarks/broken.py [FILES] [FIRST]`. The same files are broken in the same
ways every time; FIRST is the number of the first of them.
"""

from __future__ import annotations

import sys
import traceback
from collections import Counter

import checkout  # noqa: F401  (before what it finds)
from helpers.broken_files import SHIPPED, broken, tried

FILES = 10_000


def main(count: int = FILES, first: int = 0) -> int:
    """Break so many files; print what came of them, and each of those that brought it down."""
    came: Counter[str] = Counter()
    for seed in range(first, first + count):
        path = SHIPPED[seed % len(SHIPPED)]
        try:
            came[tried(path, seed)] += 1
        except Exception:  # noqa: BLE001  (which is what is looked for)
            came["failed"] += 1
            print(f"{path.stem}, {seed}:\n{broken(path, seed)}\n{traceback.format_exc()}")
    print(f"{count} files broken: {came['told']} are told as they are read,")
    print(f"{came['vetted']} in vetting, {came['sound']} are still sound, {came['failed']} failed")
    return 1 if came["failed"] else 0


if __name__ == "__main__":
    numbers = [int(word) for word in sys.argv[1:]]
    sys.exit(main(*numbers))
