"""A document for LaTeX, with no package but those of a plain distribution.

The page is as high as Letter allows and as wide as A4 does, so that both papers take it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from itertools import zip_longest

from leverstep.diagram.tex_picture import tex_picture
from leverstep.diagram.tex_text import tex_text
from leverstep.documents.blocks import (
    RULE,
    WIDTH,
    Bar,
    Bars,
    Block,
    Document,
    Heading,
    Lines,
    Listing,
    NewPage,
    Posed,
    RuledLine,
    SheetHead,
    Space,
    Table,
    Told,
    Whole,
    Words,
)
from leverstep.working.cautions import CAUTION

_PREAMBLE = r"""
\documentclass[10pt]{article}
\usepackage{color,longtable}
\IfFileExists{pict2e.sty}{\usepackage{pict2e}}{}
\setlength{\oddsidemargin}{-10.4mm}\setlength{\textwidth}{182mm}
\setlength{\topmargin}{-14.4mm}\setlength{\headheight}{0pt}\setlength{\headsep}{0pt}
\setlength{\textheight}{250mm}\setlength{\footskip}{8mm}
\setlength{\parindent}{0pt}\setlength{\parskip}{1mm}\setlength{\LTleft}{0pt}
\makeatletter
\renewcommand{\@oddfoot}{\hfil\scriptsize CAUTION\hfil}
\makeatother
\newcommand{\blank}{\leavevmode\leaders\hrule depth 0.4pt height 0pt\hfill\kern0pt}
% A new page, unless so many lines find room on this one.
\newcommand{\room}[1]{\par\ifdim\dimexpr\pagegoal-\pagetotal<#1\baselineskip\clearpage\fi}
\raggedbottom\raggedright
\begin{document}
""".replace("CAUTION", tex_text(CAUTION))

_SIZES = {1: r"\Large", 2: r"\large", 3: r"\normalsize"}
_BELOW = 10
"""Lines of a page that a heading and the beginning of what is below it take up."""

_LINE, _LEAST = 7.4, 1.2
"""Millimetres that a line takes with what it asks for, and the least of room above them."""

_LABEL, _LONGEST, _ROW = 42.0, 105.0, 5.0
"""Millimetres of a chart: the widths of label and longest bar, and the height of a row."""

_LONGEST_WORD, _PIECE = 24, 8
"""Characters of a word in a cell that is never broken, and of the parts of a longer one."""

_WIDEST, _ACROSS = 70, 105
"""Characters of a cell that count for the width of its column, and those of a whole row."""


def tex(document: Document) -> str:
    """Return a document for LaTeX."""
    body = "\n".join(_body(document.blocks))
    return f"{_PREAMBLE.lstrip()}{body}\n\\end{{document}}\n"


def _body(blocks: tuple[Block, ...]) -> Iterator[str]:
    """Yield the lines of blocks; a heading stays with what is below, which LaTeX may part."""
    for block, below in zip_longest(blocks, blocks[1:]):
        match block, below:
            case Heading(), Bars():
                yield rf"\room{{{_height((block, below))}}}"
            case (Heading(), Table()) | (Heading(2), Heading()):
                yield rf"\room{{{_BELOW}}}"
        yield from _lines(block)


def _lines(block: Block) -> Iterator[str]:
    """Yield a block as lines of LaTeX."""
    match block:
        case SheetHead(title, whose):
            name = tex_text(whose) or r"\blank"
            yield rf"\textbf{{{tex_text(title)}}}\quad Name {name}"
            yield r"\quad Date \makebox[35mm]{\blank}\par"
        case Heading(level, text):
            yield rf"\medskip{{{_SIZES[level]}\bfseries {tex_text(text)}\par}}\nobreak\smallskip"
        case Words(text, weight, small):
            face = r"\bfseries " if weight else r"\small " if small else ""
            shown = rf"{face}{tex_text(text)}\par"
            yield f"{{{shown}}}" if face else shown
        case Listing(items):
            yield from (rf"\hangindent=1em\textbullet\ {tex_text(item)}\par" for item in items)
        case Posed():
            yield from _posed(block)
        case Lines():
            yield from _rows(block)
        case Space(count):
            yield r"{\parskip0pt"
            yield from [rf"\rule{{0pt}}{{{RULE:g}mm}}\blank\par"] * count
            yield "}"
        case Table():
            yield from _table(block)
        case Whole(blocks):
            yield rf"\room{{{_height(blocks)}}}"
            for inside in blocks:
                yield from _lines(inside)
        case Bars(title, bars):
            yield from _chart(title, bars)
        case NewPage():
            yield r"\clearpage"


def _chart(title: str, bars: tuple[Bar, ...]) -> Iterator[str]:
    """Yield a chart of bars drawn as rules, on one page; its values stand beside them as text."""
    yield rf"\room{{{_chart_height(bars)}}}"
    yield rf"\medskip\textbf{{{tex_text(title)}}}\par\nobreak"
    for bar in bars:
        label = rf"\parbox[c]{{{_LABEL:g}mm}}{{\raggedleft\hspace{{0pt}}{tex_text(bar.label)}}}"
        drawn = rf"\rule[-0.7mm]{{{float(_LONGEST * bar.size):.1f}mm}}{{{_ROW - 2:g}mm}}"
        yield rf"{label}\hspace{{2mm}}{drawn}\hspace{{1.5mm}}{tex_text(bar.told)}\par\nobreak"
    yield r"\medskip"


def _posed(posed: Posed) -> Iterator[str]:
    """Yield the words of a problem on the left, its picture on the right."""
    picture = posed.fine
    size = r"\footnotesize" if posed.is_long else r"\small"
    yield rf"\begin{{minipage}}[t]{{84mm}}\vspace{{0pt}}\raggedright{size}"
    if posed.statement:
        yield rf"{tex_text(posed.statement)}\par\smallskip"
    if posed.given:
        kept = (rf"\mbox{{{tex_text(given)}}}" for given in posed.given)
        yield rf"Given: {tex_text(' · ').join(kept)}.\par\smallskip"
    yield rf"{tex_text(posed.sense)}\par\smallskip"
    yield r"\end{minipage}\hfill\begin{minipage}[t]{95mm}\vspace{0pt}\raggedright"
    yield from tex_picture(WIDTH, picture.span, picture.strokes, picture.labels)
    yield rf"\par\footnotesize {tex_text('; '.join((*picture.legend, picture.note)))}"
    yield r"\end{minipage}\par\medskip"


def _rows(block: Lines) -> Iterator[str]:
    """Yield lines to be written, the second half of two columns beside the first."""
    width = 1 if block.columns == 1 else 0.48
    yield r"{\parskip0pt"
    above = max(_LEAST, block.room - _LINE)
    gap = rf"\vskip {above:.1f}mm minus {_LEAST / 2:g}mm"
    for left, right in zip_longest(block.lines[: block.rows], block.lines[block.rows :]):
        yield gap
        yield _cell(left, width) + (r"\hfill" if right else r"\hfill\null")
        if right:
            yield _cell(right, width)
        yield r"\par"
    yield "}"


def _cell(line: RuledLine, width: float) -> str:
    return (
        rf"\begin{{minipage}}[b]{{{width:g}\linewidth}}\raggedright\scriptsize "
        rf"{tex_text(line.asks)}\par\vspace{{0.5mm}}\normalsize "
        rf"{tex_text(line.prompt)} \blank\end{{minipage}}"
    )


def _widths(table: Table) -> list[int]:
    """Return the characters of each column; the widest is narrowed until all fit."""
    cells = zip(table.columns, *table.rows, strict=True)
    widths = [min(max(map(len, column)), _WIDEST) + 2 for column in cells]
    while sum(widths) > _ACROSS:
        widths[widths.index(max(widths))] -= 1
    return widths


def _table(table: Table) -> Iterator[str]:
    widths = _widths(table)
    gaps = 12 * len(widths)  # points, twice \tabcolsep for each column
    shares = (width / _ACROSS for width in widths)
    columns = (rf"p{{\dimexpr{share:.3f}\linewidth-{share * gaps:.2f}pt}}" for share in shares)
    yield rf"{{\footnotesize\raggedright\begin{{longtable}}{{{''.join(columns)}}}"
    head = _row(table.columns, widths, table.numbers, r"\bfseries ")
    yield head + r"\hline\noalign{\vskip1mm}\endhead"
    yield from (_row(row, widths, table.numbers) for row in table.rows)
    yield r"\end{longtable}}"


def _row(
    cells: Iterable[str], widths: Iterable[int], numbers: frozenset[int], face: str = ""
) -> str:
    shown = (
        rf"\ragged{'left' if place in numbers else 'right'}{face}\hspace{{0pt}}{_kept(cell, width)}"
        for place, (cell, width) in enumerate(zip(cells, widths, strict=True))
    )
    return " & ".join(shown) + r"\tabularnewline"


def _kept(text: str, width: int) -> str:
    """Return the text of a cell, in which a word that may be longer than a line can be broken."""
    longest = min(width, _LONGEST_WORD)
    words = (_broken(word) if len(word) > longest else tex_text(word) for word in text.split(" "))
    return " ".join(words)


def _broken(word: str) -> str:
    parts = (word[place : place + _PIECE] for place in range(0, len(word), _PIECE))
    return r"\hspace{0pt}".join(map(tex_text, parts))


def _height(blocks: Iterable[Told]) -> int:
    """Return about how many lines some blocks take up, rather too many than too few."""
    lines = 0
    for block in blocks:
        match block:
            case Table(_, rows):
                widths = _widths(block)
                lines += 4 + sum(_row_height(row, widths) for row in rows)
            case Words(text):
                lines += 1 + math.ceil(len(text) / 90)
            case Bars(_, bars):
                lines += _chart_height(bars)
            case _:
                lines += 3
    return lines


def _chart_height(bars: tuple[Bar, ...]) -> int:
    """Return about how many lines a chart takes up."""
    return 3 + math.ceil(1.5 * len(bars))


def _row_height(cells: Iterable[str], widths: Iterable[int]) -> int:
    """Return about how many lines a row of a table takes up."""
    return max(math.ceil(len(cell) / width) for cell, width in zip(cells, widths, strict=True))
