"""Writing the class report into a folder."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

from leverstep.marking.collecting import Student
from leverstep.marking.outputs import Outputs
from leverstep.reports.class_report import class_report
from leverstep.reports.figures import Figures
from leverstep.reports.html import page
from leverstep.reports.markdown import markdown

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
