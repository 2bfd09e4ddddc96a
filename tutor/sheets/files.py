"""Writing sheets and keys in their formats."""

from __future__ import annotations

from pathlib import Path

from tutor.course.faults import Fault, FileError
from tutor.sheets.handout import Handout
from tutor.sheets.html import html
from tutor.sheets.key import answer_key
from tutor.sheets.markdown import markdown
from tutor.sheets.sheet import worksheets
from tutor.sheets.tex import tex


def document(handout: Handout, form: str, key: bool) -> str:
    """Return the worksheets of a handout, or the key to them, as `html`, `md` or `tex`."""
    parts = answer_key(handout) if key else worksheets(handout)
    if form == "html":
        return html(handout.title, parts)
    return markdown(parts) if form == "md" else tex(parts)


def write_new(path: Path, text: str) -> None:
    """Write a new file.

    Raises:
        FileError: where it is there already, or can't be written.
    """
    try:
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(text)
    except OSError as error:
        reason = error.strerror or "can't be written"
        raise FileError([Fault(path.name, "", reason, "the path of a new file")]) from error
