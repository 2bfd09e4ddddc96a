"""A student's own working as a page to keep or to hand in, with what came of each line."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count
from pathlib import Path

from leverstep.bench.bench import Bench
from leverstep.course.faults import FileError
from leverstep.course.new_file import write_new
from leverstep.course.places import path_typed
from leverstep.course.plain_text import plain
from leverstep.course.problem import Question
from leverstep.dialogue.lookback import LinePair, LookBack, look_back
from leverstep.documents.blocks import (
    NOT_GIVEN,
    Block,
    Document,
    Heading,
    Listing,
    SheetHead,
    Table,
    Words,
)
from leverstep.documents.formats import FORMATS, written
from leverstep.sheets.sheet import assumptions, posed

USUAL_FORM = "html"
"""The format of a page where the name of its file asks for none."""

_NOT_WRITTEN = "No page was written, and your lines are kept as they were"
_PARTED = re.compile(r"[^A-Za-z0-9]+")


@dataclass(frozen=True, slots=True)
class PageKept:
    """What came of writing a page: its path, None where it could not be written, and a sentence."""

    path: Path | None
    told: str


def own_page(bench: Bench) -> Document:
    """Return the page of a working: problem, picture, lines with their verdicts, slips."""
    return Document(bench.question.problem.title, tuple(_page(bench)), for_paper=True)


def usual_name(question: Question) -> str:
    """Return a name for the file of a page, with nothing in it but letters, digits and hyphens."""
    parts = _PARTED.sub("-", f"{question.problem.id}-{question.seed}").strip("-")
    return f"leverstep-{parts}.{USUAL_FORM}"


def free_name(question: Question, folder: Path) -> str:
    """Return the usual name of a page, with a number behind it where a file has that already."""
    stem, dot, form = usual_name(question).rpartition(".")
    names = (f"{stem}{f'-{number}' if number > 1 else ''}{dot}{form}" for number in count(1))
    return next(name for name in names if not (folder / name).exists())


def keep_page(bench: Bench, typed: str) -> PageKept:
    """Write the page of a working to a new file; nothing is ever written over.

    Args:
        bench: the working.
        typed: the path as somebody names it; "" for the usual name in the folder at hand, a folder
            for a file of that name there.
    """
    try:
        path = _path_meant(bench.question, typed)
        form = path.suffix[1:].lower()
        if form not in FORMATS:
            endings = ", ".join(f".{ending}" for ending in FORMATS)
            return PageKept(
                None, f'{_NOT_WRITTEN}: no page ends in "{path.suffix}", only {endings}'
            )
        write_new(path, written(own_page(bench), form))
    except (FileError, OSError, ValueError) as error:
        return PageKept(None, plain(f"{_NOT_WRITTEN}: {_reason(error)}"))
    return PageKept(path, plain(f"Your page is at {path}"))


def _path_meant(question: Question, typed: str) -> Path:
    """Return the path of the file that is meant."""
    path = path_typed(typed or ".")
    if path.is_dir():
        return path / free_name(question, path)
    return path if path.suffix else path.with_name(f"{path.name}.{USUAL_FORM}")


def _reason(error: Exception) -> str:
    if isinstance(error, FileError):
        return f"{error.faults[0].file}: {error.faults[0].found}"
    return getattr(error, "strerror", None) or str(error)


def _page(bench: Bench) -> Iterator[Block]:
    question, back = bench.question, look_back(bench)
    yield SheetHead(question.problem.title, "")
    yield Words(f"Numbers {question.seed}. {back.ending.headline}")
    yield from posed(question)
    yield from assumptions(question)
    yield Heading(2, "Lines")
    yield _lines(back)
    asked = {"What you expected": back.expected, "How sure you were": back.sure}
    for heading, told in asked.items():
        if told:
            yield Heading(2, heading)
            yield Listing(told)
    yield Heading(2, "Slips, and what to remember")
    yield Listing(back.remembered)
    if back.meaning:
        yield Heading(2, "What it means")
        yield from map(Words, back.meaning)


def _lines(back: LookBack) -> Table:
    """Return every line as it was written, with what came of it, beside the worked one."""
    columns = ("Line", "Written", "Verdict", "Tries", "Worked out")
    rows = [_row(line) for line in back.lines]
    if not any(line.worked for line in back.lines):
        return Table(columns[:-1], tuple(row[:-1] for row in rows), frozenset({3}))
    return Table(columns, tuple(rows), frozenset({3}))


def _row(line: LinePair) -> tuple[str, ...]:
    return (line.name, line.own or NOT_GIVEN, line.standing, str(line.tries), line.worked)
