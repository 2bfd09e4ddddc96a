"""Sheets and keys as files."""

from __future__ import annotations

from leverstep.documents.blocks import Document
from leverstep.documents.formats import written
from leverstep.sheets.handout import Handout
from leverstep.sheets.key import answer_key
from leverstep.sheets.sheet import worksheets


def document(handout: Handout, form: str, key: bool) -> str:
    """Return the worksheets of a handout, or the key to them, as `html`, `md`, `tex` or `txt`."""
    blocks = answer_key(handout) if key else worksheets(handout)
    return written(Document(handout.title, tuple(blocks), for_paper=True), form)
