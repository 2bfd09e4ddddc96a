"""Writing sheets and keys in their formats."""

from __future__ import annotations

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
