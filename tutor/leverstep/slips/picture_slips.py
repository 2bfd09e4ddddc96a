"""What may be wrong in a student's free-body diagram, and the words for it of a hint file."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from leverstep.course.faults import Reader
from leverstep.slips.hint_texts import check_places, check_short, with_places

LONGEST_LOOK = 240
"""Where to look and what happened are read as they are told, so they are kept this short."""

LONGEST_RULE = 120
"""A rule stands on the line of a summary."""

_ANYWHERE = {"segment": "segment", "axis": "axis"}
"""What stands in a rule that is told of any diagram."""

PLACES_OF_DIAGRAM = ("name", "segment", "axis")
"""The placeholders of each text but the rule, which is about no single thing."""

PLACED = "placed"
"""The placeholder of what stands right where it belongs."""


class PictureSlip(StrEnum):
    """A slip in a free-body diagram; the value is its id in files and tables."""

    OTHER_END = "force-at-the-other-end"
    OTHER_BODY = "weight-of-another-body"
    REVERSED = "force-on-another-body"
    NO_FORCE = "no-force-at-all"
    TWICE = "force-drawn-twice"
    COMPONENT = "component-as-a-force"
    POINT = "force-at-a-wrong-point"
    NOT_DOWN = "weight-not-straight-down"
    TURNED_ROUND = "arrow-turned-round"
    OTHER_LINE = "angle-from-another-line"
    NO_ANGLE = "angle-left-out"
    WAY = "arrow-in-a-wrong-direction"
    REACTION_WAY = "reaction-in-a-wrong-direction"
    NOT_UNKNOWN = "direction-left-open"
    AXIS = "axis-at-a-wrong-point"
    DISTANCE = "distance-not-from-the-axis"
    FORCE_MISSING = "force-missing"
    WEIGHT_MISSING = "weight-missing"
    REACTION_MISSING = "reaction-forgotten"
    MOMENT_MISSING = "moment-missing"
    AXIS_MISSING = "axis-not-marked"
    DISTANCE_MISSING = "distance-missing"

    @property
    def is_superfluous(self) -> bool:
        """Return whether what it is about has no place in the diagram."""
        return self in _SUPERFLUOUS


_SUPERFLUOUS = frozenset(
    (
        PictureSlip.OTHER_END, PictureSlip.OTHER_BODY, PictureSlip.REVERSED, PictureSlip.NO_FORCE,
        PictureSlip.COMPONENT, PictureSlip.DISTANCE,
    )
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class SlipWords:
    """What is said of a slip in a diagram: its name, its hint in three texts, and the rule.

    The hint goes from where to `look`, over what seems to have `happened`, to what is to be done,
    `worked` out; before that comes the rule. `reason` is that rule, which is to be remembered.
    """

    id: PictureSlip
    name: str
    look: str
    happened: str
    worked: str
    reason: str

    @property
    def reason_anywhere(self) -> str:
        """Return the rule as it is told of any segment."""
        return with_places(self.reason, _ANYWHERE.__getitem__)


def read_slip_words(reader: Reader) -> SlipWords | None:
    """Return the words of a table for a slip in diagrams; what is wrong with them is noted.

    None where it is not known which slip they are for.
    """
    faults = len(reader.faults)
    slip = PictureSlip(reader.choice("id", tuple(PictureSlip)))
    if len(reader.faults) > faults:
        return None
    worked = reader.text("worked", None if slip.is_superfluous else f"{{{PLACED}}}.")
    words = SlipWords(
        slip, reader.text("name"), reader.text("look"), reader.text("happened"), worked,
        reader.text("reason"),
    )  # fmt: skip
    for key, text in (("look", words.look), ("happened", words.happened)):
        check_places(reader, key, text, PLACES_OF_DIAGRAM)
        check_short(reader, key, text, LONGEST_LOOK)
    placed = () if slip.is_superfluous else (PLACED,)
    check_places(reader, "worked", worked, (*PLACES_OF_DIAGRAM, *placed))
    check_places(reader, "reason", words.reason, tuple(_ANYWHERE))
    check_short(reader, "reason", words.reason, LONGEST_RULE)
    reader.finish()
    return words
