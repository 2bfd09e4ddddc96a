"""The pages of `tests/pages`, as students write them, with what a reader found of their lines.

A page is on a problem as it was when the page was written, which may be retired since.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

from leverstep.course.problem import Question
from leverstep.course.shelf import load_shelf

from helpers.source import TESTS

PAGES = TESTS / "pages"
SHIPPED = load_shelf().problems
SETS = {
    "first": range(61, 85),
    "second": range(85, 109),
    "third": range(109, 133),
    "fourth": range(133, 157),
    "fifth": range(157, 181),
    "sixth": range(181, 205),
    "seventh": range(205, 214),
    "eighth": range(225, 237),
    "ninth": range(401, 457),
    "tenth": range(457, 473),
    "eleventh": (*range(473, 482), *range(491, 500)),
    "twelfth": (*range(482, 491), *range(500, 509)),
    "thirteenth": range(509, 533, 2),
    "fourteenth": range(533, 565, 2),
    "fifteenth": (302, 304, 306, *range(310, 333, 2), *range(510, 533, 2)),
    "sixteenth": range(534, 565, 2),
}
"""The numbers of the pages that were written at one time."""


@dataclass(frozen=True, slots=True)
class LabelledPage:
    """A page of a problem with the numbers of a seed.

    `found` has what a reader found of its lines, by their number from 1: "right", "follows",
    "wrong" or "remark".
    """

    problem: str
    seed: str
    texts: tuple[str, ...]
    found: dict[int, str]

    @property
    def question(self) -> Question:
        """Return what the page is about."""
        return SHIPPED[self.problem].question(self.seed)


def labelled_page(path: Path) -> LabelledPage:
    """Return the page of a file that tells what a reader found; its text lies beside it."""
    told = json.loads(path.read_text("utf-8"))
    texts = path.with_suffix(".page").read_text("utf-8").splitlines()
    found = {line["n"]: line["is"] for line in told["lines"]}
    return LabelledPage(told["problem"], str(told["seed"]), tuple(texts), found)


def pages_of(name: str) -> list[LabelledPage]:
    """Return the pages of a set."""
    return [labelled_page(PAGES / f"{number}.json") for number in SETS[name]]
