"""A page for each student, to give back: tasks, lines, verdicts, and what was not right worked out.

What the teacher alone is to know, such as remarks on a record, does not stand there.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Container, Iterator
from pathlib import Path

from leverstep.course.decimals import number, percent
from leverstep.course.phrases import counted
from leverstep.documents.blocks import Document, Heading, Table, Told, Words
from leverstep.documents.formats import written
from leverstep.drill.drill import Drill, file_stem, same_student
from leverstep.free_body.picture_told import Amiss
from leverstep.marking.collecting import Student
from leverstep.marking.marking import Marked
from leverstep.marking.outputs import Outputs
from leverstep.reports.account import BesideAccount, LineAccount, TaskAccount, account
from leverstep.slips.catalogue import Catalogue
from leverstep.working.cautions import CAUTION
from leverstep.working.verdict import Outcome

STUDENTS = "students"
"""The folder of the pages, within that of the tables."""

_PAGE = re.compile(r"[a-z0-9-]{1,30}-[0-9a-f]{8}\.(html|tex)")

BY_RECORD_TOLD = (
    "The drill was changed after you sat it. This task is marked by the numbers in the record of "
    "your sitting, not by those of the file."
)

ABSENT_TOLD = "This task was not in the drill when you sat it."

UNKNOWN_TOLD = "The problem that you were shown is no more in the drill, and not marked."

BY_HAND_TOLD = "The marks of this task were set by hand."

_VERDICTS = {
    Outcome.RIGHT: "right",
    Outcome.FOLLOWED: "right with your earlier value",
    Outcome.WRONG: "not right",
    None: "not written",
}


class PageFolder:
    """A folder of pages, one for each student; `count` is how many were written into it."""

    def __init__(self, out: Outputs, name: str, latex: bool = False) -> None:
        """Begin with no page; each is HTML, and LaTeX too if `latex`."""
        self.folder = out.folder / name
        self.count = 0
        self._forms = ("html", "tex") if latex else ("html",)
        self._out = out
        self._written: set[str] = set()

    def write(self, student: str, page: Document) -> None:
        """Write the page of a student.

        Raises:
            OSError: where the folder can't be written.
        """
        self.count += 1
        for form in self._forms:
            name = file_name(student, form)
            with self._out.open(f"{self.folder.name}/{name}") as file:
                file.write(written(page, form))
            self._written.add(name)

    def remove_earlier(self) -> None:
        """Have the pages of an earlier marking gone, and nothing that is not named as a page is."""
        for path in pages_in(self.folder):
            if path.name not in self._written:
                self._out.remove(path)


class StudentPages(PageFolder):
    """Writes the page of one student after the other."""

    def __init__(
        self,
        drill: Drill,
        catalogue: Catalogue,
        out: Outputs,
        latex: bool = False,
        going_on: Container[str] = (),
    ) -> None:
        """Begin with no page; each is HTML, and LaTeX too if `latex`.

        Of students in `going_on`, whose ids are as `same_student` has them, no page is written:
        `held` then names them.
        """
        super().__init__(out, STUDENTS, latex)
        self.held: list[str] = []
        self._drill = drill
        self._catalogue = catalogue
        self._going_on = going_on

    def add(self, student: Student) -> None:
        """Write the page of a student, where there is a record of a sitting that counts.

        Raises:
            OSError: where the folder can't be written.
        """
        marked = student.counted
        if marked is None or not marked.is_marked:
            return
        if same_student(student.id) in self._going_on:
            self.held.append(student.id)
            return
        tasks = account(self._drill, marked, self._catalogue)
        page = Document(self._drill.title, tuple(student_page(self._drill, marked, tasks)))
        self.write(student.id, page)


def pages_in(folder: Path) -> list[Path]:
    """Return the files in a folder that are named as pages are; a folder is none."""
    named = (path for path in sorted(folder.glob("*")) if _PAGE.fullmatch(path.name))
    return [path for path in named if not path.is_dir()]


def file_name(student: str, form: str = "html") -> str:
    """Return the name of a student's page: letters and digits of the id, and a number for it."""
    digest = hashlib.sha256(student.encode(errors="backslashreplace")).hexdigest()[:8]
    return f"{file_stem(student)}-{digest}.{form}"


def student_page(drill: Drill, marked: Marked, tasks: Iterator[TaskAccount]) -> Iterator[Told]:
    """Yield what stands on a page: the marks, then each task."""
    yield Heading(1, drill.title)
    yield Words(f"{marked.student} {marked.name}".strip(), weight=True)
    ended = "" if marked.ended else " It was not handed in."
    hints = counted(marked.hints, "hint")
    yield Words(f"{number(marked.total)} of {number(drill.marks)} marks, with {hints} used.{ended}")
    if marked.days_late:
        days, lost = counted(marked.days_late, "day"), percent(marked.lost_late)
        yield Words(f"Your last entry came {days} after it was due: {lost} of the marks are lost.")
    yield Words(CAUTION)
    for task in tasks:
        yield from _task(task)


def _task(task: TaskAccount) -> Iterator[Told]:
    marks = f"{number(task.marks)} of {number(task.out_of)} marks"
    yield Heading(2, f"Task {task.number}: {task.title} ({marks})")
    if task.withdrawn:
        yield Words(task.withdrawn, weight=True)
    if not task.absent:
        yield Words(task.statement)
    if task.by_hand:
        yield Words(BY_HAND_TOLD)
    if task.absent:
        yield Words(UNKNOWN_TOLD if task.unknown else ABSENT_TOLD)
        return
    if task.by_record:
        yield Words(BY_RECORD_TOLD)
    columns = ("Line", "You wrote", "Verdict", "Tries", "Hints", "Marks")
    yield Table(columns, tuple(_line(line) for line in task.lines), frozenset({3, 4, 5}))
    for one in task.beside:
        yield Words(f"{one.told} It earned {number(one.marks)} marks.")
        yield from (Words(f"Slip: {told}") for told in one.remember)
    if task.lost_late:
        earned, lost = number(task.marks + task.lost_late), number(task.lost_late)
        yield Words(f"Together that is {earned}; {lost} of it are lost for being late.")
    drawn = (_drawn(one, amiss) for one in task.beside for amiss in one.amiss)
    lines = (
        (line.name, line.asks, line.worked, _seems(line)) for line in task.lines if line.worked
    )
    worked = (*drawn, *lines)
    if worked:
        yield Heading(3, "What was not right, worked out")
        yield Table(("Line", "Asks for", "Worked out", "What happened"), worked)


def _drawn(one: BesideAccount, amiss: Amiss) -> tuple[str, ...]:
    """Return what is not right in a diagram, and how it is; a slip only where there is one."""
    slip = f"It looks like {amiss.slip}." if one.remember else ""
    return one.name, amiss.name, amiss.worked, slip


def _line(line: LineAccount) -> tuple[str, ...]:
    return (
        line.name,
        line.typed,
        _VERDICTS[line.outcome],
        str(line.tries),
        str(line.hints),
        "" if line.marks is None else number(line.marks),
    )


def _seems(line: LineAccount) -> str:
    """Return what a wrong line looks like, and why that is wrong."""
    if line.outcome is Outcome.FOLLOWED:
        return "It follows from your earlier value."
    return "" if line.slip is None else f"It looks like {line.slip.name}. {line.slip.reason}"
