"""How often a right line of a page is still called right once one thing in it is changed.

Prints the table of README: `python tests/benchmarks/altered.py [SEED]`. A line is changed by a
program that knows nothing of statics; now and then it is true after the change.
"""

from __future__ import annotations

import random
import sys
from collections import Counter

import checkout  # noqa: F401  (before what it finds)
from helpers.altered_lines import altered_lines, standing_of
from helpers.labelled_pages import PAGES, labelled_page
from leverstep.claims.judged_line import LineStanding
from machine import machine

_OF_A_PAGE = 6
"""So many changed lines of a page are judged."""
_DONE = {
    LineStanding.WRONG: "called wrong",
    LineStanding.UNREAD: "asked or not judged",
    LineStanding.REMARK: "no claim",
    LineStanding.RIGHT: "called right",
    LineStanding.KEPT: "called right",
    LineStanding.FOLLOWS: "called right",
}


def main() -> None:
    """Change lines of all learnt pages and print what came of them, by what was changed."""
    chance = random.Random(int(sys.argv[1]) if len(sys.argv) > 1 else 1)
    count: Counter[tuple[str, str]] = Counter()
    for path in sorted(PAGES.glob("*.json")):
        page = labelled_page(path)
        for altered in altered_lines(page, chance)[:_OF_A_PAGE]:
            count[altered.change, _DONE[standing_of(page, altered)]] += 1
    outcomes = list(dict.fromkeys(_DONE.values()))
    print(machine(), end="\n\n")
    print(f"{'changed':17} {'lines':>5}", *(f"{one:>20}" for one in outcomes))
    for change in sorted({change for change, _ in count}):
        _print_row(change, [count[change, one] for one in outcomes])
    _print_row("all", [sum(n for (_, one), n in count.items() if one == o) for o in outcomes])


def _print_row(name: str, counts: list[int]) -> None:
    total = sum(counts)
    shares = (f"{number:10} {number / total:7.1%}".replace("%", " %") for number in counts)
    print(f"{name:17} {total:5}", *(f"{share:>20}" for share in shares))


if __name__ == "__main__":
    main()
