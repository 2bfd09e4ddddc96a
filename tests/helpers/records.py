"""What stands in records, read by hand and not as the tutor reads it."""

from __future__ import annotations

import json
from pathlib import Path


def fields_in(path: Path) -> list[dict[str, object]]:
    """Return what stands on each whole line of a record, without its link."""
    lines = [json.loads(piece) for piece in path.read_bytes().split(b"\n")[:-1]]
    return [{key: said for key, said in line.items() if key != "link"} for line in lines]


def texts_in(path: Path) -> list[object]:
    """Return the texts of the lines that were written freely, in their order."""
    return [line["text"] for line in fields_in(path) if line["kind"] == "line"]
