"""A wrong line with all that may explain it, as the working hands it on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from leverstep.comparing.equation import TermFindings
from leverstep.comparing.structure import Structure
from leverstep.course.problem import Question
from leverstep.entry.reading import Reading
from leverstep.statics.step import Step


@dataclass(frozen=True, eq=False)
class Attempt:
    """A wrong entry, with all that may explain it; each is one of its own, whatever it says.

    `own` holds the values that the student wrote on earlier lines, `wrong` those of them that are
    not right, `written` the values on all other lines. `terms` is what was found in an equation,
    `structure` what arithmetic shows of itself, `taken` the constants known to stand in it. Where
    `only_structure` is set that says all there is: no slip is behind the value. One that is
    `claimed` was understood from its page, where arithmetic is often that of no line.

    `found_by` keeps what was found behind it, by what it was looked for with.
    """

    question: Question
    step: Step
    reading: Reading
    own: Mapping[str, float]
    wrong: Mapping[str, float]
    terms: TermFindings | None = None
    structure: Structure | None = None
    written: Mapping[str, float] = field(default_factory=dict)
    taken: Mapping[str, float] = field(default_factory=dict)
    only_structure: bool = False
    claimed: bool = False
    found_by: dict[object, object] = field(default_factory=dict, init=False, repr=False)

    @cached_property
    def values(self) -> Mapping[str, float]:
        """Return the value of every step with the own values, none where one has no end."""
        try:
            return self.question.graph.values(self.question.numbers, {}, own=self.own)
        except ArithmeticError:
            return {}
