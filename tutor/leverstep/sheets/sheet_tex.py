"""Sheets for LaTeX, with no package but those of a plain distribution.

The page is as high as Letter allows and as wide as A4 does, so that both papers take it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from itertools import zip_longest

from leverstep.diagram.tex_picture import tex_picture
from leverstep.diagram.tex_text import tex_text
from leverstep.reports.document import Heading, Listing, NewPage, Table, Words
from leverstep.sheets.blocks import (
    RULE,
    WIDTH,
    Lines,
    Part,
    Posed,
    RuledLine,
    SheetHead,
    Space,
    Told,
    Whole,
)
from leverstep.working.wording import CAUTION

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
_LINE, _LEAST = 7.4, 1.2
"""Millimetres that a line takes with what it asks for, and the least of room above them."""

_WIDEST, _ACROSS = 70, 105
"""Characters of a cell that count for the width of its column, and those of a whole row."""


def tex(parts: Iterable[Part]) -> str:
    """Return sheets as a document for LaTeX."""
    body = "\n".join(line for part in parts for line in _lines(part))
    return f"{_PREAMBLE.lstrip()}{body}\n\\end{{document}}\n"


def _lines(part: Part) -> Iterator[str]:
    match part:
        case SheetHead(title, whose):
            name = tex_text(whose) or r"\blank"
            yield rf"\textbf{{{tex_text(title)}}}\quad Name {name}"
            yield r"\quad Date \makebox[35mm]{\blank}\par"
        case Heading(level, text):
            yield rf"\medskip{{{_SIZES[level]}\bfseries {tex_text(text)}\par}}\nobreak\smallskip"
        case Words(text, weight):
            yield rf"\textbf{{{tex_text(text)}}}\par" if weight else rf"{tex_text(text)}\par"
        case Listing(items):
            yield from (rf"\hangindent=1em\textbullet\ {tex_text(item)}\par" for item in items)
        case Posed():
            yield from _posed(part)
        case Lines():
            yield from _rows(part)
        case Space(count):
            yield r"{\parskip0pt"
            yield from [rf"\rule{{0pt}}{{{RULE:g}mm}}\blank\par"] * count
            yield "}"
        case Table():
            yield from _table(part)
        case Whole(blocks):
            yield rf"\room{{{_height(blocks)}}}"
            for block in blocks:
                yield from _lines(block)
        case NewPage():
            yield r"\clearpage"


def _posed(posed: Posed) -> Iterator[str]:
    """Yield the words of a problem on the left, its picture on the right."""
    picture = posed.fine
    size = r"\footnotesize" if posed.is_long else r"\small"
    yield rf"\begin{{minipage}}[t]{{84mm}}\vspace{{0pt}}\raggedright{size}"
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


def _widths(table: Table) -> tuple[float, ...]:
    """Return the share of the width that each column gets, together at most 1."""
    cells = zip(table.columns, *table.rows, strict=True)
    longest = [min(max(map(len, column)), _WIDEST) + 2 for column in cells]
    return tuple(one / max(sum(longest), _ACROSS) for one in longest)


def _table(table: Table) -> Iterator[str]:
    gaps = 12 * len(table.columns)  # points, twice \tabcolsep for each column
    columns = (
        rf"p{{\dimexpr{share:.3f}\linewidth-{share * gaps:.2f}pt}}" for share in _widths(table)
    )
    yield rf"{{\footnotesize\raggedright\begin{{longtable}}{{{''.join(columns)}}}"
    yield _row(table.columns, table.numbers, r"\bfseries ") + r"\hline\noalign{\vskip1mm}\endhead"
    yield from (_row(row, table.numbers) for row in table.rows)
    yield r"\end{longtable}}"


def _row(cells: Iterable[str], numbers: frozenset[int], face: str = "") -> str:
    shown = (
        rf"\ragged{'left' if place in numbers else 'right'}{face}\hspace{{0pt}}{tex_text(cell)}"
        for place, cell in enumerate(cells)
    )
    return " & ".join(shown) + r"\tabularnewline"


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
            case _:
                lines += 3
    return lines


def _row_height(cells: Iterable[str], widths: Iterable[float]) -> int:
    """Return about how many lines a row of a table takes up."""
    pairs = zip(cells, widths, strict=True)
    return max(math.ceil(len(cell) / max(1, int(width * _ACROSS))) for cell, width in pairs)
