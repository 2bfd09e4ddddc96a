"""A student's free-body diagram as a scene: only what has been placed, as it was placed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from leverstep.course.forces import AXIS
from leverstep.course.problem import Question
from leverstep.diagram.scene import Arrow, PlaceMark, Scene, Turning
from leverstep.diagram.scene_of_question import scene_of
from leverstep.free_body.body_picture import AXIS_ITEM, BodyPicture
from leverstep.free_body.candidates import REACTION
from leverstep.free_body.force_places import AXIS_POINT, force_places
from leverstep.free_body.placing import Placing
from leverstep.free_body.pointings import pointings

OF_REACTION = "R"
"""What a reaction is called in the picture, once it stands there right."""


class MadeScene:
    """Makes the scene of a picture. `tells` says whether it may show which arrows are right."""

    def __init__(self, picture: BodyPicture, tells: bool) -> None:
        self._picture = picture
        self._tells = tells
        self._numbers = {one.item: n for n, one in enumerate(picture.candidates, 1)}
        shown = _as_shown(picture.question)
        self._places = {one.key: one for one in force_places(shown)}
        self._bearings = {one.key: one.bearing for one in pointings(shown)}
        self._whole = scene_of(shown, {})

    def sign_of_item(self, item: str) -> str:
        """Return what an item is called in the picture: its symbol once that may be told.

        Before, and for what does not act, it is its number in the list.
        """
        placed = self._picture.placed.get(item)
        if self._tells and placed is not None and placed.is_right:
            return OF_REACTION if item == REACTION else item
        return str(self._numbers.get(item, item))

    def scene(self, tried: Placing | None = None) -> Scene:
        """Return the scene as it stands, with something that is tried beside it.

        A distance that does not run along the segment is drawn as the moment arm of its force, once
        that is known to stand right; until then, and where it is none, it is told in words.
        """
        placings = [one.placing for one in self._picture.placed.values()]
        if tried is not None:
            placings = [one for one in placings if one.item != tried.item] + [tried]
        axis = next((one for one in placings if one.item == AXIS_ITEM), None)
        is_marked = axis is not None and axis.point == AXIS_POINT
        whole, chosen = self._whole, {one.item for one in placings}
        arrows = tuple(self._arrows(placings))
        measures = tuple(one for one in whole.measures if one.symbol in chosen)
        known = {one.symbol for one in arrows}
        arms = tuple(one for one in whole.arms if one.symbol in chosen and one.of in known)
        aside = chosen - {one.symbol for one in measures} - {one.symbol for one in arms}
        return replace(
            whole,
            arrows=arrows,
            measures=measures,
            corners=tuple(one for one in whole.corners if not one.of),
            surroundings=tuple(one for one in whole.surroundings if one.root == AXIS),
            arms=arms,
            asides=tuple(one.label for one in self._picture.distances if one.item in aside),
            far_ends=(), couples=tuple(self._couples(placings)),
            positive=whole.positive if is_marked else 0,
            marks=tuple(self._marks(placings, tried)),
            has_axis=is_marked,
        )  # fmt: skip

    def names(self) -> dict[str, str]:
        """Return what each arrow of the scene is, by what it is called there."""
        return {self.sign_of_item(one.item): one.name for one in self._picture.candidates}

    def _arrows(self, placings: list[Placing]) -> Iterator[Arrow]:
        for one in placings:
            place, bearing = self._places.get(one.point), self._bearings.get(one.pointing)
            if place is not None and bearing is not None:
                yield Arrow(self.sign_of_item(one.item), "force", place.at, place.station, bearing)

    def _couples(self, placings: list[Placing]) -> Iterator[Turning]:
        for one in placings:
            pointing = self._picture.pointing_of(one)
            if pointing is not None and pointing.turns:
                yield Turning(self.sign_of_item(one.item), pointing.turns)

    def _marks(self, placings: list[Placing], tried: Placing | None) -> Iterator[PlaceMark]:
        """Yield every point there is, then what has a point, but no arrow."""
        yield from (PlaceMark(one.at, one.station) for one in self._places.values())
        for one in placings:
            place = self._places.get(one.point)
            has_arrow = self._bearings.get(one.pointing) is not None
            if place is None or has_arrow or (one.item, one.point) == (AXIS_ITEM, AXIS_POINT):
                continue
            text = "axis" if one.item == AXIS_ITEM else f"{self.sign_of_item(one.item)} ?"
            yield PlaceMark(place.at, place.station, text, chosen=one is tried)


def _as_shown(question: Question) -> Question:
    """Return the question with a guess for an angle that is still to be found."""
    if question.problem.posture.sought_angle is None:
        return question
    return question.with_angle_hidden()
