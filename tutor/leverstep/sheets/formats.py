"""Writing sheets and keys in their formats."""

from __future__ import annotations

from leverstep.sheets.handout import Handout
from leverstep.sheets.key import answer_key
from leverstep.sheets.sheet import worksheets
from leverstep.sheets.sheet_html import html
from leverstep.sheets.sheet_markdown import markdown
from leverstep.sheets.sheet_tex import tex


def document(handout: Handout, form: str, key: bool) -> str:
    """Return the worksheets of a handout, or the key to them, as `html`, `md` or `tex`."""
    parts = answer_key(handout) if key else worksheets(handout)
    if form == "html":
        return html(handout.title, parts)
    return markdown(parts) if form == "md" else tex(parts)
