"""What may be wrong in a student's free-body diagram, with the hints for each slip, as data."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum


class PictureSlip(StrEnum):
    """A slip in a free-body diagram; the value is its id in tables."""

    OTHER_END = "force-at-the-other-end"
    OTHER_BODY = "weight-of-another-body"
    REVERSED = "force-on-another-body"
    NO_FORCE = "no-force-at-all"
    TWICE = "force-drawn-twice"
    POINT = "force-at-a-wrong-point"
    NOT_DOWN = "weight-not-straight-down"
    TURNED_ROUND = "arrow-turned-round"
    OTHER_LINE = "angle-from-another-line"
    NO_ANGLE = "angle-left-out"
    WAY = "arrow-in-a-wrong-direction"
    NOT_UNKNOWN = "direction-left-open"
    AXIS = "axis-at-a-wrong-point"
    DISTANCE = "distance-not-from-the-axis"
    FORCE_MISSING = "force-missing"
    WEIGHT_MISSING = "weight-missing"
    REACTION_MISSING = "reaction-forgotten"
    MOMENT_MISSING = "moment-missing"
    AXIS_MISSING = "axis-not-marked"
    DISTANCE_MISSING = "distance-missing"


@dataclass(frozen=True, slots=True)
class SlipWords:
    """What is said of a slip: its name, where to look, what seems to have happened, and the rule.

    `{name}` is what it is about, `{segment}` and `{axis}` those of the posture.
    """

    name: str
    look: str
    happened: str
    rule: str

    @property
    def rule_anywhere(self) -> str:
        """Return the rule as it is told of any segment."""
        return self.rule.format(name="force", segment="segment", axis="axis")


SLIP_WORDS: Mapping[PictureSlip, SlipWords] = {
    PictureSlip.OTHER_END: SlipWords(
        "the pull at the other end of the muscle",
        "The {name}: which bone does this end of the muscle pull at?",
        "You seem to have taken the pull at the other end: it acts on the other bone.",
        "A muscle pulls at both its ends; only the end on the {segment} pulls at the {segment}.",
    ),
    PictureSlip.OTHER_BODY: SlipWords(
        "the weight of another body part",
        "The {name}: is that part in what you have cut free, the {segment}?",
        "You seem to have drawn a weight that belongs to what lies beyond the {axis}.",
        "The weight of a part acts on that part; what it does to the {segment} comes through the "
        "{axis}.",
    ),
    PictureSlip.REVERSED: SlipWords(
        "a force that the segment exerts",
        "The {name}: who exerts it, and on what does it act?",
        "You seem to have drawn a force that the {segment} exerts on something else.",
        "A free-body diagram shows what acts on the {segment}, never what it does to others.",
    ),
    PictureSlip.NO_FORCE: SlipWords(
        "a force that nothing exerts",
        "The {name}: what would exert it on the {segment}?",
        "You seem to have drawn a force that nothing exerts.",
        "Each force has something that exerts it: what touches the {segment}, or the earth.",
    ),
    PictureSlip.TWICE: SlipWords(
        "a force drawn twice",
        "Is the {name}, or a part of it, there already?",
        "You seem to have drawn one force twice, whole or in part.",
        "Each force is drawn once; its components stand for it, not beside it.",
    ),
    PictureSlip.POINT: SlipWords(
        "a force at a wrong point",
        "Look at the statement again: where does it say that the {name} acts?",
        "The {name} seems to be at the point of something else.",
        "A weight acts at the centre of mass, a muscle where it is attached, a contact where it "
        "touches, a joint reaction at the joint.",
    ),
    PictureSlip.NOT_DOWN: SlipWords(
        "a weight that does not point straight down",
        "The {name}: where does the earth pull?",
        "You seem to have turned a weight with the {segment}, or upwards.",
        "A weight points straight down, however the {segment} lies.",
    ),
    PictureSlip.TURNED_ROUND: SlipWords(
        "an arrow turned round",
        "The {name}: does it push or pull, and towards where?",
        "The arrow of the {name} seems to point the opposite way.",
        "A muscle or a cord pulls away from the {segment}, along itself; a support pushes it.",
    ),
    PictureSlip.OTHER_LINE: SlipWords(
        "an angle measured from another line",
        "The {name}: from which line does the statement count its angle, and to which side?",
        "The angle seems to be measured from another line, or to another side.",
        "An angle says a direction only with the line that it is measured from.",
    ),
    PictureSlip.NO_ANGLE: SlipWords(
        "an angle left out",
        "The {name}: how far does it slant, and from which line?",
        "The side is right, but the angle and its line are left out.",
        "A slanting force needs its angle, and the line that this is measured from.",
    ),
    PictureSlip.WAY: SlipWords(
        "an arrow in a wrong direction",
        "Look at the statement again: which way does it say that the {name} acts?",
        "The {name} seems to point another way than the statement says.",
        "Turn the arrow along the line and to the side that the statement names.",
    ),
    PictureSlip.NOT_UNKNOWN: SlipWords(
        "a direction left open that is known",
        "Does the statement not say which way the {name} acts?",
        "You seem to have left a direction open that can be told now.",
        "Only what is found later may stay open: a reaction, and what follows from it.",
    ),
    PictureSlip.AXIS: SlipWords(
        "an axis at a wrong point",
        "About which point can the {segment} turn?",
        "You seem to have marked a point where a force acts, not the one that the {segment} turns "
        "about.",
        "The axis is the joint or the support that the statement counts distances from.",
    ),
    PictureSlip.DISTANCE: SlipWords(
        "a distance that leads to no force",
        "From where to where does {name} lead?",
        "You seem to have taken a distance that does not lead from the {axis} to where a force "
        "acts.",
        "What counts is how far from the axis a force acts; a force through the axis needs none.",
    ),
    PictureSlip.FORCE_MISSING: SlipWords(
        "a force left out",
        "Go round the {segment}: what touches it, and what pulls at it?",
        "Something that touches the {segment} is not drawn yet.",
        "Draw a force for each thing that touches the {segment}.",
    ),
    PictureSlip.WEIGHT_MISSING: SlipWords(
        "a weight left out",
        "Which of the things that the {segment} consists of, or bears, have mass?",
        "A weight is not drawn yet.",
        "All that has mass has a weight, unless the statement says that it is ignored.",
    ),
    PictureSlip.REACTION_MISSING: SlipWords(
        "the reaction forgotten",
        "Where did you cut the {segment} free from its neighbour?",
        "What acts at the {axis} is not drawn yet.",
        "Where a segment is cut free at a joint or a support, that acts on it too, even where its "
        "moment about the axis is none.",
    ),
    PictureSlip.MOMENT_MISSING: SlipWords(
        "a moment left out",
        "Does anything turn the {segment} without pushing it?",
        "A moment is not drawn yet.",
        "A couple turns the {segment} without a force: it belongs in the diagram too.",
    ),
    PictureSlip.AXIS_MISSING: SlipWords(
        "the axis not marked",
        "About which point do the moments count?",
        "The axis is not marked yet.",
        "Every moment is about an axis: mark the one that the statement names.",
    ),
    PictureSlip.DISTANCE_MISSING: SlipWords(
        "a distance left out",
        "Has each force that does not pass through the axis its distance?",
        "A distance from the axis to a force is not chosen yet.",
        "Each force beside the axis needs how far from the axis it acts.",
    ),
}
"""The words of each slip."""
