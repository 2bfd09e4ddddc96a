"""Pages as students write them, judged as a reader would judge them.

Each page of `tests/pages` has its lines with what a reader found: whether the line is right,
follows from an earlier mistake, is wrong, or is a remark. The sets were written one after the other
by readers who had not seen the code: what was learnt from one was tried on the next. From the set
kept aside nothing was learnt.
"""

from __future__ import annotations

import json
from collections import Counter

import pytest
from helpers.labelled_pages import PAGES, SETS, LabelledPage, labelled_page, pages_of
from leverstep.claims.judged_line import LineStanding
from leverstep.claims.page_of_claims import judge_page

SEEN = {LineStanding.RIGHT, LineStanding.KEPT, LineStanding.FOLLOWS}
JUDGED = {*SEEN, LineStanding.WRONG}
Counted = Counter[tuple[str, LineStanding]]
"""How often a line that a reader found so came out so."""


def counted(page: LabelledPage) -> Counted:
    judged = judge_page(page.question, page.texts).lines
    return Counter((found, judged[n - 1].standing) for n, found in page.found.items())


@pytest.fixture(scope="module")
def sets() -> dict[str, Counted]:
    return {name: sum(map(counted, pages_of(name)), Counter()) for name in SETS}


@pytest.fixture(scope="module")
def aside() -> Counted:
    """Return what came of the pages from which no rule was learnt."""
    return sum(
        map(counted, map(labelled_page, sorted((PAGES / "aside").glob("*.json")))), Counter()
    )


def those(found: Counted, read: set[str], came: set[LineStanding]) -> int:
    """Return how many lines a reader found so, and came out so."""
    return sum(
        count for (one, standing), count in found.items() if one in read and standing in came
    )


def test_every_page_has_its_lines_labelled() -> None:
    numbers = {int(path.stem) for path in PAGES.glob("*.json")}
    assert numbers == {number for numbers in SETS.values() for number in numbers}
    for path in PAGES.glob("*.json"):
        lines = path.with_suffix(".page").read_text("utf-8").splitlines()
        for line in json.loads(path.read_text("utf-8"))["lines"]:
            assert lines[line["n"] - 1] == line["text"]


@pytest.mark.parametrize(
    ("name", "seen", "of"),
    [
        ("first", 195, 203),
        ("second", 250, 252),
        ("third", 230, 232),
        ("fourth", 235, 241),
        ("fifth", 220, 227),
        ("sixth", 214, 217),
        ("seventh", 71, 75),
        ("eighth", 90, 92),
        ("ninth", 517, 546),
        ("tenth", 133, 146),
        ("eleventh", 173, 180),
        ("twelfth", 152, 177),
        ("thirteenth", 83, 93),
        ("fourteenth", 136, 138),
        ("fifteenth", 219, 238),
        ("sixteenth", 121, 139),
    ],
)
def test_lines_that_hold_are_seen(sets: dict[str, Counted], name: str, seen: int, of: int) -> None:
    holding = {"right", "follows"}
    assert those(sets[name], holding, set(LineStanding)) == of
    assert those(sets[name], holding, SEEN) >= seen


@pytest.mark.parametrize("name", SETS)
def test_no_line_that_holds_is_called_wrong(sets: dict[str, Counted], name: str) -> None:
    assert those(sets[name], {"right", "follows"}, set(LineStanding)) > 0
    assert those(sets[name], {"right", "follows"}, {LineStanding.WRONG}) == 0


@pytest.mark.parametrize(
    ("name", "most", "of"),
    [
        ("first", 3, 16),
        ("second", 1, 25),
        ("third", 0, 21),
        ("fourth", 0, 12),
        ("fifth", 0, 10),
        ("sixth", 0, 28),
        ("seventh", 0, 12),
        ("eighth", 0, 8),
        ("ninth", 2, 48),
        ("tenth", 1, 13),
        ("eleventh", 1, 15),
        ("twelfth", 1, 21),
        ("thirteenth", 1, 20),
        ("fourteenth", 0, 10),
        ("fifteenth", 0, 31),
        ("sixteenth", 2, 12),
    ],
)
def test_few_wrong_lines_pass(sets: dict[str, Counted], name: str, most: int, of: int) -> None:
    assert those(sets[name], {"wrong"}, set(LineStanding)) == of
    assert those(sets[name], {"wrong"}, SEEN) <= most


@pytest.mark.parametrize(
    ("name", "least"),
    [
        ("first", 11),
        ("second", 22),
        ("third", 20),
        ("fourth", 11),
        ("fifth", 10),
        ("sixth", 23),
        ("seventh", 10),
        ("eighth", 6),
        ("ninth", 14),
        ("tenth", 5),
        ("eleventh", 3),
        ("twelfth", 10),
        ("thirteenth", 6),
        ("fourteenth", 6),
        ("fifteenth", 16),
        ("sixteenth", 2),
    ],
)
def test_most_wrong_lines_are_called_wrong(sets: dict[str, Counted], name: str, least: int) -> None:
    assert those(sets[name], {"wrong"}, {LineStanding.WRONG}) >= least


@pytest.mark.parametrize("name", SETS)
def test_no_remark_is_judged(sets: dict[str, Counted], name: str) -> None:
    """Thirteen repeat a number in words: they are true, or follow, and none is called wrong."""
    most = {"ninth": 4, "tenth": 2, "twelfth": 1, "thirteenth": 1, "fifteenth": 5}.get(name, 0)
    assert those(sets[name], {"remark"}, set(LineStanding)) > 0
    assert those(sets[name], {"remark"}, JUDGED) <= most
    assert those(sets[name], {"remark"}, {LineStanding.WRONG}) == 0


def test_on_pages_from_which_nothing_was_learnt_little_is_called_wrong(aside: Counted) -> None:
    """They tell how pages in new hands come out.

    One of 155 lines that hold is called wrong: it rests on a given that was said to be an arm, and
    is told what is wrong with that.
    """
    holds = {"right", "follows"}
    assert those(aside, holds, set(LineStanding)) == 155
    assert those(aside, holds, SEEN) >= 127
    assert those(aside, holds, {LineStanding.WRONG}) <= 1
    assert those(aside, {"wrong"}, SEEN) <= 2
    assert those(aside, {"remark"}, {LineStanding.WRONG}) == 0
