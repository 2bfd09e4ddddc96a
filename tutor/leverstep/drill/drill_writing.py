"""Writing a new drill: a file to edit, with the teacher's own problems inside."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator
from contextlib import suppress
from pathlib import Path

from leverstep.course.new_file import refuse_old, write_new
from leverstep.course.phrases import capital
from leverstep.course.problem import Problem
from leverstep.course.shelf import Shelf
from leverstep.course.toml import quoted, text_of
from leverstep.drill.drill import Drill, Hints
from leverstep.drill.drill_file import drill_of
from leverstep.drill.roster import from_drill
from leverstep.drill.roster_columns import RosterColumns
from leverstep.working.guidance import Guidance

_TRIES_GRADED = 3

_LATE = "# late = { due = 2027-03-01T10:30:00+01:00, grace = 10, per_day = 0.1, floor = 0.5 } "

_SKELETON = """\
# A drill for leverstep. problems/DRILLS.md says what every rule means. A line that begins with #
# has no effect: remove the #, and put in your own value.
{suits}
id = "{ident}"
title = {title}
guidance = {guidance}# "lines", "landmarks" or "blank"
feedback = "each line"    # or "at the end"
{hints}# "free", "at a cost" or "none"
reasons = "when asked"    # a hint names the likely slip; or "at once": the verdict does
conversions = "asked"     # lines that only convert a unit; or "until clean", "given": filled in
units = "asked"           # for a bare number; or "named": it is taken in the unit of its line
calculator = true         # one is at hand that knows the symbols; or false
picture = "given"         # the free-body diagram; or "asked": the student draws it; or "off": none
predict = false           # true: before the first line it is asked what to expect; no marks
sense = false             # true: after the last line it is asked whether it makes sense; no marks
sure = false              # true: with each entry it is asked how sure the student is; no marks
{minutes}# the time allowed; no limit if left out
# clock = "wall"          # minutes go on while it is left; if left out they stand still then
{attempts}# how often a line may be tried; any number of times if left out
{sittings}# how often it may be sat; any number of times if left out
# tolerance = 0.01        # how far off an entry may be; that of each problem if left out
# opens = 2027-03-01T09:00:00+01:00
# closes = 2027-03-01T11:00:00+01:00
{late}# what is lost each day after it was due, down to the floor; nothing if left out
# start_word              # given out in the room at the start: `leverstep drill start-word` sets it
# own_numbers             # they come from a file of each student: `leverstep drill numbers` sets it
# pins = true             # each student's own is asked for: `leverstep drill pins` sets it
# seal                    # each record shows later changes: `leverstep drill seal` sets it
{roster}# the table of the class; anyone may sit it if left out
{columns}# what its columns are called; so if left out

[marking]
{wrong_try}# what each wrong try costs, as a share of the marks of its line
hint = 0.25               # what each hint costs, where hints have a cost; or a list of four
follow_through = 1        # what a line right with an earlier value earns, as a share
counts = "best"           # or "last": the sitting that counts
"""


_MIXED = """\
mixed = {mixed}                 # so many short problems of different kinds, the same for the class
# kinds = ["effort"]      # only problems that ask for these; joints and levels narrow it likewise
"""

_MARKED = 'numbers = "individual"    # or "fixed"\nmarks = 10\n'

_PRACTICE = """\
# As they stand, these rules suit practice: hints are free, a line may be tried and the drill be sat
# any number of times. For marks, `leverstep drill new --graded` writes others."""

_GRADED = """\
# These rules suit marks: each line has three tries, hints and wrong tries cost a share of it, what
# came of a line is told at once, and the drill is sat once."""


def write_drill(
    path: Path,
    names: Iterable[str],
    shelf: Shelf,
    title: str | None = None,
    minutes: int | None = None,
    attempts: int | None = None,
    guidance: str = Guidance.LINES,
    roster: str = "",
    columns: RosterColumns | None = None,
    graded: bool = False,
    mixed: int = 0,
) -> Drill:
    """Write a new drill with some problems; those of the teacher's own go inside. Return it.

    Args:
        path: where it goes; nothing may be there.
        names: the problems, by id or by the path of a file.
        shelf: the problems there are.
        title: what it is called, after the name of the file unless given.
        minutes: the time there is, None for any.
        attempts: how often a line may be tried, None for any number of times.
        guidance: how far students are led.
        roster: the path of the roster, "" for none; the drill names it from its own folder.
        columns: what the columns of the roster are called, None for the usual.
        graded: whether the rules are to suit marks, and not practice.
        mixed: how many short problems of different kinds are drawn, after those that are named.

    Raises:
        FileError: where a name is no problem, or the file can't be written or is there already.
    """
    refuse_old(path)
    problems = [shelf.find(name) for name in names]
    beside = from_drill(path, roster) if roster else ""
    if graded and attempts is None:
        attempts = _TRIES_GRADED
    named = f"roster_columns = {(columns or RosterColumns()).as_rule}"
    text = _SKELETON.format(
        ident=re.sub(r"[^A-Za-z0-9]+", "-", path.stem[:60]).strip("-") or "drill",
        title=quoted(title or title_after(path)),
        guidance=f'"{guidance}"'.ljust(15),
        minutes=_rule("minutes", minutes, 45),
        attempts=_rule("attempts", attempts, 3),
        roster=(f"roster = {quoted(beside)}" if roster else '# roster = "roster.csv"').ljust(26),
        columns=f"{'# ' if columns in (None, RosterColumns()) else ''}{named} ".ljust(26),
        late=_LATE,
        suits=_GRADED if graded else _PRACTICE,
        hints=f'hints = "{Hints.COST if graded else Hints.FREE}"'.ljust(26),
        sittings=_rule("sittings", 1 if graded else None, 1),
        wrong_try=f"wrong_try = {0.1 if graded else 0}".ljust(26),
    )
    for problem in problems:
        text += f'\n[[item]]\nproblem = "{problem.id}"\ncount = 1\n{_MARKED}'
    if mixed:
        text += f"\n[[item]]\n{_MIXED.format(mixed=mixed)}{_MARKED}"
    if inside := "".join(_inside(problems, shelf)):
        text += f"\n[problems]\n{inside}"
    there = dict(shelf.problems) if mixed else {}
    there |= {problem.id: problem for problem in problems}
    drill = drill_of(text, there, path.name, path.parent)
    write_new(path, text)
    return drill


def title_after(path: Path) -> str:
    """Return the title that a drill has after its file: `Levers 3` for `levers-3.toml`."""
    return capital(" ".join(re.split(r"[\s_-]+", path.stem)).strip()) or path.stem


def _inside(problems: Iterable[Problem], shelf: Shelf) -> Iterator[str]:
    """Yield the lines of the problems that are the teacher's own, each once."""
    for problem in dict.fromkeys(problems):
        is_own = problem.id in shelf.own or problem.id not in shelf.problems
        if is_own and problem.path is not None:
            yield f"{problem.id} = {_quoted(problem.path)}\n"


def _rule(key: str, value: int | None, example: int) -> str:
    """Return a rule, one that is not in force where it has no value."""
    return (f"# {key} = {example}" if value is None else f"{key} = {value}").ljust(26)


def _quoted(path: Path) -> str:
    """Return the text of a file as a text in TOML over several lines, which can be edited there."""
    text = text_of(path, path.name)
    for mark in ('"""', "'''"):
        block = f"{mark}\n{text}{mark}"
        with suppress(tomllib.TOMLDecodeError):
            if tomllib.loads(f"text = {block}") == {"text": text}:
                return block
    escaped = text.replace("\\", "\\\\").replace('"""', '""\\"')
    return f'"""\n{escaped}"""'
