"""Who needs help, and with what: from one student's sittings."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from fractions import Fraction

from leverstep.drill.drill import Drill
from leverstep.marking.marking import LineMark, LinePlace, Marked
from leverstep.marking.picture_marks import PictureMark
from leverstep.reports.figures import Help, NamedPlace, Who
from leverstep.reports.slipped import told_slips
from leverstep.slips.catalogue import Catalogue, Slip
from leverstep.slips.picture_slips import PictureSlip, SlipWords
from leverstep.statics.kinds import KINDS
from leverstep.working.verdict import Outcome
from leverstep.working.wording import PARTS

NEEDS_HELP = 50
"""A student with fewer per cent of the marks is listed as in need of help."""

REPEATED = 2
"""A slip on so many lines of one student is a repeated one, as in `slips.habits`."""


_DIAGRAMS = "Free-body diagrams"


def help_for(
    drill: Drill,
    marked: Marked,
    first: Marked,
    names: Mapping[LinePlace, str],
    catalogue: Catalogue,
) -> Help | None:
    """Return what a student needs help with, None where there is nothing.

    A task that was not in the drill when it was sat makes nobody's marks too few.

    Args:
        drill: the drill.
        marked: the sitting that counts, whose marks and lines they are, without what was withdrawn:
            that was faulty, and nobody needs help with it.
        first: the first sitting, likewise, whose slips and hints they are, since a second may only
            copy what the first was told.
        names: what the lines are called.
        catalogue: the slips that are named.
    """
    percent = 100 * marked.total / drill.marks
    was_there = [item.worth for n, item in enumerate(drill.task_items, 1) if n not in marked.absent]
    is_low = 100 * marked.total < NEEDS_HELP * sum(was_there, Fraction(0))
    slips: tuple[tuple[Slip | SlipWords, tuple[NamedPlace, ...]], ...] = (
        *_slips(first, names, catalogue), *_drawn_slips(first, catalogue)
    )  # fmt: skip
    tried = [line for line in marked.lines if _is_open(line) and line.tries]
    drawn = tuple((one.task, one.name) for one in marked.pictures if one.is_begun and one.amiss)
    repeated = any(len(places) >= REPEATED for _, places in slips)
    if not is_low and not tried and not drawn and not repeated:
        return None
    return Help(
        who=Who(marked.student, marked.name, drill.carried(marked.student)),
        percent=percent,
        hints=first.hints,
        slips=slips,
        open=_by_part(tried, names, drawn),
        closed=tuple((line.task, names[line.place]) for line in tried if line.closed),
        unwritten=sum(not line.tries for line in marked.lines),
    )


def _slips(
    marked: Marked, names: Mapping[LinePlace, str], catalogue: Catalogue
) -> Iterator[tuple[Slip, tuple[NamedPlace, ...]]]:
    """Yield the slips made on several lines, or on one that was not right in the end."""
    stuck = {line.place for line in marked.lines if _is_open(line)}
    for told in told_slips(marked, catalogue).values():
        ((most, _),) = Counter(slip for _, slips in told for slip in slips).most_common(1)
        places = dict.fromkeys(entry.place for entry, _ in told)
        if len(places) >= REPEATED or stuck & set(places):
            yield catalogue.slips[most], tuple((place[0], names[place]) for place in places)


def _drawn_slips(
    marked: Marked, catalogue: Catalogue
) -> Iterator[tuple[SlipWords, tuple[NamedPlace, ...]]]:
    """Yield the slips made in several diagrams, or in one that was not right in the end."""
    made: dict[PictureSlip, list[PictureMark]] = {}
    for one in marked.pictures:
        for slip in one.slips:
            made.setdefault(slip, []).append(one)
    for slip, pictures in made.items():
        if len(pictures) >= REPEATED or not pictures[0].is_right:
            yield catalogue.diagram_slips[slip], tuple((one.task, one.name) for one in pictures)


def _is_open(line: LineMark) -> bool:
    return line.outcome not in (Outcome.RIGHT, Outcome.FOLLOWED)


def _by_part(
    lines: list[LineMark], names: Mapping[LinePlace, str], drawn: tuple[NamedPlace, ...]
) -> tuple[tuple[str, tuple[NamedPlace, ...]], ...]:
    """Return the parts of a working that lines belong to, with the lines of each.

    The diagrams that were drawn are a part of their own.
    """
    found: dict[str, tuple[NamedPlace, ...]] = {_DIAGRAMS: drawn} if drawn else {}
    for line in lines:
        part, place = PARTS[KINDS[line.kind].part], (line.task, names[line.place])
        found[part] = (*found.get(part, ()), place)
    return tuple(sorted(found.items(), key=lambda one: -len(one[1])))
