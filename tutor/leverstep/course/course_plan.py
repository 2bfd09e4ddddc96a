"""The plan of a course: which problems belong to which week, as a teacher's own file tells.

It lies as `course.toml` in a folder of the teacher's own problems. It may also name joints, levels
and kinds in the course's own words. The drills of a term may stand in it too: they are read by
`term/term_plan.py`.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from leverstep.course.course_words import USUAL_WORDS, WORDS, CourseWords, read_words
from leverstep.course.faults import Fault, FileError, Reader, failing_as_fault, told
from leverstep.course.toml import parsed, text_of

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

PLAN = "course.toml"
"""The name of the file, so that no problem has it."""

MOST_WEEKS, MOST_IN_WEEK = 60, 60
"""No course has more weeks, and no week more problems."""

OF_TERM = ("title", "drill", "lowest_left_out")
"""What the file has for a term: all but the weeks."""

LONGEST_TITLE = 60
"""Characters of the title of a week, which heads a list."""


@dataclass(frozen=True, slots=True)
class Week:
    """One part of a course: what it is called, and the ids of its problems in their order."""

    title: str
    problems: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CoursePlan:
    """What a course sets: its weeks in their order, and its own words."""

    weeks: tuple[Week, ...] = ()
    words: CourseWords = USUAL_WORDS


NO_PLAN = CoursePlan()
"""What there is without a file."""


def is_plan(path: Traversable) -> bool:
    """Return whether a file is the plan of a course, by its name."""
    return path.name == PLAN


def read_plan(
    file: Traversable, known: Iterable[str], joints: Iterable[str], called: str = ""
) -> tuple[CoursePlan, tuple[Fault, ...]]:
    """Return a plan, and all that is wrong with it.

    What is wrong in one week leaves the others alone, and so does a problem that there is none of.
    Where the file has words or the drills of a term, it need not have weeks.

    Args:
        file: where it lies.
        known: the ids of all problems there are.
        joints: those of these problems.
        called: what it is called in its faults, its bare name unless given.
    """
    name = called or file.name
    try:
        with failing_as_fault(name):
            reader = Reader(name, parsed(text_of(file, name), name))
            reader.asked.update(OF_TERM)
            words = read_words(reader, sorted(set(joints)))
            plan = CoursePlan(tuple(_weeks(reader, list(known))), words)
            reader.finish()
            return plan, told(reader.faults)
    except FileError as error:
        return NO_PLAN, error.faults


def _weeks(reader: Reader, known: list[str]) -> Iterator[Week]:
    """Yield the weeks of a plan that have a title and a problem that is known."""
    expected = 'one or more tables [[week]], each with "title" and "problems"'
    titles: set[str] = set()
    needed = not (reader.has("drill") or reader.has(WORDS))
    for week in reader.children("week", expected, MOST_WEEKS, needed):
        title = week.text("title", expected=f"a text of at most {LONGEST_TITLE} characters")
        if len(title) > LONGEST_TITLE:
            week.fault("title", f"found {len(title)} characters", f"at most {LONGEST_TITLE}")
            title = title[:LONGEST_TITLE]
        elif title in titles:
            week.fault("title", f'"{title}" is taken', "a title of its own")
        titles.add(title)
        problems = tuple(_problems(week, known))
        week.finish()
        if title and problems:
            yield Week(title, problems)


def _problems(week: Reader, known: list[str]) -> Iterator[str]:
    """Yield the problems of a week that are known, each once."""
    there: Container[str] = frozenset(known)
    if not week.has("problems"):
        week.asked.add("problems")
        week.fault("problems", "missing", "a list of names of problems")
        return
    named = week.texts("problems")
    if not named and week.table["problems"] == []:
        week.fault("problems", "found no problem", "a list of names of problems")
    if len(named) > MOST_IN_WEEK:
        week.fault("problems", f"found {len(named)}", f"at most {MOST_IN_WEEK}")
    met: set[str] = set()
    for ident in named[:MOST_IN_WEEK]:
        if ident in met:
            week.fault("problems", f'"{ident}" stands there twice', "each problem once in a week")
        elif ident and ident not in there:
            found = f'no problem is called "{ident}"{week.near(ident, known)}'
            week.fault("problems", found, "a name that `leverstep problems` lists")
        elif ident:
            yield ident
        met.add(ident)
