"""From a problem file to a `Problem`, or to all that is wrong with the file.

problems/README.md documents the format.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Literal, cast, get_args

from leverstep.course.body_parts import read_points, read_support
from leverstep.course.constants import constant_taken
from leverstep.course.faults import Fault, FileError, Reader, Table, failing_as_fault, told
from leverstep.course.forces import ANGLED, LONG, SENSES, Forces, is_couple
from leverstep.course.further_reading import FurtherReader
from leverstep.course.joined import check_handed_on, read_joined
from leverstep.course.plain_text import shown
from leverstep.course.posture_checks import BOTH, WITHOUT_UNKNOWN, PostureChecks
from leverstep.course.problem import FIGURES, PLACEHOLDER, TOLERANCE, Problem, Stage
from leverstep.course.quantities import Quantities
from leverstep.course.reserved import NOT_RESERVED, is_reserved
from leverstep.course.shown import read_shown
from leverstep.course.toml import parsed, text_of
from leverstep.statics.acting import Force
from leverstep.statics.line_keys import mass_key
from leverstep.statics.points import Distance, Given
from leverstep.statics.posture import Advantage, Axes, Find, InclinedTo, Posture

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

MOST_PIECES = 12
"""Lengths that other distances are made up of; no problem of a course has many."""

MOST_LOADS = 12
"""Twelve take a sixth of a second to derive, a hundred ten; no problem of a course has many."""

MOST_POSTURES = 3
"""Of one working: with more, a student would write lines for an hour."""

LONGEST_CAUTION = 100
"""Characters of a sentence that says what a posture must not be taken for."""

LONGEST_NOTE = 250
"""Characters of what is said of the class of a lever."""

_FALLS = "rises = false says that the segment falls from the axis"
_OTHER_WAY = 'it is the acute one; points = "left" and rises = false turn the segment round'
_METHODS = ("moment arms", "components")
_ADVANTAGES = get_args(Advantage)
_INCLINED_TO = get_args(InclinedTo)
_RESOLVED = {axes.value: (axes,) for axes in Axes} | {BOTH: tuple(Axes)}
IDENT = re.compile(r"[a-z][a-z0-9-]{1,60}")


def read_problem(file: Traversable, called: str = "") -> Problem:
    """Return the problem of a file, `called` so in its faults (its bare name unless given).

    Raises:
        FileError: with every fault of the file.
    """
    path = Path(str(file))
    name = called or path.name or str(path)
    return problem_of(text_of(file, name), path, name)


def problem_of(text: str, path: Path, called: str) -> Problem:
    """Return the problem of a text, as a file at `path` would hold it.

    Raises:
        FileError: with every fault of the text, `called` so.
    """
    return problem_of_table(parsed(text, called), path, called)


def problem_of_table(table: Table, path: Path, called: str) -> Problem:
    """Return the problem of a table, read from the text of a file at `path`.

    Raises:
        FileError: with every fault of the table, `called` so.
    """
    with failing_as_fault(called):
        draft = _ProblemDraft(Reader(called, table))
        problem = draft.problem(path)
        if draft.reader.faults or problem is None:
            raise FileError(told(draft.reader.faults))
        return problem


@dataclass(frozen=True)
class _SegmentLies:
    """How long the segment of a posture is, and which way it lies."""

    points: Literal["left", "right"] = "right"
    length: Distance | None = None
    inclination: Given | None = None
    rises: bool = True
    inclined_to: InclinedTo = "horizontal"


class _ProblemDraft:
    """One file being read."""

    def __init__(self, reader: Reader) -> None:
        self.reader = reader
        self.quantities = Quantities()
        self.forces = Forces(self.quantities)
        self.class_note = ""
        self.further = FurtherReader(self.quantities)
        self._before: Posture | None = None
        self._ask_before = _asked_nothing(reader)
        self._is_read = self._is_worked = True

    def problem(self, path: Path) -> Problem | None:
        reader, quantities, forces = self.reader, self.quantities, self.forces
        ident = reader.text("id")
        if ident and not IDENT.fullmatch(ident):
            reader.fault("id", f'found "{ident}"', "lower-case letters, digits and hyphens")
        elif is_reserved(ident):
            reader.fault("id", f'found "{ident}"', NOT_RESERVED)
        elif ident and ident != path.stem:
            reader.fault("id", f'found "{ident}"', f'the name of the file, "{path.stem}"')
        retired = reader.flag("retired", default=False)
        title, joint = reader.text("title"), reader.text("joint").lower()
        difficulty = reader.number("difficulty", Fraction(1), "a number, 1, 2 or 3")
        if difficulty not in (1, 2, 3):
            reader.fault("difficulty", f"found {float(difficulty):g}", "1, 2 or 3")
        tolerance = reader.number("tolerance", TOLERANCE)
        if not 0 < tolerance <= Fraction(1, 10):
            reader.fault("tolerance", f"found {float(tolerance):g}", "above 0, at most 0.1")
        figures = reader.number("figures", Fraction(FIGURES))
        if figures not in (2, FIGURES):
            reader.fault("figures", f"found {float(figures):g}", f"2 or {FIGURES}")
        statement = " ".join(reader.text("statement", long=True).split())
        caution = _sentence(reader, "caution", LONGEST_CAUTION)
        idealised = reader.texts("idealised")
        constants_set = self._constants()
        seen_from = reader.choice("seen_from", ("side", "above"), "side")
        segment_table = reader.child("segment")
        segment, axis, reaction = _names(segment_table)
        tables = self._next_tables()
        posture = self._posture(reader, segment_table, "1" if tables else "")
        forces_shown = list(forces.force_names)
        later = [self._stage(table, str(mark)) for mark, table in enumerate(tables, 2)]
        shown_besides = read_shown(reader, forces_shown, quantities)
        reader.finish({"g": '"gravity"'})
        quantities.check_lengths()
        self._check_statement(statement)
        if posture is None or reader.faults:
            return None
        reaction = reaction or _called(posture)
        first = Stage(posture, segment, axis, reaction, shown_besides)
        return Problem(
            ident, title, joint, int(difficulty), statement, segment, axis, posture,
            forces.names | self.further.names,
            quantities.ranges, quantities.placeholders, forces.places, reaction, quantities.own,
            forces.sizes.table, tuple(dict.fromkeys(quantities.looked_up)), idealised,
            tolerance, path, seen_from, caution, shown_besides, pieces=quantities.pieces,
            constants_set=constants_set, class_note=self.class_note, figures=int(figures),
            retired=retired, stages=(first, *filter(None, later)) if tables else (),
        )  # fmt: skip

    def _next_tables(self) -> list[Reader]:
        """Return the tables of the postures that follow the first one; most files have none."""
        expected = "[[next]] for each posture that follows"
        return self.reader.children("next", expected, MOST_POSTURES - 1, needed=False)

    def _stage(self, reader: Reader, mark: str) -> Stage | None:
        """Return a posture that follows, with its names."""
        self.forces.begin_next(mark, self.further.forces)
        segment = reader.child("segment")
        name, axis, reaction = _names(segment)
        posture = self._posture(reader, segment, mark)
        besides = read_shown(reader, self.forces.force_names, self.quantities)
        reader.finish()
        if posture is None:
            return None
        return Stage(posture, name, axis, reaction or _called(posture), besides)

    def _constants(self) -> dict[str, tuple[float, ...]]:
        """Return what is to be taken for g, where the file says so."""
        if not self.reader.has("gravity"):
            self.reader.asked.add("gravity")
            return {}
        taken = constant_taken(self.reader, "gravity", "g")
        return {"g": taken} if taken else {}

    def _check_statement(self, statement: str) -> None:
        placeholders = self.quantities.placeholders
        unread, faults_before = set(_symbols(self.reader.table)), len(self.reader.faults)
        for name in PLACEHOLDER.findall(statement):
            if name not in placeholders and (name not in unread or not faults_before):
                found = f"{{{name}}} stands for nothing{self._meant(name)}"
                if name in unread:
                    found = f"{{{name}}} has no number that is given"
                expected = "one of " + ", ".join(f"{{{known}}}" for known in placeholders)
                self.reader.fault("statement", found, expected)
        if set("{}") & set(PLACEHOLDER.sub("", statement)):
            self.reader.fault("statement", "found an unmatched brace", "{ and } in pairs")

    def _meant(self, name: str) -> str:
        """Return a question for the placeholder that is meant by a name, "" for none."""
        known, alone = self.quantities.placeholders, name.split(" ")[0]
        if alone != name and alone in known:
            return f' (did you mean "{alone}"? its unit comes by itself)'
        as_letter = name.replace("1", "l")
        return (
            f' (did you mean "{as_letter}"?)'
            if as_letter in known
            else self.reader.near(name, known)
        )

    def _posture(self, reader: Reader, segment: Reader | None, mark: str) -> Posture | None:
        """Return the posture that a table describes, None where it can't be read."""
        forces, faults_before = self.forces, len(reader.faults)
        lies = _SegmentLies() if segment is None else self._segment(segment)
        pieces = tuple(self.quantities.piece(one) for one in _piece_tables(reader))
        body = reader.child("body", needed=False) if reader is self.reader else None
        if body is not None:
            forces.sizes.read_body(body)
        body_points = read_points(reader, self.quantities, forces)
        support = read_support(reader, self.quantities)
        effort_table = reader.child("effort", needed=False)
        forces.mark = mark
        effort = None if effort_table is None else forces.force(effort_table)
        tables = reader.children("load", "at least one [[load]], in double brackets", MOST_LOADS)
        loads = [forces.force(one) for one in tables if not is_couple(one)]
        couples = tuple(forces.couple(one) for one in tables if is_couple(one))
        pushes, handed = read_joined(reader, forces, self.quantities, self._before)
        loads, couples = [*pushes, *loads], (*couples, *handed)
        further = self.further.read(reader)
        positive = SENSES[reader.choice("positive", tuple(SENSES), "counter-clockwise")]
        ask = reader.child("ask", needed=False) or _asked_nothing(reader)
        by_components = ask.choice("method", _METHODS, _METHODS[0]) == _METHODS[1]
        named, find = _sought(ask, effort)
        angles = self.quantities.angles_sought
        by_mass = {load.mass_key for load in loads}
        resolve = ask.choice("resolve", tuple(_RESOLVED), Axes.LEVEL.value)
        posture = Posture(
            effort, tuple(loads), lies.length, lies.inclination, lies.points, lies.rises,
            positive, by_components,
            cast(Advantage, ask.choice("advantage", _ADVANTAGES, _ADVANTAGES[0])),
            ask.text("arm_ratio_of", "") or None,
            reaction=find is Find.REACTION
            or (ask.flag("reaction", True) and find not in (Find.RESULTANT, Find.TWO_FORCES)),
            ratios=ask.flag("ratios", not (couples or angles)), class_asked=_class_asked(ask),
            find=find, as_mass=named in by_mass, body=forces.sizes.body, further=further,
            resolved=_RESOLVED.get(resolve, (Axes.LEVEL,)),
            compression=ask.flag("compression", False),
            body_points=body_points, support=support, mark=mark,
            pieces=pieces, couples=couples, sought_angle=next(iter(angles), None),
            inclined_to=lies.inclined_to,
        )  # fmt: skip
        self.class_note = _sentence(ask, "class_note", LONGEST_NOTE)
        ask.finish()
        if posture.seeks_centre:
            posture = replace(posture, reaction=False, ratios=False)
        self._check_couples(posture, ask)
        self._is_read &= len(reader.faults) == faults_before and bool(posture.forces)
        if reader.has("joined") and self._before is not None:
            check_handed_on(self._before, self._ask_before)
        self._before, self._ask_before = posture if self._is_read else None, ask
        if not self._is_read:
            return None
        # Faults elsewhere in the file hide none of these; what is worked out further needs all.
        found: list[Fault] = []
        own_ask, own_reader = replace(ask, faults=found), replace(reader, faults=found)
        PostureChecks(posture, named, own_ask, own_reader, self.quantities).check()
        reader.faults.extend(found)
        self._is_worked &= not found
        if not all(".ask." in f".{fault.key}" for fault in found):
            self._before = None  # nobody knows what is handed on to a segment that is joined
        if self._is_worked:
            self.further.check(posture)
        return posture

    def _segment(self, reader: Reader) -> _SegmentLies:
        """Return how the segment lies."""
        points = reader.choice("points", ("right", "left"), "right")
        table = reader.child("length", needed=False, like=LONG)
        length = None if table is None else self.quantities.length(table)
        lies = _SegmentLies(cast(Literal["left", "right"], points), length)
        table = reader.child("inclination", needed=False, like=ANGLED)
        if table is not None:
            rises = table.flag("rises", True)
            line = table.choice("line", _INCLINED_TO, _INCLINED_TO[0])
            inclination = self.quantities.angle(table, _FALLS, _OTHER_WAY)
            inclined_to = cast(InclinedTo, line)
            lies = replace(lies, inclination=inclination, rises=rises, inclined_to=inclined_to)
        reader.finish()
        return lies

    def _check_couples(self, posture: Posture, ask: Reader) -> None:
        """Note where a couple stands in a problem that has no place for it."""
        if not posture.couples:
            return
        if not posture.forces:
            self.reader.fault("load", "found no force", "a force beside the couple")
        if posture.ratios:
            ask.fault("ratios", "a couple has no arm to compare", "no ratios")
        if not posture.has_moments:
            self.reader.fault("load", "found a couple", "forces alone, where nothing turns")


def _asked_nothing(reader: Reader) -> Reader:
    """Return what stands in where a posture asks for nothing."""
    return Reader(reader.file, {}, reader.faults, reader.at("ask"))


def _names(segment: Reader | None) -> tuple[str, str, str]:
    """Return what a segment, its axis, and the force there are called; "" if untold."""
    if segment is None:
        return "", "", ""
    return segment.text("name"), segment.text("axis"), segment.text("reaction", "")


def _called(posture: Posture) -> str:
    """Return what the force at the axis is called, unless a file says so."""
    return "resultant" if posture.find is Find.RESULTANT else "joint reaction"


def _piece_tables(reader: Reader) -> list[Reader]:
    """Return the tables of distances that others are made up of; few problems have one."""
    expected = "[[distance]] for each length"
    return reader.children("distance", expected, MOST_PIECES, needed=False)


def _sentence(reader: Reader, key: str, most: int) -> str:
    """Return what is to be told just as it is written; "" for nothing."""
    told = reader.text(key, "")
    if told and (len(told) > most or not told.endswith(".") or set("{}") & set(told)):
        expected = f"a sentence with a full stop, up to {most} characters, no braces"
        reader.fault(key, f"found {shown(told)}", expected)
    return told


def _sought(ask: Reader, effort: Force | None) -> tuple[str, Find]:
    """Return what a file calls what is to be found, and which that is."""
    if isinstance(ask.table.get("find"), list):
        return " and ".join(ask.texts("find")), Find.TWO_FORCES
    named = ask.text("find", "" if effort is None else effort.symbol)
    return named, Find(named) if named in WITHOUT_UNKNOWN else Find.BALANCE


def _class_asked(ask: Reader) -> bool | None:
    """Return whether the class of lever is to be asked for, None where the file does not say."""
    said = ask.flag("class", True, "true or false; which class it is follows from the posture")
    return said if ask.has("class") else None


def _symbols(value: object) -> Iterator[str]:
    """Yield every symbol that stands in a file, read or not, and that of its mass."""
    inside: Iterable[object] = ()
    if isinstance(value, dict):
        inside = value.values()
        if isinstance(symbol := value.get("symbol"), str):
            yield from (symbol, mass_key(symbol))
    elif isinstance(value, list):
        inside = value
    for one in inside:
        yield from _symbols(one)
