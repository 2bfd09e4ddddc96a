"""The sums of a part of a class in a file, and those of several parts added up.

Where records must not leave a school, or are too many for one place, each part is marked where its
records are; what is put together are sums, with no id and no name.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from leverstep.course.faults import Fault, FileError
from leverstep.course.plain_files import TEXT, TooLarge, read_plain
from leverstep.drill.drill import Drill
from leverstep.reports.class_report import class_report
from leverstep.reports.gathering import ClassFigures
from leverstep.slips.catalogue import Catalogue

SUMS = "sums.json"

LARGEST_SUMS = 20_000_000
"""Bytes of such a file; one of eight tasks has some hundred thousand, however many students sat."""

_NO_SUMS = (ValueError, KeyError, TypeError, AttributeError, ArithmeticError, IndexError)
"""What is raised over data that are no sums."""

_EXPECTED = f"{SUMS} as leverstep drill mark --sums writes it"


def sums_text(drill: Drill, collected: ClassFigures) -> str:
    """Return the sums of a part of a class as the text of a file."""
    data = {"drill": drill.id, "digest": drill.digest, "sums": collected.as_data()}
    return json.dumps(data, ensure_ascii=False, indent=1) + "\n"


def added_up(paths: Iterable[Path], drill: Drill, catalogue: Catalogue) -> ClassFigures:
    """Return the sums of several parts of a class together, each file once.

    Raises:
        FileError: where one can't be read, is of another drill or another version of it, or is
            there twice.
    """
    whole = ClassFigures(drill, catalogue)
    met: dict[str, Path] = {}
    for path in paths:
        data = _read(path)
        digest = hashlib.sha256(data).hexdigest()
        if digest in met:
            found, expected = f"it is the same as {met[digest]}", "each part once"
            raise FileError([Fault(str(path), "", found, expected)])
        met[digest] = path
        whole.add_data(_sums(path, data, drill, catalogue))
    return whole


def _read(path: Path) -> bytes:
    try:
        return read_plain(path, LARGEST_SUMS, linked=True)
    except TooLarge as error:
        raise FileError([Fault(str(path), "", "it is too large", _EXPECTED)]) from error
    except OSError as error:
        found = error.strerror or "it can't be read"
        raise FileError([Fault(str(path), "", found, _EXPECTED)]) from error


def _sums(path: Path, data: bytes, drill: Drill, catalogue: Catalogue) -> dict[str, Any]:
    """Return the sums of a file, which can be told of by themselves.

    Raises:
        FileError: where they can't, or are of something else.
    """
    try:
        found = json.loads(data.decode(TEXT))
        of, digest, sums = found["drill"], found["digest"], found["sums"]
    except (*_NO_SUMS, RecursionError) as error:
        raise FileError([Fault(str(path), "", "it has no sums", _EXPECTED)]) from error
    if (of, digest) != (drill.id, drill.digest):
        found = "it is of another drill, or of another version of this one"
        raise FileError([Fault(str(path), "", found, "the very file by which it was marked")])
    try:
        alone = ClassFigures(drill, catalogue)
        alone.add_data(sums)
        class_report(alone.figures(), with_names=False)
    except _NO_SUMS as error:
        found = f"its sums make no sense: {error}"
        raise FileError([Fault(str(path), "", found, _EXPECTED)]) from error
    kept: dict[str, Any] = sums
    return kept
