"""Writing the class report into a folder."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

from tutor.drill.collecting import Student
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


def write_report(figures: Figures, folder: Path) -> Iterator[Path]:
    """Write `report.md` and `report.html` in a folder; yield the path of each.

    Raises:
        OSError: where the folder can't be written.
    """
    blocks = class_report(figures)
    written = {
        ".md": markdown(blocks),
        ".html": page(f"{figures.drill.title}: class report", blocks),
    }
    for ending, text in written.items():
        draft, path = folder / f".{REPORT}{ending}", folder / f"{REPORT}{ending}"
        draft.write_text(text, encoding="utf-8", newline="\n")
        draft.replace(path)
        yield path
