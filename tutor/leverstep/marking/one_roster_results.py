"""Marks as results in OneRoster CSV, for the classes of an export that the teacher has.

The standard is OneRoster of 1EdTech, its binding to CSV: a drill is a `lineItem` of each class, of
one `category` for all drills, and the total of a student a `result` of it. They refer to classes,
terms and people by the `sourcedId` of the export, and are written in its version, as changes
(`delta`): a whole list would take away the results of everything else. Which columns there are is
from public descriptions of the standard's tables; no platform has been tried.
"""

from __future__ import annotations

import uuid
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime

from leverstep.course.decimals import number
from leverstep.course.phrases import counted, some_named
from leverstep.course.plain_text import plain
from leverstep.drill.drill import Drill, same_student
from leverstep.drill.lines import moment_of
from leverstep.drill.one_roster_export import (
    ID_COLUMNS,
    Export,
    ExportedClass,
    ExportedStudent,
)
from leverstep.drill.roster_columns import SECTION
from leverstep.drill.spreadsheet import cell, table_writer
from leverstep.marking.collecting import Student
from leverstep.marking.outputs import Outputs
from leverstep.marking.part import MOST_NAMED

ONE_ROSTER = "oneroster"
"""The folder of the files, which a platform takes as one zip."""

CATEGORY = "Drills"

_NAMESPACE = uuid.UUID("0f6c7d0e-7d35-5e0b-9a53-8f6f0f0d3a71")

_FILES: Mapping[str, tuple[str, ...]] = {
    "1.1": (
        "academicSessions", "categories", "classes", "classResources", "courses",
        "courseResources", "demographics", "enrollments", "lineItems", "orgs", "resources",
        "results", "users",
    ),
    "1.2": (
        "academicSessions", "categories", "classes", "classResources", "courses",
        "courseResources", "demographics", "enrollments", "lineItemLearningObjectiveIds",
        "lineItems", "lineItemScoreScales", "orgs", "resources", "resultLearningObjectiveIds",
        "results", "resultScoreScales", "roles", "scoreScales", "userProfiles", "userResources",
        "users",
    ),
}  # fmt: skip
"""The files that a manifest of each version names, there or not."""

_LINE_ITEMS = (
    "sourcedId", "status", "dateLastModified", "title", "description", "assignDate", "dueDate",
    "classSourcedId", "categorySourcedId",
)  # fmt: skip
_RESULTS = (
    "sourcedId", "status", "dateLastModified", "lineItemSourcedId", "studentSourcedId",
    "scoreStatus", "score", "scoreDate", "comment",
)  # fmt: skip
_COLUMNS: Mapping[str, Mapping[str, tuple[str, ...]]] = {
    "1.1": {
        "categories": ("sourcedId", "status", "dateLastModified", "title"),
        "lineItems": (*_LINE_ITEMS, "gradingPeriodSourcedId", "resultValueMin", "resultValueMax"),
        "results": _RESULTS,
    },
    "1.2": {
        "categories": ("sourcedId", "status", "dateLastModified", "title", "weight"),
        "lineItems": (
            *_LINE_ITEMS, "academicSessionSourcedId", "resultValueMin", "resultValueMax",
            "schoolSourcedId",
        ),
        "results": (
            *_RESULTS, "textScore", "classSourcedId", "inProgress", "incomplete", "late", "missing",
        ),
    },
}  # fmt: skip
"""The columns of each file in their order, by the version."""


@dataclass(frozen=True, slots=True)
class _Result:
    """What a student earned: as marks, or why there are none; and when, from `begun` to `last`."""

    id: str
    section: str
    score: str
    excused: bool
    begun: datetime | None
    last: datetime | None
    late: bool


class OneRosterResults:
    """Keeps a line for each student, and writes the files of results at the end."""

    def __init__(self, drill: Drill, export: Export, out: Outputs) -> None:
        """Begin with none.

        Args:
            drill: what is marked.
            export: the classes that the results are for.
            out: where the files go, in a folder of their own.
        """
        self._drill, self._export, self._out = drill, export, out
        self._results: list[_Result] = []

    def add(self, student: Student) -> None:
        """Keep what a student earned; a record that is nobody's is left out."""
        if not student.id:
            return
        section = self._drill.details.get(self._drill.listed(student.id), {}).get(SECTION, "")
        one = student.counted
        if one is None:
            kept = _Result(student.id, section, "", student.excused, None, None, False)
        else:
            begun, last = moment_of(one.begun), moment_of(one.last)
            is_late = one.days_late > 0
            kept = _Result(student.id, section, number(one.total), False, begun, last, is_late)
        self._results.append(kept)

    def finish(self, now: datetime | None = None) -> list[str]:
        """Write the files, as changed `now`; return what there is to say.

        Raises:
            OSError: where they can't be written.
        """
        now = now or datetime.now(UTC)
        column, known = _known(self._export, self._results)
        placed: list[tuple[_Result, ExportedStudent, ExportedClass]] = []
        unknown, unclear = [], []
        for one in self._results:
            student = known.get(same_student(one.id))
            if student is None:
                unknown.append(one.id)
            elif (of := self._class_of(one, student)) is None:
                unclear.append(one.id)
            else:
                placed.append((one, student, of))
        written = self._write(placed, now)
        folder = self._out.folder / ONE_ROSTER
        told = [f"OneRoster {self._export.version}: {counted(written, 'result')} by the column "
                f"{column}: {folder}"]  # fmt: skip
        told += _left_out("not in the export", unknown)
        return told + _left_out("in several of its classes", unclear)

    def _class_of(self, one: _Result, student: ExportedStudent) -> ExportedClass | None:
        """Return the class that a result is of: the only one, or that of the student's section."""
        there = [self._export.classes[key] for key in student.classes]
        if len(there) == 1:
            return there[0]
        section = one.section.casefold()
        alike = [c for c in there if section and section in (c.code.casefold(), c.title.casefold())]
        return alike[0] if len(alike) == 1 else None

    def _write(
        self, placed: list[tuple[_Result, ExportedStudent, ExportedClass]], now: datetime
    ) -> int:
        """Write all files; return how many results there are."""
        version, stamp = self._export.version, f"{now:%Y-%m-%dT%H:%M:%S}.000Z"
        common = {"status": "active", "dateLastModified": stamp}
        category = _ident("category", CATEGORY)
        first, last = self._dates(now.date())
        items = {
            of.sourced_id: {
                "sourcedId": self._item(of), "title": self._drill.title,
                "assignDate": first.isoformat(), "dueDate": last.isoformat(),
                "classSourcedId": of.sourced_id, "categorySourcedId": category,
                "gradingPeriodSourcedId": "".join(of.terms[:1]),
                "academicSessionSourcedId": "".join(of.terms[:1]),
                "resultValueMin": "0", "resultValueMax": number(self._drill.marks),
                "schoolSourcedId": of.school,
            }
            for _, _, of in placed
        }  # fmt: skip
        # The older version has no result without a score, so that nobody exempt can be told.
        results = [
            self._result(one, student, of, last)
            for one, student, of in placed
            if version != "1.1" or not one.excused
        ]
        rows = {
            "categories": [{"sourcedId": category, "title": CATEGORY}],
            "lineItems": list(items.values()),
            "results": results,
        }
        for name, columns in _COLUMNS[version].items():
            self._table(name, columns, [common | row for row in rows[name]])
        manifest = {"manifest.version": "1.0", "oneroster.version": version}
        for name in _FILES[version]:
            manifest[f"file.{name}"] = "delta" if name in rows else "absent"
        manifest |= {"source.systemName": "leverstep", "source.systemCode": self._drill.id}
        pairs = [{"propertyName": key, "value": value} for key, value in manifest.items()]
        self._table("manifest", ("propertyName", "value"), pairs)
        return len(results)

    def _result(
        self, one: _Result, student: ExportedStudent, of: ExportedClass, due: date
    ) -> dict[str, str]:
        is_missing = not one.score and not one.excused
        status = "exempt" if one.excused else "not submitted" if is_missing else "fully graded"
        score = one.score or ("0" if self._export.version == "1.1" else "")
        on = due if one.last is None else one.last.date()
        return {
            "sourcedId": _ident(self._item(of), student.sourced_id),
            "lineItemSourcedId": self._item(of), "studentSourcedId": student.sourced_id,
            "scoreStatus": status, "score": score, "scoreDate": on.isoformat(),
            "classSourcedId": of.sourced_id, "late": str(one.late).lower(),
            "missing": str(is_missing).lower(),
        }  # fmt: skip

    def _item(self, of: ExportedClass) -> str:
        """Return how the drill is referred to in a class, the same at every marking."""
        return _ident("lineItem", self._drill.id, of.sourced_id)

    def _dates(self, today: date) -> tuple[date, date]:
        """Return when the drill is set and due: by its rules, else as it was sat first and last."""
        begun = min((one.begun for one in self._results if one.begun), default=None)
        ended = max((one.last for one in self._results if one.last), default=None)
        due = None if self._drill.late is None else self._drill.late.due
        opens, closes = self._drill.opens or begun, due or self._drill.closes or ended
        last = today if closes is None else closes.date()
        return (last if opens is None else opens.date()), last

    def _table(self, name: str, columns: Iterable[str], rows: Iterable[Mapping[str, str]]) -> None:
        columns = tuple(columns)
        with self._out.open(f"{ONE_ROSTER}/{name}.csv") as file:
            table = table_writer(file)
            table.writerow(columns)
            for row in rows:
                table.writerow(cell(row.get(column, "")) for column in columns)


def _ident(*words: str) -> str:
    return str(uuid.uuid5(_NAMESPACE, "\x1f".join(words)))


def _known(export: Export, results: Iterable[_Result]) -> tuple[str, Mapping[str, ExportedStudent]]:
    """Return the column of an export that has most of the ids, and its students by these."""
    ids = {same_student(one.id) for one in results}
    found: tuple[str, dict[str, ExportedStudent]] = ID_COLUMNS[0], {}
    for column in ID_COLUMNS:
        by_id: dict[str, ExportedStudent] = {}
        twice: set[str] = set()
        for one in export.students:
            key = same_student(one.ids[column])
            twice |= {key} & by_id.keys()
            by_id[key] = one
        there = {key: by_id[key] for key in by_id.keys() & ids - twice}
        if len(there) > len(found[1]):
            found = column, there
    return found


def _left_out(why: str, ids: list[str]) -> list[str]:
    """Return a line that names the ids without a result, none where there are none."""
    if not ids:
        return []
    return [f"No result for those {why}: {some_named([plain(one) for one in ids], MOST_NAMED)}"]
