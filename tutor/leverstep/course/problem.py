"""A problem as its file describes it, and a question: the problem with one student's numbers."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from leverstep.course.asked import asked_of
from leverstep.course.factors import TakenFactor, factors_of
from leverstep.course.faults import failing_as_fault
from leverstep.course.numbers import ANGLE_GUESSED, Range, middles
from leverstep.course.out_of_balance import along_one_line, out_of_balance
from leverstep.course.segments import SegmentTable
from leverstep.course.shown import Shown
from leverstep.statics.acting import Force
from leverstep.statics.choices import CONVENTIONS
from leverstep.statics.points import Distance, Given
from leverstep.statics.posture import Posture
from leverstep.statics.units import TABLE, known_unit

if TYPE_CHECKING:
    from leverstep.statics.graph import Graph, Values
    from leverstep.statics.kinds import Kind
    from leverstep.statics.step import Derivation, Step

TOLERANCE = Fraction(1, 100)
"""How far an entry may lie from its reference, as a share of it; a problem may set another."""

FIGURES = 3
"""Significant figures that an entry needs; a problem may take two."""

TWO_ARE_ENOUGH = "Two significant figures are enough."
"""What is told behind the statement of a problem that takes two."""

SAMPLE = "1"
"""The numbers that a problem is looked at with, where what is looked for hardly rests on them."""

PLACEHOLDER = re.compile(r"\{([^{}]*)\}")


@dataclass(frozen=True)
class Stage:
    """One of several postures of a working, with the names of its segment, axis and reaction.

    `shown` is what its picture shows besides the forces.
    """

    posture: Posture
    segment: str
    axis: str
    reaction: str
    shown: tuple[Shown, ...] = ()


@dataclass(frozen=True)
class Problem:
    """One problem file.

    `names` says what each force's symbol stands for, `places` where it acts, by its symbol and the
    mark of its posture, if that has a name of its own; `segment`, `axis` and `reaction` are the
    names of the segment, its joint axis, and the force that acts there. `own` holds the plausible
    limits of each given that a student may measure on the own body, by key. `table` is the table of
    body segments in use, `from_table` the segments whose mass or centre of mass is looked up there.
    `ranges` holds the range of each given, by key; `placeholders` the given that stands in the
    statement for each symbol. `seen_from` is "above" where the posture lies in a plan, "side"
    elsewhere. `caution` says in a sentence what the posture must not be taken for, "" where nobody
    would. `shown` is what the picture shows of the posture besides the forces. Where a working has
    several postures, `stages` holds all of them, and `posture`, `segment`, `axis`, `reaction` and
    `shown` are of the one looked at. `pieces` says what each distance is that no force acts at,
    `constants_set` which values count for a constant that the problem sets itself. `class_note` is
    what is told of the class of lever once it is found, "" for nothing. `figures` are as many
    significant figures as an entry needs. `retired` says that no list offers it any more: it is
    there for the records and pages that were begun with it.
    """

    id: str
    title: str
    joint: str
    difficulty: int
    statement: str
    segment: str
    axis: str
    posture: Posture
    names: Mapping[str, str] = field(hash=False)
    ranges: Mapping[str, Range] = field(hash=False)
    placeholders: Mapping[str, Given] = field(hash=False)
    places: Mapping[tuple[str, str], str] = field(default_factory=dict, hash=False)
    reaction: str = "joint reaction"
    own: Mapping[str, tuple[Fraction, Fraction]] = field(default_factory=dict, hash=False)
    table: SegmentTable | None = field(default=None, hash=False)
    from_table: tuple[str, ...] = ()
    idealised: tuple[str, ...] = ()
    tolerance: Fraction = TOLERANCE
    path: Path | None = None
    seen_from: str = "side"
    caution: str = ""
    shown: tuple[Shown, ...] = ()
    stages: tuple[Stage, ...] = ()
    pieces: Mapping[str, str] = field(default_factory=dict, hash=False)
    constants_set: Mapping[str, tuple[float, ...]] = field(default_factory=dict, hash=False)
    class_note: str = ""
    figures: int = FIGURES
    retired: bool = False

    def question(
        self,
        seed: str,
        own: Mapping[str, Fraction] | None = None,
        accepted: Mapping[str, tuple[float, ...]] | None = None,
    ) -> Question:
        """Return the problem with the numbers of a seed, and measured values in place of some.

        `accepted` holds the values that count for some constants; what it leaves out is taken as
        the problem says, or else may be any of those in use.
        """
        drawn = {key: span.draw(self.id, seed, key) for key, span in self.ranges.items()}
        numbers = drawn | dict(own or {})
        return Question(self, seed, numbers, frozenset(own or {}), self.accepting(accepted))

    def accepting(
        self, constants: Mapping[str, tuple[float, ...]] | None = None
    ) -> Mapping[str, tuple[float, ...]]:
        """Return the values that count for each constant, where some are set for the occasion."""
        if not (constants or self.constants_set):
            return ACCEPTED
        return {**ACCEPTED, **self.constants_set, **(constants or {})}

    @property
    def called(self) -> str:
        """Return what the problem is called in a fault: its file, or its id where it has none."""
        return self.id if self.path is None else self.path.name

    @property
    def postures(self) -> tuple[Posture, ...]:
        """Return every posture of the working, in the order in which they are worked."""
        return tuple(stage.posture for stage in self.stages) or (self.posture,)

    @property
    def names_length(self) -> bool:
        """Return whether its lengths are multiples of one that is only named."""
        return any(posture.names_length for posture in self.postures)

    @cached_property
    def share_off(self) -> float:
        """Return by what share a right value may be off."""
        return float(self.tolerance)

    @cached_property
    def distances(self) -> tuple[Distance, ...]:
        """Return every distance of the working, each once."""
        return tuple(dict.fromkeys(one for posture in self.postures for one in posture.distances))

    @cached_property
    def forces(self) -> tuple[Force, ...]:
        """Return every force of the working."""
        return tuple(force for posture in self.postures for force in posture.forces)

    @cached_property
    def converted(self) -> Mapping[str, str]:
        """Return the unit of the given of each line that only converts it, by the key of the line.

        Weighing a mass is more than that. A force in newtons goes in as it is; so does a distance
        in metres, which has no line of its own.
        """
        lengths = {d.symbol: d.given.unit for d in self.distances if d.is_measured}
        forces = {
            force.symbol: force.magnitude.unit
            for force in self.forces
            if force.magnitude is not None
            and not (force.share or force.source or force.before or force.magnitude.is_mass)
        }
        return {**lengths, **forces}

    def force(self, symbol: str) -> Force:
        """Return the first force of the working with this symbol."""
        return next(force for force in self.forces if force.symbol == symbol)

    def at(self, stage: Stage) -> Problem:
        """Return the problem as one of its postures is looked at."""
        return replace(
            self, posture=stage.posture, segment=stage.segment, axis=stage.axis,
            reaction=stage.reaction, shown=stage.shown,
        )  # fmt: skip

    @property
    def table_rows(self) -> tuple[str, ...]:
        """Return the rows of the table of segments that a student may look in, none without one.

        Beside the segments in use, those are the ones that share a word with them.
        """
        if self.table is None:
            return ()
        used = set(self.from_table).union(*(self.table.beside(n) for n in self.from_table))
        rows = [
            f"{name}: {float(row.mass):g} of the body's mass, centre of mass at "
            f"{float(row.centre):g} from {row.length}"
            for name, row in self.table.segments.items()
            if name in used
        ]
        return (f"Table of segments ({self.table.name}): {'; '.join(rows)}.",)

    @property
    def asks(self) -> str:
        """Return in a word or two what is to be found: one of `listing.ASKED`."""
        return asked_of(self.posture, self.joint)

    @cached_property
    def lever_class(self) -> int | None:
        """Return the class of lever of the posture, 1 to 3, None where it asks for none."""
        from leverstep.statics.lever import lever_class

        return lever_class(self.posture, self.middle)

    @property
    def middle(self) -> dict[str, float]:
        """Return a value in the middle of the range of each given, in its own unit."""
        angle = self.posture.sought_angle
        return middles(self.ranges, () if angle is None else (angle.key,))

    @cached_property
    def givens(self) -> tuple[Given, ...]:
        """Return the givens, each once."""
        found = (given for posture in self.postures for given in posture.givens())
        return tuple(dict.fromkeys(found))

    @cached_property
    def constants(self) -> tuple[str, ...]:
        """Return the names of the conventions that the units of the givens bring in."""
        from leverstep.statics.convert import constants_used

        used = constants_used({given.unit for given in self.givens} | self.posture.units_asked)
        return tuple(name for name in CONVENTIONS if name in used)

    @property
    def units(self) -> str:
        """Return one of `listing.UNITS`, by the givens: mixed where not all fit one."""
        signs = {given.unit for given in self.givens} & TABLE.keys()
        systems = {TABLE[sign].system for sign in signs} - {""}
        for system in ("SI", "US customary"):
            if systems <= {system}:
                return system
        return "mixed units"


ACCEPTED: Mapping[str, tuple[float, ...]] = {n: c.values for n, c in CONVENTIONS.items()}
"""The values that count for each constant, unless a drill says otherwise."""


@dataclass(frozen=True, eq=False)
class Question:
    """A problem with numbers: what one student works on. `exact` holds each given as written.

    `own` are the keys of those that the student measured, `accepted` the values that count for each
    constant, the first of them printed. A question is equal only to itself.
    """

    problem: Problem
    seed: str
    exact: Mapping[str, Fraction]
    own: frozenset[str] = frozenset()
    accepted: Mapping[str, tuple[float, ...]] = field(default_factory=lambda: ACCEPTED)
    angle_guessed: float | None = None

    def with_given(self, key: str, value: Fraction) -> Question:
        """Return the same question with another value for one given, to see what follows."""
        return replace(self, exact={**self.exact, key: value})

    def lot(self, *words: str) -> float:
        """Return a number above 0 and up to 1 that means nothing, and follows from the numbers.

        It is the same for the same words on every machine.
        """
        text = "\x1f".join([self.problem.id, self.seed, *words])
        digest = hashlib.sha256(text.encode(errors="backslashreplace")).digest()
        return (int.from_bytes(digest[:6]) + 1) / 2**48

    def key(self, kind: Kind) -> str:
        """Return the key of the one line of a kind: `M_sum`."""
        return self.problem.posture.key(kind)

    @cached_property
    def numbers(self) -> dict[str, float]:
        """Return the value of each given, in its own unit, and an angle that is to be found."""
        numbers = {key: float(value) for key, value in self.exact.items()}
        angle = self.problem.posture.sought_angle
        if angle is not None:
            guess = self.angle_guessed
            numbers[angle.key] = self._angle_found(angle, numbers) if guess is None else guess
        return numbers

    def _angle_found(self, angle: Given, numbers: Mapping[str, float]) -> float:
        """Return an angle that is to be found; `ANGLE_GUESSED` where there is none such."""
        from leverstep.statics.derivation import derive
        from leverstep.statics.graph import graph

        # No step before the angle rests on it, so any that stands in leads to the right one.
        stand_in = {**numbers, angle.key: ANGLE_GUESSED}
        constants = {name: values[0] for name, values in self.accepted.items()}
        try:
            derivation = derive(self.problem.posture, stand_in)
            return graph(derivation).taking(constants).on_demand(numbers, {})[angle.key]
        except (ValueError, ArithmeticError):
            return ANGLE_GUESSED

    def with_angle_hidden(self) -> Question:
        """Return the question with a guess for an angle that is to be found, for its picture."""
        return replace(self, angle_guessed=ANGLE_GUESSED)

    @cached_property
    def derivation(self) -> Derivation:
        """Return the steps of this question."""
        from leverstep.statics.derivation import derive

        with failing_as_fault(self.problem.called, ValueError):
            first, *later = self.problem.postures
            return derive(first, self.numbers, tuple(later))

    @property
    def introduced(self) -> str:
        """Return which of several postures is looked at: `First the foot`; "" for the only one."""
        if not self.problem.stages:
            return ""
        is_first = self.problem.posture is self.problem.stages[0].posture
        return f"{'First' if is_first else 'Then'} the {self.problem.segment}"

    @property
    def views(self) -> tuple[Question, ...]:
        """Return the question as each of its postures is looked at."""
        return tuple(self._other_views.get(posture.mark, self) for posture in self.problem.postures)

    @cached_property
    def _other_views(self) -> dict[str, Question]:
        """Return the question as each posture but its own is looked at, by the posture's mark.

        It is not in there itself, so that it goes as soon as nobody has it any more.
        """
        looked_at = self.problem.posture
        return {
            one.posture.mark: replace(self, problem=self.problem.at(one))
            for one in self.problem.stages
            if one.posture is not looked_at
        }

    def at(self, step: Step) -> Question:
        """Return the question as the posture of a step is looked at."""
        return self.view(step.mark)

    def view(self, mark: str) -> Question:
        """Return the question as the posture with a mark is looked at."""
        if mark == self.problem.posture.mark:
            return self
        return self._other_views[mark]

    @cached_property
    def graph(self) -> Graph:
        """Return the steps as one function."""
        from leverstep.statics.graph import graph

        whole = graph(self.derivation)
        if self.accepted is ACCEPTED:
            return whole
        return whole.taking({name: values[0] for name, values in self.accepted.items()})

    @cached_property
    def right(self) -> Values:
        """Return the right value of every step, with the constants that are printed.

        Raises:
            ValueError, ArithmeticError: where these numbers have no working.
            FileError: where the program fails over the posture.
        """
        with failing_as_fault(self.problem.called, ValueError, ArithmeticError):
            return self.graph.values(self.numbers, {})

    @cached_property
    def trouble(self) -> str:
        """Return why these numbers have no working, "" where all is well."""
        from leverstep.statics.centre_of_mass import edges

        try:
            values = self.right
        except (ValueError, ArithmeticError) as error:
            angle = self.problem.posture.sought_angle
            if angle is not None:
                return f"no angle {angle.sign} between 0 and 90 degrees keeps it still"
            lines = (along_one_line(view.problem.posture, view.numbers) for view in self.views)
            return next(filter(None, lines), "") or str(error) or "a step has no finite value"
        posture, support = self.problem.posture, self.problem.posture.support
        if support is not None:
            left, right = edges(support, posture, self.numbers)
            if left >= right:
                return "the base of support has no width"
        views = ((one.problem.posture, one.problem.axis, one.numbers) for one in self.views)
        return next(filter(None, (out_of_balance(*one, values) for one in views)), "")

    @property
    def constants(self) -> tuple[str, ...]:
        """Return the names of the conventions that this question's units bring in."""
        return self.problem.constants

    @property
    def givens(self) -> tuple[Given, ...]:
        """Return the givens, each once."""
        return self.problem.givens

    @cached_property
    def factors(self) -> tuple[TakenFactor, ...]:
        """Return what is to be taken for g and for the units given, as far as it is used."""
        return factors_of(self.problem.postures, self.accepted)

    @property
    def factors_line(self) -> str:
        """Return what is to be taken in one short line: `g = 9.81 m/s² · 1 kg = 2.205 lb`."""
        return " · ".join(one.text for one in self.factors)

    def in_si(self, given: Given) -> float:
        """Return the number of a given in kg, m, s and degrees."""
        size = known_unit(given.unit).size if given.unit else 1
        return self.numbers[given.key] * float(size)

    def written(self, given: Given) -> str:
        """Return a given as a student reads it, as finely as it is known: `12.5 lb`, `35°`."""
        number = self.number_written(given)
        if given.unit == "deg":
            return f"{number}°"
        return f"{number} {given.unit}".strip()

    def number_written(self, given: Given) -> str:
        """Return the number of a given as it is written, without its unit: `12.5`.

        That is `?` for an angle that is to be found.
        """
        if given.key not in self.exact:
            return "?"
        return self.problem.ranges[given.key].stated(self.exact[given.key])

    @property
    def givens_written(self) -> dict[str, str]:
        """Return each given as a student reads it, by key."""
        return {given.key: self.written(given) for given in self.givens}

    @cached_property
    def statement(self) -> str:
        """Return the statement with this question's numbers, what is to be taken for g and for
        units, how few figures are enough, its own caution, and its table.
        """
        givens = self.problem.placeholders
        text = PLACEHOLDER.sub(
            lambda match: self.written(givens[match.group(1)]), self.problem.statement
        )
        taken = ", ".join(one.text for one in self.factors)
        take = f"Take {taken}." if taken else ""
        enough = TWO_ARE_ENOUGH if self.problem.figures < FIGURES else ""
        parts = (text, take, enough, self.problem.caution, *self.problem.table_rows)
        return " ".join(filter(None, parts))
