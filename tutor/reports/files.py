"""Writing the class report into a folder."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

from tutor.drill.collecting import Student
from tutor.drill.outputs import Outputs
from tutor.reports.figures import Figures
from tutor.reports.html import page
from tutor.reports.markdown import markdown
from tutor.reports.telling import class_report

REPORT = "report"


def shown_to(
    students: Iterable[Student], *observers: Callable[[Student], None]
) -> Iterator[Student]:
    """Yield students as they come, each shown to some observers on the way."""
    for student in students:
        for observe in observers:
            observe(student)
        yield student


def write_report(figures: Figures, out: Outputs) -> Iterator[Path]:
    """Write `report.md` and `report.html`; yield the path of each.

    Raises:
        OSError: where the folder can't be written.
    """
    blocks = class_report(figures)
    written = {
        ".md": markdown(blocks),
        ".html": page(f"{figures.drill.title}: class report", blocks),
    }
    for ending, text in written.items():
        with out.open(f"{REPORT}{ending}") as file:
            file.write(text)
        yield out.folder / f"{REPORT}{ending}"
