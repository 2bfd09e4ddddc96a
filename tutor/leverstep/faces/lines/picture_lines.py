"""A free-body diagram drawn in words: what is chosen, placed, taken away and read out."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from leverstep.course.phrases import capital
from leverstep.dialogue.picture_dialogue import PictureDialogue
from leverstep.dialogue.replies import NO_HINTS, DialogueAnswer
from leverstep.faces.lines.verbs import Listening, Place, Verb, help_of
from leverstep.faces.terminal import Say
from leverstep.free_body.picture_told import standing_told
from leverstep.free_body.pointings import Pointing, ReferenceLine
from leverstep.working.cautions import CAUTION_SAID

PICTURE_PROMPT = "Free-body diagram: "
_FORM = (
    "Type a force, where, and which way, in words or by their numbers in the lists, such as: "
    "3 at 2, up."
)
_AXIS = (
    "Type axis at and a point to mark the axis, and distance and its symbol for one that counts."
)
_AT_ONE_POINT = (
    "All act at one point: type a force and which way, in words or by its number, such as: 3, up."
)


class PictureLines(Listening):
    """Listens while a free-body diagram is to be drawn."""

    place = Place.PICTURE

    def __init__(
        self,
        say: Say,
        at_hand: Callable[[], PictureDialogue],
        draw: Callable[[Callable[[], DialogueAnswer]], object],
        stop: Callable[[str], None],
        others: Callable[[], Iterable[Verb]],
    ) -> None:
        """Begin.

        Args:
            say: what says a line.
            at_hand: what returns the picture at hand.
            draw: what does something at it, and says what came of it.
            stop: what leaves the working.
            others: the words of the working that can be typed meanwhile.
        """
        self.say = say
        self._at_hand = at_hand
        self._draw = draw
        self._stop = stop
        self._others = others

    def do_place(self, text: str) -> None:
        """Put something into the picture."""
        self._draw(lambda: self._at_hand().place_words(text))

    def do_forces(self, _: str) -> None:
        """Read the forces and moments to choose from."""
        for number, one in enumerate(self._at_hand().picture.candidates, 1):
            self.say(f"{number}: {one.name}.")

    def do_points(self, _: str) -> None:
        """Read the points to choose from, then the distances."""
        picture = self._at_hand().picture
        for number, place in enumerate(picture.places, 1):
            self.say(f"{number}: {place.label}.")
        for distance in picture.distances:
            self.say(f"Distance {distance.label}.")

    def do_directions(self, _: str) -> None:
        """Say how a direction is told, with the angles that there are."""
        picture = self._at_hand().picture
        self.say("Straight: up, down, left or right.")
        for told in dict.fromkeys(filter(None, map(_slant, picture.pointings))):
            self.say(told)
        self.say("Unknown, where it is found later, as that of a reaction may be.")
        if any(one.is_turning for one in picture.candidates):
            self.say("What turns without pushing: clockwise or anticlockwise.")

    def do_drawn(self, _: str) -> None:
        """Read what stands in the picture."""
        for line in standing_told(self._at_hand().picture):
            self.say(line)

    def do_take_away(self, text: str) -> None:
        """Take something out of the picture."""
        self._draw(lambda: self._at_hand().take_away_words(text))

    def do_finish(self, _: str) -> None:
        """Say that the picture is complete."""
        self._draw(lambda: self._at_hand().finish())

    def do_skip_picture(self, _: str) -> None:
        """Go on without the picture."""
        self._draw(lambda: self._at_hand().skip())

    def do_picture_hint(self, _: str) -> None:
        """Give the next hint."""
        self._draw(lambda: self._at_hand().hint())

    def do_picture_hints(self, _: str) -> None:
        """Read the hints again that were given."""
        dialogue = self._at_hand()
        given = dialogue.hints()
        for hint in given:
            self.say(f"{hint.heading}: {hint.text}")
        if not given:
            none = "No hint was given for the diagram."
            self.say(none if dialogue.bench.working.rules.hints else NO_HINTS)

    def do_enter_alone(self, _: str) -> None:
        """Say again what is to be done, and what can be typed."""
        self.say(self._at_hand().asks)
        self.say(self.form)
        self.say(f"Or a word: {', '.join(verb.name for verb in self.offered if verb.short)}.")

    @property
    def form(self) -> str:
        """Return how things are put into the picture."""
        picture = self._at_hand().picture
        if picture.only_place is not None:
            return _AT_ONE_POINT
        return f"{_FORM} {_AXIS}" if picture.has_axis else _FORM

    @property
    def offered(self) -> tuple[Verb, ...]:
        """Return what help is to name: no word for hints where there are none."""
        has_hints = self._at_hand().bench.working.rules.hints
        hidden = set() if has_hints else {"picture_hint", "picture_hints"}
        return tuple(verb for verb in self.verbs if verb.does not in hidden)

    def do_help(self, _: str) -> None:
        """Say what can be typed."""
        told = (*help_of(self.offered), *help_of(self._others()))
        for line in (self.form, *dict.fromkeys(told), CAUTION_SAID):
            self.say(line)

    def do_stop(self, rest: str) -> None:
        """Leave the working."""
        self._stop(rest)


def _slant(pointing: Pointing) -> str:
    """Return how directions of a sort are told that slant, "" for one that does not."""
    match pointing.line:
        case ReferenceLine.HORIZONTAL | ReferenceLine.VERTICAL:
            told = pointing.label.rpartition(", ")[0]
            return f"{capital(told)}, and to which side, such as: up and left."
        case ReferenceLine.SEGMENT:
            told, sides = pointing.label.partition(", ")[0], "towards which end, and up or down"
            if not pointing.angle:
                sides = "towards which end" if "along" in pointing.words else "up or down"
            return f"{capital(told)}, {sides}."
        case ReferenceLine.MUSCLE | ReferenceLine.ROUND:
            return f"{capital(pointing.label)}."
    return ""
