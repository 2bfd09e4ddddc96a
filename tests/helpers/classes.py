"""Classes whose records are marked, and the pages made of them."""

from __future__ import annotations

from collections.abc import Iterable
from concurrent.futures import Executor, ThreadPoolExecutor
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

from leverstep.drill.drill import Drill
from leverstep.marking.collecting import Student, by_student, gather, mark_all, mark_class
from leverstep.marking.outputs import Outputs
from leverstep.marking.tables import MarkTables
from leverstep.reports.figures import Figures
from leverstep.reports.gathering import ClassFigures

from helpers.drills import drill_with
from helpers.material import CATALOGUE


def marked_in(drill: Drill, folder: Path) -> list[Student]:
    """Return the students of the records in a folder."""
    with ThreadPoolExecutor(1) as pool:
        return list(by_student(drill, mark_all(drill, CATALOGUE, gather([folder]).records, pool)))


def write_tables(
    drill: Drill, records: Path, out: Path, executor: Executor, before: Path | None = None
) -> list[str]:
    """Mark the records in a folder into tables; return what is told of these."""
    found = gather([records]).records
    with Outputs(out) as files:
        tables = MarkTables(drill, files, before)
        mark_class(drill, CATALOGUE, found, executor, [tables])
        return tables.finish()


def figures_of(drill: Drill, students: Iterable[Student]) -> Figures:
    """Return the figures of some students."""
    collected = ClassFigures(drill, CATALOGUE)
    for student in students:
        collected.add(student)
    return collected.figures()


class Page(HTMLParser):
    """Checks a page as it is fed: tags are closed in order, and nothing is fetched or run."""

    HEAD = frozenset(["html", "head", "meta", "title", "style", "body"])
    WORDS = frozenset(["h1", "h2", "h3", "p", "ul", "li", "div", "figure", "figcaption"])
    TABLE = frozenset(["table", "thead", "tbody", "tfoot", "tr", "th", "td"])
    TAGS = HEAD | WORDS | TABLE | {"svg", "text", "rect"}
    IN_HEAD = frozenset(["lang", "charset", "name", "http-equiv", "content"])
    IN_CHART = frozenset(["viewbox", "role", "aria-label", "x", "y", "width", "height"])
    ATTRIBUTES = IN_HEAD | IN_CHART | {"class", "text-anchor"}
    EMPTY = frozenset(["meta", "rect"])

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.said: list[str] = []

    def feed(self, data: str) -> None:
        """Read a whole page."""
        super().feed(data)
        self.close()
        assert self.open == []
        for word in ("http:", "https:", "url(", "@import", "javascript:", "src=", "href="):
            assert word not in data.replace("https://example.org", "")
        assert all(character.isprintable() or character == "\n" for character in data)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Take a tag that a report may hold."""
        assert tag in self.TAGS
        assert {name for name, _ in attrs} <= self.ATTRIBUTES
        if tag not in self.EMPTY:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Take a tag that is closed at once."""
        self.handle_starttag(tag, attrs)

    def handle_endtag(self, tag: str) -> None:
        """Close the tag opened last."""
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        """Keep what is said."""
        self.said.append(data)


class Leaf(Page):
    """Checks a page of sheets as it is fed: tags are closed in order, nothing is fetched or run."""

    DRAWN = frozenset(["svg", "title", "line", "path", "polygon", "circle", "rect", "text"])
    TAGS = Page.TAGS | DRAWN | {"strong", "span", "small", "b", "section"}
    EMPTY = Page.EMPTY | {"line", "path", "polygon", "circle"}
    PEN = frozenset(["stroke", "stroke-width", "stroke-dasharray", "fill", "d", "points", "r"])
    PLACE = frozenset(["x1", "x2", "y1", "y2", "cx", "cy", "xmlns", "textlength", "lengthadjust"])
    ATTRIBUTES = Page.ATTRIBUTES | PEN | PLACE | {"font-family", "font-size", "style"}

    def feed(self, data: str) -> None:
        """Read a whole page; the name of SVG is no address that is fetched."""
        super().feed(data.replace('xmlns="http://www.w3.org/2000/svg"', ""))


HOSTILE = (
    "<script>alert(1)</script>",
    r"\input{/etc/passwd}",
    r"$x$ \^^5cinput ^^M %",
    "``` `` ` end",
    "\x1b[31mred\x07\n# new",
    "\u202egnirts\u200f \udcff",
    "**b** [l](https://example.org) |",
    "-- #1 & {_} ~ \"q\" 'r'",
)
"""Texts that would be markup, a command, a file or a control sign where they are not escaped."""


CLASS = {"s01": "Ida Example", "s02": "Odo Example", "s03": ""}


def class_drill(rules: str = "", fixed: bool = False) -> Drill:
    """Return a drill of two tasks with a roster of three."""
    drill = replace(drill_with(rules), students=CLASS)
    if fixed:
        drill = replace(drill, items=tuple(replace(item, fixed=True) for item in drill.items))
    return drill
