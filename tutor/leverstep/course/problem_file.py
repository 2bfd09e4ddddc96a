"""From a problem file to a `Problem`, or to all that is wrong with the file.

problems/README.md documents the format.
"""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Literal, cast

from leverstep.course.faults import FileError, Reader, told
from leverstep.course.forces import Forces
from leverstep.course.plain_text import shown
from leverstep.course.problem import PLACEHOLDER, TOLERANCE, Problem
from leverstep.course.quantities import RESERVED, Quantities
from leverstep.course.reserved import NOT_RESERVED, is_reserved
from leverstep.course.shown import read_shown
from leverstep.course.toml import parsed, text_of
from leverstep.statics.balance import known, resisting, turning_against
from leverstep.statics.posture import Axes, Find, Force, Posture, run_to_attachment
from leverstep.statics.step import Draft
from leverstep.statics.turn import own_keys, passes_axis

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

MOST_LOADS = 12
"""Twelve take a sixth of a second to derive, a hundred ten; no problem of a course has many."""

LONGEST_CAUTION = 100
"""Characters of a sentence that says what a posture must not be taken for."""

_METHODS = ("moment arms", "components")
_WITHOUT_UNKNOWN = tuple(find.value for find in Find if find is not Find.BALANCE)
_BOTH = "both"
_RESOLVED = {axes.value: (axes,) for axes in Axes} | {_BOTH: tuple(Axes)}
_ID = re.compile(r"[a-z][a-z0-9-]{1,60}")


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
    draft = _ProblemDraft(Reader(called, parsed(text, called)))
    problem = draft.problem(path)
    if draft.reader.faults or problem is None:
        raise FileError(told(draft.reader.faults))
    return problem


class _ProblemDraft:
    """One file being read."""

    def __init__(self, reader: Reader) -> None:
        self.reader = reader
        self.quantities = Quantities()
        self.forces = Forces(self.quantities)

    def problem(self, path: Path) -> Problem | None:
        reader, quantities, forces = self.reader, self.quantities, self.forces
        ident = reader.text("id")
        if ident and not _ID.fullmatch(ident):
            reader.fault("id", f'found "{ident}"', "lower-case letters, digits and hyphens")
        elif is_reserved(ident):
            reader.fault("id", f'found "{ident}"', NOT_RESERVED)
        elif ident and ident != path.stem:
            reader.fault("id", f'found "{ident}"', f'the name of the file, "{path.stem}"')
        title, joint = reader.text("title"), reader.text("joint").lower()
        difficulty = reader.number("difficulty", Fraction(1))
        if difficulty not in (1, 2, 3):
            reader.fault("difficulty", f"found {float(difficulty):g}", "1, 2 or 3")
        tolerance = reader.number("tolerance", TOLERANCE)
        if not 0 < tolerance <= Fraction(1, 10):
            reader.fault("tolerance", f"found {float(tolerance):g}", "above 0, at most 0.1")
        statement = " ".join(reader.text("statement", long=True).split())
        caution = self._caution()
        idealised = reader.texts("idealised")
        seen_from = reader.choice("seen_from", ("side", "above"), "side")
        segment_table = reader.child("segment")
        segment, axis, reaction = "", "", ""
        if segment_table is not None:
            segment, axis = segment_table.text("name"), segment_table.text("axis")
            reaction = segment_table.text("reaction", "joint reaction")
        posture = self._posture(segment_table)
        shown_besides = read_shown(reader, forces.names, quantities.placeholders)
        reader.finish()
        self._check_statement(statement)
        if posture is None or reader.faults:
            return None
        return Problem(
            ident, title, joint, int(difficulty), statement, segment, axis, posture, forces.names,
            quantities.ranges, quantities.placeholders, forces.places, reaction, quantities.own,
            forces.table, tuple(dict.fromkeys(quantities.looked_up)), idealised,
            tolerance, path, seen_from, caution, shown_besides,
        )  # fmt: skip

    def _caution(self) -> str:
        """Return the sentence that says what the posture must not be taken for; "" for none."""
        told = self.reader.text("caution", "")
        if told and (
            len(told) > LONGEST_CAUTION or not told.endswith(".") or set("{}") & set(told)
        ):
            expected = f"a sentence with a full stop, up to {LONGEST_CAUTION} characters, no braces"
            self.reader.fault("caution", f"found {shown(told)}", expected)
        return told

    def _check_statement(self, statement: str) -> None:
        placeholders = self.quantities.placeholders
        for name in PLACEHOLDER.findall(statement):
            if name not in placeholders:
                found = f"{{{name}}} stands for nothing{self.reader.near(name, placeholders)}"
                expected = "one of " + ", ".join(f"{{{known}}}" for known in placeholders)
                self.reader.fault("statement", found, expected)
        if set("{}") & set(PLACEHOLDER.sub("", statement)):
            self.reader.fault("statement", "found an unmatched brace", "{ and } in pairs")

    def _posture(self, segment: Reader | None) -> Posture | None:
        reader, forces = self.reader, self.forces
        length = inclination = None
        rises, points = True, "right"
        if segment is not None:
            points = segment.choice("points", ("right", "left"), "right")
            table = segment.child("length", needed=False)
            length = None if table is None else self.quantities.length(table)
            table = segment.child("inclination", needed=False)
            if table is not None:
                rises = table.flag("rises", True)
                inclination = self.quantities.angle(table)
            segment.finish()
        body = reader.child("body", needed=False)
        if body is not None:
            forces.read_body(body)
        effort_table = reader.child("effort", needed=False)
        effort = None if effort_table is None else forces.force(effort_table)
        tables = reader.children("load", "at least one [[load]]", MOST_LOADS)
        loads = [forces.force(one) for one in tables]
        turns = reader.choice("positive", ("counter-clockwise", "clockwise"), "counter-clockwise")
        ask = reader.child("ask", needed=False) or Reader(reader.file, {}, reader.faults, "ask")
        by_components = ask.choice("method", _METHODS, _METHODS[0]) == _METHODS[1]
        named = ask.text("find", "" if effort is None else effort.symbol)
        find = Find(named) if named in _WITHOUT_UNKNOWN else Find.BALANCE
        by_mass = {load.mass_key for load in loads}
        resolve = ask.choice("resolve", tuple(_RESOLVED), Axes.LEVEL.value)
        posture = Posture(
            effort, tuple(loads), length, inclination,
            cast(Literal["left", "right"], points), rises,
            1 if turns == "counter-clockwise" else -1, by_components,
            ask.text("arm_ratio_of", "") or None,
            reaction=ask.flag("reaction", True) or find is Find.REACTION,
            ratios=ask.flag("ratios", True), find=find,
            as_mass=named in by_mass, body=forces.body,
            resolved=_RESOLVED.get(resolve, (Axes.LEVEL,)),
            compression=ask.flag("compression", False),
        )  # fmt: skip
        ask.finish()
        if reader.faults or not loads:
            return None
        self._check_arm_ratio(posture, ask)
        self._check_resolved(posture, ask)
        self._check_distances(posture)
        if not reader.faults:
            self._check_sought(posture, named, ask)
        if not reader.faults:
            self._check_steps(posture)
        return posture

    def _check_arm_ratio(self, posture: Posture, ask: Reader) -> None:
        named, loads = posture.arm_ratio_of, [load.symbol for load in posture.loads]
        if named is not None and named not in loads:
            found = f'found "{named}"{ask.near(named, loads)}'
            ask.fault("arm_ratio_of", found, "the symbol of a load")

    def _check_resolved(self, posture: Posture, ask: Reader) -> None:
        """Note where nothing is there to be resolved, or no axial component to be told in words."""
        by_segment = Axes.SEGMENT in posture.resolved
        if by_segment and not posture.reaction and posture.effort is None:
            found = "there is neither a reaction nor an effort to resolve"
            ask.fault("resolve", found, "reaction = true, or an [effort]")
        if posture.compression and not (by_segment and posture.reaction):
            expected = f'a reaction, and resolve = "{Axes.SEGMENT.value}" or "{_BOTH}"'
            ask.fault("compression", "no component along the segment is asked for", expected)

    def _check_sought(self, posture: Posture, named: str, ask: Reader) -> None:
        """Note where what is to be found is not the one thing that the file leaves open."""
        unknown = [force.symbol for force in posture.unknown]
        unknown += [distance.symbol for distance in posture.distances if distance.sought]
        weighed = (force.symbol for force in posture.forces if force.mass_key == named)
        sought = next(weighed, named) if posture.as_mass else named
        wanted = [sought] if posture.find is Find.BALANCE else []
        if unknown == wanted:
            return
        found = f"left open: {', '.join(unknown) or 'nothing'}"
        expected = f"{named} and no other" if wanted else "every size and distance"
        if not named:
            found = "missing"
            expected = "the symbol of what is left open, or one of " + ", ".join(_WITHOUT_UNKNOWN)
        ask.fault("find", found, expected)

    def _check_distances(self, posture: Posture) -> None:
        named = {force.at.symbol for force in posture.forces}
        if posture.length is not None:
            named.add(posture.length.symbol)
        for force in posture.forces:
            if force.at.of is not None and force.at.of not in named:
                found = f'{force.at.symbol} is a fraction of "{force.at.of}"'
                expected = "a distance of this problem" + self.reader.near(force.at.of, named)
                self.reader.fault("load", found, expected)
                return
        try:
            posture.distances  # noqa: B018  (evaluated for what it raises)
        except ValueError as error:
            self.reader.fault("load", str(error), "at least one of them measured")

    def _check_steps(self, posture: Posture) -> None:
        """Note what keeps the working from being written: names that clash, or no balance."""
        middle = {key: span.middle() for key, span in self.quantities.ranges.items()}
        draft = Draft(posture, middle)
        taken = set(self.quantities.symbols) | RESERVED
        for force in posture.forces:
            self._check_keys(draft, force, taken)
            self._check_attachment(draft, force)
        if posture.balancing is not None:
            self._check_balance(draft, posture.balancing)
        elif posture.has_moments and not known(draft):
            self.reader.fault("load", "no force has a moment", "a force beside the axis")

    def _check_keys(self, draft: Draft, force: Force, taken: set[str]) -> None:
        """Note steps of a force that are called as something else is; their names are `taken`."""
        for key in own_keys(draft, force):
            if key in taken:
                found = f'"{key}" is also what a step about {force.symbol} is called'
                self.reader.fault("symbol", found, "another symbol")
            taken.add(key)

    def _check_attachment(self, draft: Draft, force: Force) -> None:
        """Note a far end that does not lie where the direction says."""
        if force.direction.attachment is None:
            return
        run = run_to_attachment(draft.posture, force, draft.sample)
        if (run > 0) != (force.direction.toward == "end"):
            found = f"the far end of {force.symbol} lies toward the other end"
            self.reader.fault("direction.toward", found, '"axis" or "end", as it lies')

    def _check_balance(self, draft: Draft, last: Force) -> None:
        """Note where the force that is to be found can't hold the others."""
        effort = draft.posture.effort
        if last is not effort and passes_axis(draft, last):
            found = f"{last.symbol} acts through the axis"
            self.reader.fault("load", found, "a force that has a moment")
        elif last is not effort and not turning_against(draft, last):
            found = f"{last.symbol} turns the same way as every other force"
            self.reader.fault("load", found, "a force against some other")
        elif effort is not None and passes_axis(draft, effort):
            found = "the effort acts through the axis"
            self.reader.fault("effort.direction", found, "an effort that has a moment")
        elif effort is not None and not resisting(draft):
            found = "the effort turns the same way as every load"
            self.reader.fault("effort.direction", found, "an effort against some load")
