"""A student's free-body diagram in words: what stands in it, what came of a placing, and hints."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from leverstep.course.phrases import capital, counted, listed, times
from leverstep.free_body.body_picture import AXIS_ITEM, BodyPicture
from leverstep.free_body.candidates import NET_MOMENT, REACTION
from leverstep.free_body.placing import Placing, PlacingVerdict
from leverstep.slips.catalogue import Catalogue
from leverstep.slips.hint_texts import with_places
from leverstep.slips.picture_slips import PLACED, PictureSlip, SlipWords

Target = tuple[str, tuple[PictureSlip, ...]]
"""What a hint is about: an item, and the slips in how it is drawn or left out."""

HINTS_ON_EACH = 4
"""So many hints there are on one thing: where to look, what happened, the rule, how it is right."""


@dataclass(frozen=True, slots=True)
class Amiss:
    """One thing that is not right in a picture: its name, its slip in words, how it is right.

    `is_missing` says that it is left out.
    """

    name: str
    slip: str
    worked: str
    is_missing: bool


_IN_POINT = {PictureSlip.POINT}
_IN_DIRECTION = {
    PictureSlip.NOT_DOWN, PictureSlip.TURNED_ROUND, PictureSlip.OTHER_LINE, PictureSlip.NO_ANGLE,
    PictureSlip.WAY, PictureSlip.REACTION_WAY, PictureSlip.NOT_UNKNOWN,
}  # fmt: skip


def item_name(picture: BodyPicture, item: str) -> str:
    """Return what an item is called: `weight of the pail`, `the axis`, `the distance d_l`."""
    candidate = picture.candidate(item)
    if candidate is not None:
        return candidate.name
    return item if item == AXIS_ITEM else f"the distance {item}"


def placed_told(picture: BodyPicture, placing: Placing) -> str:
    """Return how something stands in the picture: `weight of the pail: 35 cm …, straight down`."""
    place, pointing = picture.place_of(placing), picture.pointing_of(placing)
    parts = [one.label for one in (place, pointing) if one is not None]
    name = item_name(picture, placing.item)
    if pointing is not None and pointing.is_open:
        parts[-1] = "direction unknown yet"
    return f"{name}: {', '.join(parts)}" if parts else name


def verdict_told(
    picture: BodyPicture, verdict: PlacingVerdict, at_once: bool, catalogue: Catalogue
) -> str:
    """Return what to say of a placing; a slip is named `at_once`, or only where it is wrong."""
    told = placed_told(picture, verdict.placing)
    if verdict.is_right:
        return f"Right: {told}."
    where = _where(picture, verdict)
    if not at_once:
        return f"Not yet: {where}"
    return f"Not yet: {where} It looks like this slip: {_names(verdict.slips, catalogue)}."


def angle_asked(picture: BodyPicture, placing: Placing, tells: bool) -> str:
    """Return what asks back for the angle of a force of which the quarter alone is said.

    Where it is told what is right, that quarter is.
    """
    pointing = picture.pointing_of(placing)
    assert pointing is not None, "it points into a quarter"
    side = capital(pointing.label.partition(", ")[0])
    told = f"{side} is the right side: at which angle?" if tells else f"{side}, at which angle?"
    return f"{told} Say that too, and from which line."


def _names(slips: tuple[PictureSlip, ...], catalogue: Catalogue) -> str:
    return listed([words.name for words in _words(slips, catalogue)])


def _names_counted(slips: tuple[PictureSlip, ...], catalogue: Catalogue) -> str:
    """Return the names of some slips, of each with how often where that is more than once."""
    names = ((catalogue.diagram_slips[slip].name, many) for slip, many in Counter(slips).items())
    return listed([name if many == 1 else f"{name} ({times(many)})" for name, many in names])


def _words(slips: Iterable[PictureSlip], catalogue: Catalogue) -> list[SlipWords]:
    """Return what is said of some slips, of each once."""
    return [catalogue.diagram_slips[slip] for slip in dict.fromkeys(slips)]


def _where(picture: BodyPicture, verdict: PlacingVerdict) -> str:
    """Return in a sentence what of a placing is not right, without the reason."""
    slips, name = set(verdict.slips), item_name(picture, verdict.placing.item)
    segment = picture.question.problem.segment
    candidate = picture.candidate(verdict.placing.item)
    if candidate is None:
        is_axis = verdict.placing.item == AXIS_ITEM
        return "this is not the axis." if is_axis else f"{name} does not count here."
    if candidate.decoy is not None:
        return f"the {name} does not belong in the diagram of the {segment}."
    if PictureSlip.TWICE in slips:
        return f"the {name} is drawn already, and right where it is."
    wrong = ["its point"] if slips & _IN_POINT else []
    wrong += ["its direction"] if slips & _IN_DIRECTION else []
    is_or_are = "is" if len(wrong) == 1 else "are"
    return f"the {name} acts, but {listed(wrong)} {is_or_are} not right."


def missing_told(picture: BodyPicture, at_once: bool, catalogue: Catalogue) -> str:
    """Return why a picture is not complete yet; slips are named `at_once`, or only counted."""
    missing, mistaken = picture.missing, picture.mistaken
    parts = []
    if missing:
        slips = tuple(picture.missing_slip(item) for item in missing)
        are = counted(len(missing), "thing is missing", "things are missing")
        parts.append(f"{are}: {_names_counted(slips, catalogue)}" if at_once else are)
    if mistaken:
        are = counted(len(mistaken), "thing is not right", "things are not right")
        names = listed([item_name(picture, one.placing.item) for one in mistaken])
        parts.append(f"{are}: {names}")
    return f"Not complete yet: {'; '.join(parts)}."


def found_later_told(picture: BodyPicture) -> str:
    """Return what of a picture is found later; that it belongs there, where it is not drawn.

    "" where there is nothing.
    """
    found = [one for one in picture.candidates if one.item in (REACTION, NET_MOMENT)]
    if not found:
        return ""
    left_out = [one for one in found if one.item not in picture.placed]
    belong, are = ("belongs", "is") if len(left_out or found) == 1 else ("belong", "are")
    names = capital(listed([f"the {one.name}" for one in left_out or found]))
    too = f"{belong} in it too, and " if left_out else ""
    return f"{names} {too}{are} still to be found."


def hint_target(picture: BodyPicture) -> Target | None:
    """Return what a hint is about: what was placed last and is wrong, else wrong, else missing.

    What all hints were given on makes room for what comes after it, while there is any.
    """
    latest = picture.latest
    wrong = [] if latest is None or latest.is_right else [latest]
    targets = [(one.placing.item, one.slips) for one in (*wrong, *picture.mistaken)]
    targets += [(item, (picture.missing_slip(item),)) for item in picture.missing]
    open_ones = (one for one in targets if picture.given.count(one) < HINTS_ON_EACH)
    return next(open_ones, targets[0] if targets else None)


def hints_on(picture: BodyPicture, target: Target, catalogue: Catalogue) -> tuple[str, ...]:
    """Return the hints: where to look, what happened, the rule, and how it is right."""
    item, slips = target
    words = _words(slips, catalogue)
    happened = _filled([one.happened for one in words], picture, item)
    return (
        _filled([one.look for one in words], picture, item),
        f"It looks like this slip: {_names(slips, catalogue)}. {happened}",
        _filled([one.reason for one in words], picture, item),
        _worked(picture, target, catalogue),
    )


def _filled(texts: list[str], picture: BodyPicture, item: str) -> str:
    """Return texts about an item with their placeholders filled, none twice."""
    problem = picture.question.problem
    values = {"segment": problem.segment, "axis": problem.axis, "name": item_name(picture, item)}
    if item in picture.needed:
        values[PLACED] = placed_told(picture, _right_placing(picture, item))
    return capital(" ".join(dict.fromkeys(with_places(text, values.__getitem__) for text in texts)))


def _right_placing(picture: BodyPicture, item: str) -> Placing:
    """Return how an item stands, where that is right, or how it is placed right."""
    standing = picture.placed.get(item)
    if standing is not None and standing.is_right:
        return standing.placing
    return picture.right_placing(item)


def _worked(picture: BodyPicture, target: Target, catalogue: Catalogue) -> str:
    """Return what to do about something."""
    item, slips = target
    return _filled([one.worked for one in _words(slips, catalogue)], picture, item)


def amiss(picture: BodyPicture, catalogue: Catalogue) -> tuple[Amiss, ...]:
    """Return what of a picture is not right as it stands: what is drawn wrong, then what is not."""
    wrong = ((one.placing.item, one.slips, False) for one in picture.mistaken)
    missing = ((item, (picture.missing_slip(item),), True) for item in picture.missing)
    return tuple(
        Amiss(
            item_name(picture, item), _names(slips, catalogue),
            _worked(picture, (item, slips), catalogue), is_missing,
        )
        for item, slips, is_missing in (*wrong, *missing)
    )  # fmt: skip


def slips_in(picture: BodyPicture) -> tuple[PictureSlip, ...]:
    """Return the slips that were made in a picture, with those of what is left out of it."""
    left_out = map(picture.missing_slip, picture.missing)
    return tuple(dict.fromkeys((*picture.made, *left_out)))


def remembered(
    picture: BodyPicture, slips: Iterable[PictureSlip], catalogue: Catalogue
) -> tuple[str, ...]:
    """Return slips that were made in a picture, each with the rule to remember."""
    problem = picture.question.problem
    values = {"segment": problem.segment, "axis": problem.axis}
    return tuple(
        f"{words.name}, in the diagram of the {problem.segment}. Remember: "
        + with_places(words.reason, values.__getitem__)
        for words in _words(slips, catalogue)
    )


def standing_told(picture: BodyPicture) -> tuple[str, ...]:
    """Return what stands in a picture, a line for each thing; one line where nothing does."""
    told = [f"{capital(placed_told(picture, one.placing))}." for one in picture.placed.values()]
    return tuple(told) or ("Nothing is drawn yet.",)
