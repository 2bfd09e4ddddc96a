"""Putting a rule into the file of a drill, and nothing else in it changed."""

from __future__ import annotations

import re
import tomllib
from codecs import BOM_UTF8
from contextlib import suppress
from pathlib import Path

from leverstep.course.faults import Fault, FileError
from leverstep.course.new_file import refuse_link
from leverstep.course.plain_files import TEXT, read_plain
from leverstep.course.sharing import put_whole
from leverstep.drill.drill import LARGEST_DRILL


def set_rules(path: Path, *rules: str) -> None:
    """Write rules into a drill's file, each in the place of the one before or near its top.

    Args:
        path: the file, which holds a drill.
        rules: each a key and its value, on one line.

    Raises:
        FileError: where the file can't be read or written, or has no place for one.
    """
    refuse_link(path.parent)
    try:
        data = read_plain(path, LARGEST_DRILL, linked=True)
        changed = data.decode(TEXT)
        for rule in rules:
            changed = _with_rule(changed, rule, path)
        mark = data[: data.startswith(BOM_UTF8) * len(BOM_UTF8)]
        put_whole(path.resolve(), mark + changed.encode(), keep_rights=True)
    except OSError as error:
        found = error.strerror or "it can't be written"
        raise FileError([Fault(str(path), "", found, "a file that can be written")]) from error


def _with_rule(text: str, rule: str, path: Path) -> str:
    """Return the text of a drill with a rule in the place of the one before, or near its top."""
    key = rule.partition(" ")[0]
    before = re.compile(rf"^(# *)?{key}\b[^\r\n]*", re.MULTILINE)
    wanted = {**tomllib.loads(text), **tomllib.loads(rule)}
    end = "\r\n" if "\r\n" in text else "\n"
    lines = text.splitlines(keepends=True)
    head = next((n for n, line in enumerate(lines) if not line.startswith("#")), len(lines))
    in_place = before.sub(lambda _: rule, text, count=1)
    for changed in (in_place, "".join([*lines[:head], rule + end, *lines[head:]])):
        with suppress(tomllib.TOMLDecodeError):
            if tomllib.loads(changed) == wanted:
                return changed
    raise FileError([Fault(str(path), key, "no place for it", f"this line in it: {rule}")])
