"""A document as plain text, which any editor opens and any printer prints."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from leverstep.documents.blocks import (
    Block,
    Document,
    Heading,
    Lines,
    NewPage,
    Posed,
    SheetHead,
    Space,
    Whole,
    Words,
)
from leverstep.documents.text import (
    WIDTH,
    before_picture,
    behind_picture,
    lines_of,
    name_and_date,
    picture_rows,
    ruled_line,
    ruled_space,
    wrapped,
)
from leverstep.working.cautions import CAUTION


def plain_document(document: Document) -> str:
    """Return a document as lines of text, free of control signs, with the caution on every page."""
    paper = document.for_paper
    blocks = (*document.blocks, Words(CAUTION)) if paper else document.blocks
    return _joined(blocks, paper) + "\n"


def _joined(blocks: Iterable[Block], paper: bool) -> str:
    """Return blocks with an empty line between them."""
    return "\n\n".join("\n".join(_lines(block, paper)) for block in blocks)


def _lines(block: Block, paper: bool) -> Iterator[str]:
    match block:
        case Whole(blocks):
            yield _joined(blocks, paper)
        case SheetHead(title, whose):
            yield from (*lines_of(Heading(1, title)), "", name_and_date(whose))
        case Posed():
            yield from _posed(block)
        case Lines(lines):
            for line in lines:
                yield from ruled_line(line)
        case Space(count):
            yield from ruled_space(count)
        case NewPage() if paper:
            yield from (*wrapped(CAUTION, WIDTH), "", *lines_of(block))
        case _:
            yield from lines_of(block)


def _posed(posed: Posed) -> Iterator[str]:
    for text in before_picture(posed):
        yield from (*wrapped(text, WIDTH), "")
    yield from picture_rows(posed.in_characters)
    for text in behind_picture(posed):
        yield from ("", *wrapped(text, WIDTH))
