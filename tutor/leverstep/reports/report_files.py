"""Writing the class report, and others like it, into a folder."""

from __future__ import annotations

from pathlib import Path

from leverstep.documents.blocks import Document
from leverstep.documents.formats import written
from leverstep.marking.outputs import Outputs
from leverstep.reports.class_report import class_report
from leverstep.reports.figures import Figures

REPORT = "report"


def write_report(
    figures: Figures, out: Outputs, latex: bool = False, with_names: bool = True
) -> list[Path]:
    """Write `report.md`, `report.html`, and `report.tex` if `latex`; return the path of each.

    Raises:
        OSError: where the folder can't be written.
    """
    report = Document(f"{figures.drill.title}: class report", class_report(figures, with_names))
    return write_document(report, REPORT, out, latex)


def write_document(report: Document, stem: str, out: Outputs, latex: bool = False) -> list[Path]:
    """Write a report as Markdown, as HTML, and as LaTeX if `latex`; return the path of each.

    Raises:
        OSError: where the folder can't be written.
    """
    names = {form: f"{stem}.{form}" for form in ("md", "html", *(("tex",) if latex else ()))}
    for form, name in names.items():
        with out.open(name) as file:
            file.write(written(report, form))
    return [out.folder / name for name in names.values()]
