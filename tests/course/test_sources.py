"""Where numbers come from: a comment says so beside each number of every problem that ships.

problems/README.md tells the rule, and lists what is cited, with how it was read.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from helpers.source import ROOT

SHIPPED = sorted((ROOT / "problems").glob("*/*.toml"))
PUBLISHED = sorted((ROOT / "tests" / "published").glob("*.toml"))

KEYS = ("from", "value", "fraction", "share")
NUMBER = re.compile(rf"\b(?:{'|'.join(KEYS)})\s*=\s*\"?\d")
"""What a line has on which a range or a fixed number begins."""

YEAR = r"\b(?:1[89]|20)\d\d\b"
FORM = re.compile(rf"Source: \w.*{YEAR}|From memory: \w|Chosen for the exercise: \w")


def comment_at(lines: list[str], row: int) -> str:
    """Return the comment on a line, or else the one that ends right above it."""
    if " # " in lines[row]:
        return lines[row].rpartition(" # ")[2]
    first = row
    while first and lines[first - 1].startswith("#"):
        first -= 1
    return " ".join(line.strip("# ") for line in lines[first:row])


def comments_of(text: str) -> list[tuple[str, str]]:
    """Return each line of a problem file on which a number begins, with its comment."""
    lines = text.splitlines()
    rows = [row for row, line in enumerate(lines) if NUMBER.search(line)]
    return [(lines[row], comment_at(lines, row)) for row in rows]


def unsourced(text: str) -> list[str]:
    """Return the lines of a problem file whose numbers come from nowhere."""
    return [line for line, comment in comments_of(text) if not FORM.match(comment)]


def numbers_in(table: Any) -> Iterator[str]:
    """Yield the key of each range and each fixed number of a file as TOML reads it."""
    if isinstance(table, list):
        for item in table:
            yield from numbers_in(item)
    elif isinstance(table, dict):
        # The edges of a base of support are tables with a number each.
        yield from (key for key in KEYS if not isinstance(table.get(key, {}), dict))
        for key, item in table.items():
            if key != "own":  # its limits stand on the line of their range
                yield from numbers_in(item)


def sources() -> list[str]:
    """Return what problems/README.md lists as read, as comments cite it."""
    text = (ROOT / "problems" / "README.md").read_text("utf-8")
    return re.findall(rf"^\| (\w[^|]*{YEAR}) \|", text, re.MULTILINE)


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_every_number_that_ships_says_where_it_comes_from(path: Path) -> None:
    text = path.read_text("utf-8")
    assert unsourced(text) == []
    assert len(comments_of(text)) == len(list(numbers_in(tomllib.loads(text)))) > 2


@pytest.mark.parametrize(
    "text",
    [
        "mass = { from = 1, to = 2 }",
        "# From memory: a light bag.\n\nmass = { from = 1, to = 2 }",
        "# From memory: a light bag.\nunit = 'kg'\nshare = 0.5",
        "# Common practice in textbooks.\nvalue = 5",
        "# From memory:\nvalue = 5",
        "# Source: a book on the body, table 4.\nat = { symbol = 'd', fraction = 0.5 }",
        "# A light bag (from memory).\nmass = { value = 3 }",
    ],
)
def test_what_says_it_otherwise_or_elsewhere_is_found(text: str) -> None:
    assert len(unsourced(text)) == 1


@pytest.mark.parametrize(
    "text",
    [
        "# From memory: a light bag.\nmass = { from = 1, to = 2 }",
        "mass = { from = 1, to = 2 }  # Chosen for the exercise: a light bag.",
        "# Source: A. Author, A Book, 2nd ed., 1999, table 4, which has\n# no more.\nshare = 0.5",
    ],
)
def test_what_says_it_beside_is_not_found(text: str) -> None:
    assert unsourced(text) == []


def test_what_is_cited_is_listed_and_what_is_listed_is_cited() -> None:
    comments = [c for p in SHIPPED for _, c in comments_of(p.read_text("utf-8"))]
    cited = {c.removeprefix("Source: ") for c in comments if c.startswith("Source: ")}
    assert len(sources()) > 5
    assert [text for text in cited if not text.startswith(tuple(sources()))] == []
    assert [source for source in sources() if not any(source in text for text in cited)] == []


@pytest.mark.parametrize("path", PUBLISHED, ids=lambda path: path.stem)
def test_a_published_problem_names_its_book_with_its_edition(path: Path) -> None:
    """Or says that it is not known."""
    lines = path.read_text("utf-8").splitlines()
    told = comment_at(lines, next(i for i, line in enumerate(lines) if not line.startswith("#")))
    assert re.match(rf"\w.*, (?:{YEAR}|edition not known)\b", told)
