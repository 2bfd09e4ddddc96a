"""The table of kinds: a row for each kind of line, with all that any room asks of it.

A line knows its row (`Step.kind`). Rooms ask the row, never the spelling of a key. What a kind is
called and asked for in words stands in `working/wording.py`, its hints in `hints/steps.toml`.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
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


class Part(Enum):
    """The parts of a working, in their order."""

    FORCES = auto()
    DISTANCES = auto()
    ANGLES = auto()
    MOMENTS = auto()
    UNKNOWN = auto()
    RATIOS = auto()
    COMPONENTS = auto()
    REACTION = auto()


@dataclass(frozen=True, slots=True)
class Kind:
    """One row: what lines of a kind have in common.

    `name` is what files call it; `unit` is the sign of the unit of its values ("" for a bare
    number). `key` is that of its one line, "" where there may be several. `begins_with` is what it
    is worked out from: the given of a force, of a distance, or the body's mass.

    `found` marks what a student looks for, and a blank sheet asks for; `from_moments` what the
    moment equation gives; `in_moments` what may stand in that equation. `over_forces` marks a line
    in which several forces stand, so that a slip there is told with the force it is about.
    """

    name: str
    part: Part
    unit: str
    answer: AnswerForm = AnswerForm.SIZE
    key: str = ""
    begins_with: Literal["force", "distance", "body"] = "force"
    found: bool = False
    from_moments: bool = False
    in_moments: bool = True
    over_forces: bool = False

    @property
    def is_size(self) -> bool:
        """Return whether its value is a size, and so has no sign."""
        return self.answer is AnswerForm.SIZE

    @property
    def is_number(self) -> bool:
        """Return whether it is answered with a number, not with words or an equation."""
        return self.answer in (AnswerForm.SIZE, AnswerForm.SIGNED)


SEGMENT_MASS = Kind("segment_mass", Part.FORCES, "kg", begins_with="body")
BODY_WEIGHT = Kind("body_weight", Part.FORCES, "N", begins_with="body")
SHARE = Kind("share", Part.FORCES, "N")
FORCE = Kind("force", Part.FORCES, "N")

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

EFFORT_COMPONENT = Kind(
    "effort_component", Part.UNKNOWN, "N", from_moments=True, over_forces=True
)  # fmt: skip
EFFORT = Kind("effort", Part.UNKNOWN, "N", found=True, from_moments=True, over_forces=True)
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
LEVER_CLASS = Kind("class", Part.RATIOS, "", AnswerForm.WORD, "class", found=True, in_moments=False)

COMPONENT_X = Kind("component_x", Part.COMPONENTS, "N", AnswerForm.SIGNED)
COMPONENT_Y = Kind("component_y", Part.COMPONENTS, "N", AnswerForm.SIGNED)
COMPONENT_AXIAL = Kind("component_axial", Part.COMPONENTS, "N", AnswerForm.SIGNED)
COMPONENT_TRANSVERSE = Kind("component_transverse", Part.COMPONENTS, "N", AnswerForm.SIGNED)


def _of_reaction(
    name: str, key: str, unit: str = "N", answer: AnswerForm = AnswerForm.SIZE, found: bool = False
) -> Kind:
    """Return a row of the reaction, which acts at the axis and so has no moment."""
    return Kind(
        name, Part.REACTION, unit, answer, key, found=found, in_moments=False, over_forces=True
    )


REACTION_X = _of_reaction("reaction_x", "R_x", answer=AnswerForm.SIGNED)
REACTION_Y = _of_reaction("reaction_y", "R_y", answer=AnswerForm.SIGNED)
REACTION_AXIAL = _of_reaction("reaction_axial", "R_a", answer=AnswerForm.SIGNED, found=True)
REACTION_TRANSVERSE = _of_reaction(
    "reaction_transverse", "R_t", answer=AnswerForm.SIGNED, found=True
)
REACTION_SIZE = _of_reaction("reaction_size", "R", found=True)
REACTION_ANGLE = _of_reaction("reaction_angle", "phi_R", "deg")
REACTION_DIRECTION = _of_reaction("reaction_direction", "R_dir", "", AnswerForm.WORD, found=True)
AXIAL_EFFECT = _of_reaction("axial_effect", "R_effect", "", AnswerForm.WORD, found=True)

KINDS: dict[str, Kind] = {
    kind.name: kind
    for kind in (
        SEGMENT_MASS, BODY_WEIGHT, SHARE, FORCE,
        DISTANCE, FRACTION, DISTANCE_SUM, DISTANCE_BY_ANGLE,
        ATTACHMENT_ANGLE, ANGLE, ARM, COMPONENT,
        EQUATION, MOMENT, COUPLE_MOMENT, SUM,
        EFFORT_COMPONENT, EFFORT, MASS, ARM_FOUND, DISTANCE_FOUND, ANGLE_FOUND, NET_MOMENT,
        ADVANTAGE, ARM_ADVANTAGE, ARM_RATIO, LEVER_CLASS,
        COMPONENT_X, COMPONENT_Y, COMPONENT_AXIAL, COMPONENT_TRANSVERSE,
        REACTION_X, REACTION_Y, REACTION_SIZE, REACTION_ANGLE, REACTION_DIRECTION,
        REACTION_AXIAL, REACTION_TRANSVERSE, AXIAL_EFFECT,
    )
}  # fmt: skip
"""Every kind by its name, in the order of a working."""
