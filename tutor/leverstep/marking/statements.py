"""Entries as xAPI statements (IEEE 9274.1.1), one JSON object a line, for a learning record store.

Each statement has an id that follows from its entry alone, so that what is sent again changes
nothing.
"""

from __future__ import annotations

import json
import re
import uuid
from collections.abc import Iterator
from urllib.parse import quote

from leverstep.course.plain_text import plain
from leverstep.drill.drill import Drill
from leverstep.marking.collecting import Student
from leverstep.marking.marking import Entry, Marked
from leverstep.marking.outputs import Outputs
from leverstep.working.verdict import Outcome

STATEMENTS = "statements.jsonl"

HOME_PAGE = "https://example.org"
"""The home page of accounts, unless the teacher names the school's own."""

_ANSWERED = "http://adlnet.gov/expapi/verbs/answered"
_NAMESPACE = uuid.UUID("6a1f7a52-51c7-5d0e-9d2b-0f3c8f6f2a10")


def is_home_page(text: str) -> bool:
    """Return whether a text can be the home page of accounts: a web address without a query."""
    return re.fullmatch(r"https?://[A-Za-z0-9.-]+(:\d+)?(/[A-Za-z0-9._~/-]*)?", text) is not None


class Statements:
    """Writes statements on entries to `statements.jsonl`, one student after the other."""

    def __init__(self, drill: Drill, out: Outputs, home_page: str = HOME_PAGE) -> None:
        """Begin with none.

        Args:
            drill: what is marked.
            out: where the file goes.
            home_page: that of the accounts whose ids they name.

        Raises:
            OSError: where the folder can't be written.
        """
        self._drill = drill
        self._home_page = home_page
        self._file = out.open(STATEMENTS)

    def add(self, student: Student) -> None:
        """Write the statements on the entries of a student.

        Raises:
            OSError: where they can't be written.
        """
        for sitting in student.sittings:
            for statement in statements_of(self._drill, sitting, self._home_page):
                self._file.write(json.dumps(statement, ensure_ascii=False, sort_keys=True) + "\n")


def statements_of(drill: Drill, sitting: Marked, home_page: str) -> Iterator[dict[str, object]]:
    """Yield a statement on each entry of a sitting that was judged, and on each only once."""
    met = set()
    before = 0.0
    for number, entry in enumerate(sitting.entries):
        ident = str(uuid.uuid5(_NAMESPACE, entry.link or f"{sitting.record} {number}"))
        spent, before = entry.used - before, entry.used
        if entry.counts and ident not in met:
            met.add(ident)
            said = _statement(drill, sitting.student, entry, spent, home_page.rstrip("/"))
            yield {"id": ident, **said}


def _statement(
    drill: Drill, student: str, entry: Entry, spent: float, home_page: str
) -> dict[str, object]:
    """Return what a statement says; `spent` are the seconds since the entry before."""
    success = entry.outcome in (Outcome.RIGHT, Outcome.FOLLOWED)
    scored = (
        drill.at(entry.task).scheme.follow_through
        if entry.outcome is Outcome.FOLLOWED
        else int(success)
    )
    problem = f"/problems/{quote(entry.problem, safe='')}" if entry.problem else ""
    task = f"{home_page}/drills/{drill.id}/tasks/{entry.task}{problem}"
    line = f"{task}/lines/{quote(entry.step, safe='')}"
    statement: dict[str, object] = {
        "actor": {"account": {"homePage": home_page, "name": student}},
        "verb": {"id": _ANSWERED, "display": {"en": "answered"}},
        "object": {"id": line},
        "result": {
            "success": success,
            "response": plain(entry.text),
            "score": {"scaled": float(scored)},
            "duration": f"PT{spent:.1f}S",
        },
    }
    if entry.moment is not None:
        moment = entry.moment.isoformat(timespec="milliseconds")
        statement["timestamp"] = moment.replace("+00:00", "Z")
    return statement
