"""The table of kinds: a row for each kind of line, with all that any room asks of it.

A line knows its row (`Step.kind`). Rooms ask the row, never the spelling of a key. What a kind is
called and asked for in words stands in `working/wording.py`, its hints in `hints/steps.toml`.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, StrEnum, auto
from functools import partial
from typing import Literal


class AnswerForm(Enum):
    """What a line is answered with."""

    SIZE = auto()
    """A number that has no sign."""

    SIGNED = auto()
    """A number whose sign matters."""

    WORD = auto()
    """A choice of words."""

    EQUATION = auto()
    """An equation in symbols."""


class WordChoice(StrEnum):
    """What a choice of words is about."""

    CLASS = auto()
    """The class of lever."""

    DIRECTION = auto()
    """The way that a force points."""

    EFFECT = auto()
    """Compression or tension."""

    SUPPORT = auto()
    """Inside or outside the base of support."""

    HOLD = auto()
    """Whether a support holds or slips."""


class Part(Enum):
    """The parts of a working, in their order."""

    HANDED_ON = auto()
    FORCES = auto()
    DISTANCES = auto()
    ANGLES = auto()
    MOMENTS = auto()
    BALANCE = auto()
    UNKNOWN = auto()
    RATIOS = auto()
    COMPONENTS = auto()
    REACTION = auto()
    RESULTANT = auto()
    CENTRE = auto()
    SUPPORT = auto()
    FURTHER = auto()


@dataclass(frozen=True, slots=True, eq=False)
class Kind:
    """One row: what lines of a kind have in common; each is equal only to itself.

    `name` is what files call it; `unit` is the sign of the unit of its values ("" for a bare
    number). `key` is that of its one line, "" where there may be several. `begins_with` is what it
    is worked out from: the given of a force, of a distance, the body's mass, what is given to work
    out something further, or what the size of a force comes from.

    `found` marks what a student looks for, and a blank sheet asks for; `from_moments` what the
    moment equation gives; `in_moments` what may stand in that equation. `over_forces` marks a line
    in which several forces stand, so that a slip there is told with the force it is about. `words`
    is what a choice of words is about, None for all that is answered otherwise. `weighed` marks one
    in which masses may stand for weights, or weights for masses, since g falls out of what they
    lead to.
    """

    name: str
    part: Part
    unit: str
    answer: AnswerForm = AnswerForm.SIZE
    key: str = ""
    begins_with: Literal["force", "distance", "body", "further", "source"] = "force"
    found: bool = False
    from_moments: bool = False
    in_moments: bool = True
    over_forces: bool = False
    words: WordChoice | None = None
    weighed: bool = False

    @property
    def is_size(self) -> bool:
        """Return whether its value is a size, and so has no sign."""
        return self.answer is AnswerForm.SIZE

    @property
    def is_equation(self) -> bool:
        """Return whether it is an equation in symbols, which has no value."""
        return self.answer is AnswerForm.EQUATION

    @property
    def of_body(self) -> bool:
        """Return whether only a working of a centre of mass has such lines."""
        return self.part in (Part.CENTRE, Part.SUPPORT)

    @property
    def is_result(self) -> bool:
        """Return whether it is what a problem is about, not a ratio or reaction beside it."""
        return self.part is Part.UNKNOWN or (self.of_body and self.found)

    @property
    def is_number(self) -> bool:
        """Return whether it is answered with a number, not with words or an equation."""
        return self.answer in (AnswerForm.SIZE, AnswerForm.SIGNED)


SEGMENT_MASS = Kind("segment_mass", Part.FORCES, "kg", begins_with="body")
BODY_WEIGHT = Kind("body_weight", Part.FORCES, "N", begins_with="body")
SHARE = Kind("share", Part.FORCES, "N")
FORCE = Kind("force", Part.FORCES, "N")
HANDED_FORCE = Kind("handed_force", Part.HANDED_ON, "N", AnswerForm.SIGNED)
HANDED_MOMENT = Kind("handed_moment", Part.HANDED_ON, "N·m", AnswerForm.SIGNED)
MUSCLE_FORCE = Kind("muscle_force", Part.FORCES, "N", begins_with="source")
STRETCH = Kind("stretch", Part.FORCES, "m", begins_with="source", in_moments=False)
BAND_FORCE = Kind("band_force", Part.FORCES, "N", begins_with="source")
INERTIA = Kind("inertia", Part.FORCES, "N", begins_with="source")

SHARE_RULE = Kind("share_rule", Part.FORCES, "", begins_with="source", in_moments=False)

DISTANCE = Kind("distance", Part.DISTANCES, "m", begins_with="distance")
FRACTION = Kind("fraction", Part.DISTANCES, "m", begins_with="distance")
DISTANCE_SUM = Kind("distance_sum", Part.DISTANCES, "m", begins_with="distance")
DISTANCE_BY_ANGLE = Kind("distance_by_angle", Part.DISTANCES, "m", begins_with="distance")

ATTACHMENT_ANGLE = Kind("attachment_angle", Part.ANGLES, "deg")
ANGLE = Kind("angle", Part.ANGLES, "deg")
ARM = Kind("arm", Part.ANGLES, "m")
COMPONENT = Kind("component", Part.ANGLES, "N")

EQUATION = Kind("equation", Part.MOMENTS, "", AnswerForm.EQUATION, "equation", over_forces=True)
MOMENT = Kind("moment", Part.MOMENTS, "N·m", AnswerForm.SIGNED)
COUPLE_MOMENT = Kind("couple_moment", Part.MOMENTS, "N·m", AnswerForm.SIGNED)
SUM = Kind("sum", Part.MOMENTS, "N·m", AnswerForm.SIGNED, "M_sum", over_forces=True)

EQUATION_X = Kind("equation_x", Part.BALANCE, "", AnswerForm.EQUATION, "sum_x", over_forces=True)
EQUATION_Y = Kind("equation_y", Part.BALANCE, "", AnswerForm.EQUATION, "sum_y", over_forces=True)
PAIR_FORCE = Kind("pair_force", Part.UNKNOWN, "N", found=True, over_forces=True)

EFFORT_COMPONENT = Kind(
    "effort_component", Part.UNKNOWN, "N", from_moments=True, over_forces=True
)  # fmt: skip
EFFORT = Kind("effort", Part.UNKNOWN, "N", found=True, from_moments=True, over_forces=True)
SHARED_FORCE = Kind("shared_force", Part.UNKNOWN, "N", found=True, begins_with="source")
MASS = Kind("mass", Part.UNKNOWN, "kg", found=True)
ARM_FOUND = Kind("arm_found", Part.UNKNOWN, "m", from_moments=True)
DISTANCE_FOUND = Kind("distance_found", Part.UNKNOWN, "m", found=True, from_moments=True)
ANGLE_FOUND = Kind("angle_found", Part.UNKNOWN, "deg", found=True, from_moments=True)
NET_MOMENT = Kind("net_moment", Part.UNKNOWN, "N·m", AnswerForm.SIGNED, "M_net", found=True)

ADVANTAGE = Kind(
    "advantage", Part.RATIOS, "", key="MA", found=True, in_moments=False, over_forces=True
)  # fmt: skip
ARM_ADVANTAGE = Kind(
    "arm_advantage", Part.RATIOS, "", key=ADVANTAGE.key, found=True, in_moments=False
)  # fmt: skip
ARM_RATIO = Kind("arm_ratio", Part.RATIOS, "", key="AR", found=True, in_moments=False)
LEVER_CLASS = Kind(
    "class", Part.RATIOS, "", AnswerForm.WORD, "class", found=True, in_moments=False,
    words=WordChoice.CLASS,
)  # fmt: skip

COMPONENT_X = Kind("component_x", Part.COMPONENTS, "N", AnswerForm.SIGNED)
COMPONENT_Y = Kind("component_y", Part.COMPONENTS, "N", AnswerForm.SIGNED)
COMPONENT_AXIAL = Kind("component_axial", Part.COMPONENTS, "N", AnswerForm.SIGNED)
COMPONENT_TRANSVERSE = Kind("component_transverse", Part.COMPONENTS, "N", AnswerForm.SIGNED)


def _at_axis(
    name: str,
    key: str,
    unit: str = "N",
    answer: AnswerForm = AnswerForm.SIZE,
    found: bool = False,
    words: WordChoice | None = None,
    part: Part = Part.REACTION,
) -> Kind:
    """Return a row of the reaction or the resultant, which acts at the axis and has no moment."""
    return Kind(
        name, part, unit, answer, key,
        found=found, in_moments=False, over_forces=True, words=words,
    )  # fmt: skip


REACTION_X = _at_axis("reaction_x", "R_x", answer=AnswerForm.SIGNED)
REACTION_Y = _at_axis("reaction_y", "R_y", answer=AnswerForm.SIGNED)
REACTION_AXIAL = _at_axis("reaction_axial", "R_a", answer=AnswerForm.SIGNED, found=True)
REACTION_TRANSVERSE = _at_axis("reaction_transverse", "R_t", answer=AnswerForm.SIGNED, found=True)
REACTION_SIZE = _at_axis("reaction_size", "R", found=True)
REACTION_ANGLE = _at_axis("reaction_angle", "phi_R", "deg")
REACTION_DIRECTION = _at_axis(
    "reaction_direction", "R_dir", "", AnswerForm.WORD, found=True, words=WordChoice.DIRECTION
)
AXIAL_EFFECT = _at_axis(
    "axial_effect", "R_effect", "", AnswerForm.WORD, found=True, words=WordChoice.EFFECT
)

# A problem has a reaction or a resultant; both are called R.
_resultant = partial(_at_axis, part=Part.RESULTANT)

RESULTANT_X = _resultant("resultant_x", "R_x", answer=AnswerForm.SIGNED)
RESULTANT_Y = _resultant("resultant_y", "R_y", answer=AnswerForm.SIGNED)
RESULTANT_SIZE = _resultant("resultant_size", "R", found=True)
RESULTANT_ANGLE = _resultant("resultant_angle", "phi_R", "deg")
RESULTANT_DIRECTION = _resultant(
    "resultant_direction", "R_dir", "", AnswerForm.WORD, found=True, words=WordChoice.DIRECTION
)

POINT_X = Kind("point_x", Part.DISTANCES, "m", AnswerForm.SIGNED)
POINT_Y = Kind("point_y", Part.DISTANCES, "m", AnswerForm.SIGNED)
PART_X = Kind("part_x", Part.DISTANCES, "m", AnswerForm.SIGNED)
PART_Y = Kind("part_y", Part.DISTANCES, "m", AnswerForm.SIGNED)


def _of_parts(
    name: str, unit: str, answer: AnswerForm = AnswerForm.SIGNED, key: str = "", of_all: bool = True
) -> Kind:
    """Return a row of the weights of parts, or of their masses; `of_all` parts, or of one."""
    return Kind(
        name, Part.CENTRE, unit, answer, key, in_moments=False, over_forces=of_all, weighed=True
    )


WEIGHT_MOMENT = _of_parts("weight_moment", "N·m", of_all=False)
MASS_MOMENT = _of_parts("mass_moment", "kg·m", of_all=False)
WEIGHT_MOMENT_SUM = _of_parts("weight_moment_sum", "N·m")
MASS_MOMENT_SUM = _of_parts("mass_moment_sum", "kg·m")
TOTAL_WEIGHT = _of_parts("total_weight", "N", AnswerForm.SIZE, "W_sum")
TOTAL_MASS = _of_parts("total_mass", "kg", AnswerForm.SIZE, "m_sum")
CENTRE_X = Kind(
    "centre_x", Part.CENTRE, "m", AnswerForm.SIGNED, "x_c", found=True, in_moments=False
)
CENTRE_Y = Kind(
    "centre_y", Part.CENTRE, "m", AnswerForm.SIGNED, "y_c", found=True, in_moments=False
)
EDGE = Kind("edge", Part.SUPPORT, "m", key="b_edge", found=True, in_moments=False)
SUPPORTED = Kind(
    "supported",
    Part.SUPPORT,
    "",
    AnswerForm.WORD,
    "base",
    found=True,
    in_moments=False,
    words=WordChoice.SUPPORT,
)


def _further(
    name: str,
    unit: str,
    answer: AnswerForm = AnswerForm.SIZE,
    words: WordChoice | None = None,
) -> Kind:
    """Return a row of what is worked out from what was found, for which there are no moments."""
    return Kind(
        name, Part.FURTHER, unit, answer, begins_with="further", found=True, in_moments=False,
        words=words,
    )  # fmt: skip


STRESS = _further("stress", "MPa")
BODY_WEIGHTS = _further("body_weights", "")
OTHER_UNIT = _further("other_unit", "N")
FRICTION_NEEDED = _further("friction_needed", "")
FRICTION_ENOUGH = _further("friction_enough", "", AnswerForm.WORD, WordChoice.HOLD)
PART_SHARED = _further("part_shared", "N")
MOMENT_SPED_UP = _further("moment_sped_up", "N·m", AnswerForm.SIGNED)
FORCE_AT_ARM = _further("force_at_arm", "N")
POWER = _further("power", "W")
DISTANCE_MOVED = _further("distance_moved", "m")
SPEED = _further("speed", "m/s")
RATIO = _further("ratio", "")

KINDS: dict[str, Kind] = {
    kind.name: kind
    for kind in (
        HANDED_FORCE, HANDED_MOMENT,
        SEGMENT_MASS, BODY_WEIGHT, SHARE, FORCE, MUSCLE_FORCE, STRETCH, BAND_FORCE, INERTIA,
        SHARE_RULE,
        DISTANCE, FRACTION, DISTANCE_SUM, DISTANCE_BY_ANGLE,
        ATTACHMENT_ANGLE, ANGLE, ARM, COMPONENT,
        EQUATION, MOMENT, COUPLE_MOMENT, SUM,
        EQUATION_X, EQUATION_Y, PAIR_FORCE,
        EFFORT_COMPONENT, EFFORT, SHARED_FORCE, MASS, ARM_FOUND, DISTANCE_FOUND, ANGLE_FOUND,
        NET_MOMENT,
        ADVANTAGE, ARM_ADVANTAGE, ARM_RATIO, LEVER_CLASS,
        COMPONENT_X, COMPONENT_Y, COMPONENT_AXIAL, COMPONENT_TRANSVERSE,
        REACTION_X, REACTION_Y, REACTION_SIZE, REACTION_ANGLE, REACTION_DIRECTION,
        REACTION_AXIAL, REACTION_TRANSVERSE, AXIAL_EFFECT,
        RESULTANT_X, RESULTANT_Y, RESULTANT_SIZE, RESULTANT_ANGLE, RESULTANT_DIRECTION,
        POINT_X, POINT_Y, PART_X, PART_Y,
        WEIGHT_MOMENT, MASS_MOMENT, WEIGHT_MOMENT_SUM, MASS_MOMENT_SUM, TOTAL_WEIGHT, TOTAL_MASS,
        CENTRE_X, CENTRE_Y, EDGE, SUPPORTED,
        STRESS, BODY_WEIGHTS, OTHER_UNIT, FRICTION_NEEDED, FRICTION_ENOUGH, PART_SHARED,
        MOMENT_SPED_UP, FORCE_AT_ARM, POWER, DISTANCE_MOVED, SPEED, RATIO,
    )
}  # fmt: skip
"""Every kind by its name, in the order of a working."""
