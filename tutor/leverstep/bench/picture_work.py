"""The free-body diagrams of a working at its bench: each thing is kept before it is judged."""

from __future__ import annotations

from collections.abc import Callable

from leverstep.bench.record_lines import (
    HintLine,
    LeaveLine,
    PictureDoneLine,
    PlacedLine,
    RecordLine,
    TakenAwayLine,
)
from leverstep.course.problem import Question
from leverstep.free_body.body_picture import BodyPicture, pictures_of
from leverstep.free_body.picture_told import HINTS_ON_EACH, hint_target, hints_on
from leverstep.free_body.placing import Placing, PlacingVerdict
from leverstep.slips.catalogue import Catalogue
from leverstep.slips.ladder import LineHint
from leverstep.working.rules import Rung


class PictureWork:
    """The pictures that a student is asked for, none as long as they are given.

    `tells` says whether it is told at once what came of a placing.
    """

    def __init__(
        self,
        question: Question,
        catalogue: Catalogue,
        keep: Callable[[RecordLine], None],
        tells: bool,
    ) -> None:
        self.pictures: tuple[BodyPicture, ...] = ()
        self.tells = tells
        self._question = question
        self._catalogue = catalogue
        self._keep = keep

    def ask(self) -> None:
        """Ask for the pictures from here on."""
        self.pictures = self.pictures or pictures_of(self._question)

    def open_at(self, mark: str) -> BodyPicture | None:
        """Return the picture of the posture with a mark, while it is to be drawn."""
        found = (one for one in self.pictures if one.question.problem.posture.mark == mark)
        return next((one for one in found if not one.is_closed), None)

    def place(self, picture: BodyPicture, placing: Placing) -> PlacingVerdict:
        """Keep what is put into a picture, then judge it."""
        self._keep(
            PlacedLine(
                step=picture.key, item=placing.item, point=placing.point,
                direction=placing.pointing,
            )
        )  # fmt: skip
        return picture.place(placing, self.tells)

    def take_away(self, picture: BodyPicture, item: str) -> None:
        """Keep that something is taken out of a picture, and take it out."""
        self._keep(TakenAwayLine(step=picture.key, item=item))
        picture.take_away(item)

    def finish(self, picture: BodyPicture) -> bool:
        """Keep that a picture is said to be complete; return whether it is closed by that.

        Where it is told what is wrong, one that is not right stays open.
        """
        self._keep(PictureDoneLine(step=picture.key))
        return self._finished(picture)

    def skip(self, picture: BodyPicture) -> None:
        """Let a picture be as it is, and go on without it."""
        self._keep(LeaveLine(step=picture.key))
        picture.close(is_done=False)

    def hint(self, picture: BodyPicture) -> LineHint | None:
        """Return the next hint on a picture, None where all are given."""
        hint = self._next_hint(picture)
        if hint is not None:
            self._keep(HintLine(step=picture.key))
            self._give(picture)
        return hint

    def takes(self, line: RecordLine) -> bool:
        """Take a kept line again, if it is about one of the pictures; return whether it is.

        One that makes no sense, or comes after its picture was closed, changes nothing.
        """
        picture = next((one for one in self.pictures if one.key == line.step), None)
        if picture is None:
            return False
        if picture.is_closed:
            return True
        match line:
            case PlacedLine(item=str(item), point=str(point), direction=str(direction)):
                placing = Placing(item, point, direction)
                if picture.makes_sense(placing):
                    picture.place(placing, self.tells)
            case TakenAwayLine(item=str(item)):
                picture.take_away(item)
            case PictureDoneLine():
                self._finished(picture)
            case LeaveLine():
                picture.close(is_done=False)
            case HintLine():
                self._give(picture)
        return True

    def _finished(self, picture: BodyPicture) -> bool:
        if not self.tells or picture.is_right:
            picture.close(is_done=True)
        return picture.is_closed

    def _next_hint(self, picture: BodyPicture) -> LineHint | None:
        target = hint_target(picture)
        if target is None:
            return None
        texts, given = hints_on(picture, target, self._catalogue), picture.given.count(target)
        return LineHint(Rung(given), texts[given]) if given < len(texts) else None

    def _give(self, picture: BodyPicture) -> None:
        target = hint_target(picture)
        if target is not None and picture.given.count(target) < HINTS_ON_EACH:
            picture.given.append(target)
