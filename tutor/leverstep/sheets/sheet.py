"""What stands on a worksheet: each problem on a page of its own, with room for its lines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from leverstep.course.phrases import counted
from leverstep.course.problem import Question
from leverstep.diagram.described import describe_one, senses_told
from leverstep.diagram.layout import layout
from leverstep.documents.blocks import (
    HEIGHT,
    PLAIN_HEIGHT,
    PLAIN_WIDTH,
    RULE,
    WIDTH,
    Block,
    Heading,
    Lines,
    Listing,
    NewPage,
    Posed,
    RuledLine,
    SheetHead,
    Space,
    Table,
    Words,
)
from leverstep.drill.drill import Task
from leverstep.erroneous.erroneous_working import ErroneousWorking
from leverstep.erroneous.slip_questions import introduced
from leverstep.free_body.body_picture import BodyPicture
from leverstep.sheets.handout import Copy, Handout, explained_line
from leverstep.statics.step import Step
from leverstep.working.guidance import Guidance
from leverstep.working.page import given_and_taken, line_name, named_line, prompt_of
from leverstep.working.rules import Pictures
from leverstep.working.wording import ask
from leverstep.working.writing import worked_line

_IN_ONE_COLUMN = 12
"""So many lines have the width of the page; more stand in two columns."""

_MENDED = 12.0
"""Millimetres for each line that is asked for of somebody else's working."""

_REASON = 26.0
"""Millimetres of a page for a reason in words."""

_DIAGRAM = 54.0
"""Millimetres for each diagram that is to be drawn, in place of the one that is given."""

_PAGE, _MOST, _LANDMARK, _LISTED = 138.0, 16.0, 9.0, 5.0
"""Millimetres of a page for all lines; the most for one, for a landmark, for one that is listed."""


def worksheets(handout: Handout) -> Iterator[Block]:
    """Yield what stands on the sheets of all students."""
    first = True
    for copy in handout.copies:
        for task in copy.tasks:
            if not first:
                yield NewPage()
            yield from _page(handout, copy, task)
            first = False


def _page(handout: Handout, copy: Copy, task: Task) -> Iterator[Block]:
    question = task.question
    guidance = task.led(handout.guidance) if task.open_lines is None else Guidance.LINES
    yield SheetHead(handout.title, copy.whose)
    yield Heading(2, heading(copy, task))
    to_draw = handout.to_draw(question)
    is_in_words = to_draw or handout.pictures is Pictures.OFF
    yield from _posed_in_words(question) if is_in_words else posed(question)
    yield from assumptions(question)
    yield from _diagrams(to_draw)
    if len(to_draw) > 1:  # the lines after them have a page of their own
        yield from (NewPage(), SheetHead(handout.title, copy.whose))
        yield Heading(2, f"{heading(copy, task)}: the working")
    asked = task.asked(guidance)
    if task.shown:
        shown = question.derivation.asked[: task.shown]
        texts = [named_line(step, worked_line(question, step, question.right)) for step in shown]
        yield _written("The first lines" if asked else "The whole working", texts)
        yield from _reason(
            f"Why is the last of them, {line_name(explained_line(task))}, as it is?", 2
        )
    if question in handout.slipped:
        yield from _to_mend(handout.slipped[question])
    elif guidance is Guidance.LINES and asked:
        page = _PAGE - _REASON if task.shown else _PAGE
        yield _lines(question, asked, 1 if len(asked) <= _IN_ONE_COLUMN else 2, _MOST, page)
    elif guidance is Guidance.LANDMARKS:
        lines = _lines(question, asked, 2, _LANDMARK)
        yield _space(_LANDMARK * lines.rows)
        yield lines
    elif asked:
        yield Words("To be found:")
        yield Listing(tuple(f"{line_name(step)}: {ask(question, step)}" for step in asked))
        yield _space(_LISTED * (len(asked) + 1))


def _diagrams(pictures: Sequence[BodyPicture]) -> Iterator[Block]:
    """Yield what asks for free-body diagrams, and the room for them."""
    for picture in pictures:
        segment = picture.question.problem.segment
        yield Words(
            f"Draw the free-body diagram of the {segment}: each force that acts on it, where it "
            "acts and which way, the axis, and the distances that count."
        )
        yield Space(int(_DIAGRAM / RULE))


def _to_mend(working: ErroneousWorking) -> Iterator[Block]:
    """Yield the working of somebody else, and room for line, slip and mending of each slip."""
    yield Words(introduced(working))
    yield _written("The working", [line.text for line in working.lines])
    found = (
        ("The first line that is wrong", "That line, mended"),
        ("A line after it with a slip of its own", "That line, with both slips mended"),
    )
    asks = [
        one
        for (line, mended), _ in zip(found, working.slips, strict=False)
        for one in (
            (line, "line:"),
            ("The slip that was made there", "slip:"),
            (mended, "mended:"),
        )
    ]
    yield Lines(tuple(RuledLine(*one) for one in asks), 1, _MENDED)
    if len(working.slips) == 1:
        yield from _reason("Why is that line wrong as it stood, and what puts it right?", 3)
    else:
        yield from _reason("Why are both lines wrong as they stood, and what puts them right?", 5)


def _reason(asks: str, rules: int) -> Iterator[Block]:
    """Yield what asks for a reason in words, and so many rules to write it on."""
    yield Words(f"{asks} Say it in a sentence or two of your own.")
    yield Space(rules)


def _written(title: str, texts: list[str]) -> Table:
    """Return lines that are printed for the student, in two columns where there are many."""
    columns = 1 if len(texts) <= _IN_ONE_COLUMN else 2
    rows = -(-len(texts) // columns)
    texts = texts + [""] * (rows * columns - len(texts))
    cells = tuple(tuple(texts[row::rows]) for row in range(rows))
    return Table((title,) + ("",) * (columns - 1), cells)


def heading(copy: Copy, task: Task) -> str:
    """Return what stands above a task: its number where there are several, and its marks."""
    number = f"Task {task.number}: " if len(copy.tasks) > 1 else ""
    marks = f" ({counted(task.marks, 'mark')})" if task.marks else ""
    return f"{number}{task.question.problem.title}{marks}"


def assumptions(question: Question) -> Iterator[Words]:
    """Yield what is idealised in a problem, nothing where that is not said."""
    if question.problem.idealised:
        yield Words(f"Assumptions: {'; '.join(question.problem.idealised)}.")


def posed(question: Question) -> Iterator[Posed]:
    """Yield a problem as it is posed: statement, givens with g, positive sense, and each picture.

    Of several postures each is named beside its own picture.
    """
    for place, (view, sense) in enumerate(zip(question.views, senses_told(question), strict=True)):
        yield Posed(
            "" if place else question.statement,
            () if place else given_and_taken(question),
            sense,
            layout(view, WIDTH, HEIGHT, fine=True),
            layout(view, PLAIN_WIDTH, PLAIN_HEIGHT, unicode=False),
            " ".join(describe_one(view)),
        )


def _posed_in_words(question: Question) -> Iterator[Words]:
    """Yield a problem as it is posed without any picture."""
    given = given_and_taken(question)
    told = f"Given: {' · '.join(given)}." if given else ""
    yield from (Words(text) for text in (question.statement, told, *senses_told(question)) if text)


def _lines(
    question: Question, steps: tuple[Step, ...], columns: int, most: float, page: float = _PAGE
) -> Lines:
    """Return room for some steps, at most so many millimetres for each: all have one page."""
    lines = tuple(RuledLine(ask(question, step), prompt_of(step)) for step in steps)
    room = Lines(lines, columns, most)
    return replace(room, room=min(most, round(page / room.rows, 1)))


def _space(taken: float) -> Space:
    """Return ruled lines for what is left of a page; a few where nothing is."""
    return Space(max(4, int((_PAGE - taken) / RULE)))
