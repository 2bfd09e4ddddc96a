"""What can be chosen next in a free-body diagram: what, at which point, and which way, in steps."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum, auto

from leverstep.course.phrases import capital
from leverstep.dialogue.picture_dialogue import PictureDialogue
from leverstep.dialogue.replies import Mark
from leverstep.free_body.body_picture import AXIS_ITEM, BodyPicture
from leverstep.free_body.placing import Placing
from leverstep.free_body.pointings import Pointing, ReferenceLine, nearest_way


class ChoiceStep(Enum):
    """What is asked for: what to draw, its point, its direction, and how that slants."""

    ITEM = auto()
    POINT = auto()
    WAY = auto()
    LINE = auto()
    SIDE = auto()


@dataclass(frozen=True, slots=True)
class PictureChoice:
    """One thing to choose: what it is called, how it stands, and its key among its kind."""

    key: str
    label: str
    mark: Mark = Mark.OPEN


_ASKS = {
    ChoiceStep.ITEM: "What acts on the {segment}?",
    ChoiceStep.POINT: "{name}: at which point?",
    ChoiceStep.WAY: "{name}: which way?",
    ChoiceStep.LINE: "{name}: how does it slant?",
    ChoiceStep.SIDE: "{name}: to which side?",
}
_SLANTS = "slanting, or along a line"


@dataclass(frozen=True, slots=True)
class _Slant:
    """What a direction slants from: a line and an angle, and how both are told."""

    line: ReferenceLine
    angle: str
    told: str


class PictureChoices:
    """Leads through the choices of one thing after the other, and says what they come to."""

    def __init__(self, dialogue: PictureDialogue) -> None:
        self.dialogue = dialogue
        self._item = self._point = self._pointing = ""
        self._line: _Slant | None = None
        self._steps: list[ChoiceStep] = [ChoiceStep.ITEM]

    @property
    def picture(self) -> BodyPicture:
        """Return the picture that is made."""
        return self.dialogue.picture

    @property
    def step(self) -> ChoiceStep:
        """Return what is asked for."""
        return self._steps[-1]

    @property
    def item(self) -> str:
        """Return what is being placed, "" while that is asked for."""
        return self._item

    @property
    def asks(self) -> str:
        """Return the question."""
        candidate = self.picture.candidate(self._item)
        name = capital(self._item if candidate is None else candidate.name)
        return _ASKS[self.step].format(segment=self.picture.question.problem.segment, name=name)

    @property
    def choices(self) -> tuple[PictureChoice, ...]:
        """Return what there is to choose from."""
        match self.step:
            case ChoiceStep.ITEM:
                return self._items()
            case ChoiceStep.POINT:
                return tuple(PictureChoice(one.key, one.label) for one in self.picture.places)
            case ChoiceStep.WAY:
                return self._ways()
            case ChoiceStep.LINE:
                return tuple(PictureChoice(one.told, one.told) for one in self._lines)
            case ChoiceStep.SIDE:
                return tuple(PictureChoice(one.key, _side_told(one)) for one in self._sides)

    def _items(self) -> tuple[PictureChoice, ...]:
        picture = self.picture
        found = [PictureChoice(c.item, c.name, self._mark(c.item)) for c in picture.candidates]
        if picture.has_axis:
            found.append(PictureChoice(AXIS_ITEM, AXIS_ITEM, self._mark(AXIS_ITEM)))
        found += [
            PictureChoice(one.item, f"distance {one.label}, counts", self._mark(one.item))
            for one in picture.distances
        ]
        return tuple(found)

    def next_to(self, item: str) -> str:
        """Return what to look at after something was put into the picture.

        It is the next thing of the list that does not stand there, whether it acts or not; the
        thing itself where it is told wrong, or nothing is left.
        """
        if self._mark(item) not in (Mark.RIGHT, Mark.TAKEN):
            return item
        choices = self._items()
        place = [one.key for one in choices].index(item)
        behind = (*choices[place + 1 :], *choices[:place])
        return next((one.key for one in behind if one.mark is Mark.OPEN), item)

    def _mark(self, item: str) -> Mark:
        """Return how something stands in the picture, as far as that is told."""
        placed = self.picture.placed.get(item)
        if placed is None:
            return Mark.OPEN
        if not self.dialogue.tells:
            return Mark.TAKEN
        return Mark.RIGHT if placed.is_right else Mark.WRONG

    @property
    def _fitting(self) -> tuple[Pointing, ...]:
        return tuple(one for one in self.picture.pointings if self.picture.suits(self._item, one))

    def _ways(self) -> tuple[PictureChoice, ...]:
        straight = [one for one in self._fitting if one.is_straight or one.turns]
        found = [PictureChoice(one.key, one.label) for one in straight]
        if self._lines:
            found.append(PictureChoice(_SLANTS, _SLANTS))
        found += [PictureChoice(one.key, one.label) for one in self._fitting if one.is_open]
        return tuple(found)

    @property
    def _slanting(self) -> tuple[Pointing, ...]:
        return tuple(one for one in self._fitting if one.line or one.quarter)

    @property
    def _lines(self) -> tuple[_Slant, ...]:
        """Return what directions slant from, each once."""
        return tuple(dict.fromkeys(map(_slant_of, self._slanting)))

    @property
    def _sides(self) -> tuple[Pointing, ...]:
        return tuple(one for one in self._slanting if _slant_of(one) == self._line)

    def choose(self, key: str) -> Placing | None:
        """Take a choice; return what it puts into the picture, None where more is asked for."""
        step = self._after(key)
        if step is not None:
            self._steps.append(step)
            return None
        placing = Placing(self._item, self._point, self._pointing)
        self.begin()
        return placing

    def _after(self, key: str) -> ChoiceStep | None:
        """Take a choice; return what is asked for then, None where nothing is."""
        turns = self.picture.has_pointing
        match self.step:
            case ChoiceStep.ITEM:
                self._item, only = key, self.picture.only_place
                if self.picture.has_point(key):
                    if only is None:
                        return ChoiceStep.POINT
                    self._point = only.key
                return ChoiceStep.WAY if turns(key) else None
            case ChoiceStep.POINT:
                self._point = key
                return ChoiceStep.WAY if turns(self._item) else None
            case ChoiceStep.WAY if key == _SLANTS:
                return ChoiceStep.LINE
            case ChoiceStep.LINE:
                self._line = next(one for one in self._lines if one.told == key)
                return ChoiceStep.SIDE
        self._pointing = key
        return None

    def nearest(self, at: complex, points: Sequence[complex]) -> str | None:
        """Return the choice that a click on the picture means, None where it means none.

        Args:
            at: where it was, right and up in any unit.
            points: where the points lie that there are to choose from, in their order.
        """
        if self.step is ChoiceStep.POINT:
            places = zip(self.picture.places, points, strict=True)
            return min(places, key=lambda pair: abs(pair[1] - at))[0].key
        keys = [one.key for one in self.picture.places]
        if self._point not in keys or self.step not in (ChoiceStep.WAY, ChoiceStep.SIDE):
            return None
        run = at - points[keys.index(self._point)]
        offered = {one.key for one in self.choices}
        ways = [one for one in self._fitting if one.key in offered and one.bearing is not None]
        return nearest_way(ways, run).key if run and ways else None

    def begin(self) -> None:
        """Ask again what to draw."""
        self._item = self._point = self._pointing = ""
        self._line = None
        self._steps = [ChoiceStep.ITEM]

    def back(self) -> bool:
        """Go back by one choice; return whether there was one."""
        if len(self._steps) > 1:
            self._steps.pop()
            if self.step is ChoiceStep.ITEM:
                self.begin()
            return True
        return False

    def tried(self, key: str) -> Placing | None:
        """Return what would stand in the picture with a choice that is only looked at."""
        picture = self.picture
        match self.step:
            case ChoiceStep.ITEM if not (picture.has_point(key) or picture.has_pointing(key)):
                return Placing(key)
            case ChoiceStep.POINT:
                return Placing(self._item, key)
            case ChoiceStep.WAY | ChoiceStep.SIDE if key != _SLANTS:
                return Placing(self._item, self._point, key)
            case ChoiceStep.WAY | ChoiceStep.LINE:
                return Placing(self._item, self._point)
        return None


def _side_told(pointing: Pointing) -> str:
    """Return what is left to be told of a direction whose slant is told already."""
    first, _, rest = pointing.label.partition(", ")
    return first if pointing.quarter or not rest else rest


def _slant_of(pointing: Pointing) -> _Slant:
    """Return what a direction slants from."""
    if pointing.quarter:
        return _Slant(pointing.line, "", "between two ways, no angle told")
    if pointing.line is ReferenceLine.MUSCLE:
        return _Slant(pointing.line, "", "along the line to its other end")
    return _Slant(pointing.line, pointing.angle, pointing.label.partition(", ")[0])
