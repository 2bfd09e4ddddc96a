"""Documents in the formats of files."""

from __future__ import annotations

from leverstep.documents.blocks import Document
from leverstep.documents.html import html
from leverstep.documents.markdown import markdown
from leverstep.documents.plain_document import plain_document
from leverstep.documents.tex import tex

FORMATS = {"html": html, "md": markdown, "tex": tex, "txt": plain_document}
"""The writers by the endings of the files."""


def written(document: Document, form: str) -> str:
    """Return a document as `html`, `md`, `tex` or `txt`."""
    return FORMATS[form](document)
