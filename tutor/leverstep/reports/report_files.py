"""Writing the class report into a folder."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

from leverstep.documents.blocks import Document
from leverstep.documents.formats import written
from leverstep.marking.collecting import Student
from leverstep.marking.outputs import Outputs
from leverstep.reports.class_report import class_report
from leverstep.reports.figures import Figures

REPORT = "report"


def shown_to(
    students: Iterable[Student], *observers: Callable[[Student], None]
) -> Iterator[Student]:
    """Yield students as they come, each shown to some observers on the way."""
    for student in students:
        for observe in observers:
            observe(student)
        yield student


def write_report(figures: Figures, out: Outputs, latex: bool = False) -> Iterator[Path]:
    """Write `report.md`, `report.html`, and `report.tex` if `latex`; yield the path of each.

    Raises:
        OSError: where the folder can't be written.
    """
    report = Document(f"{figures.drill.title}: class report", class_report(figures))
    for form in ("md", "html", *(("tex",) if latex else ())):
        with out.open(f"{REPORT}.{form}") as file:
            file.write(written(report, form))
        yield out.folder / f"{REPORT}.{form}"
