"""Reading where a segment of a chain is joined to the one before, which acts on it there."""

from __future__ import annotations

from collections.abc import Iterator

from leverstep.course.faults import Reader
from leverstep.course.forces import STRAIGHT, Forces
from leverstep.course.plain_text import shown
from leverstep.course.quantities import Quantities
from leverstep.statics.acting import Couple, Force
from leverstep.statics.force_axes import HORIZONTAL, VERTICAL, ForceAxis
from leverstep.statics.kinds import NET_MOMENT
from leverstep.statics.line_keys import with_index
from leverstep.statics.points import Given
from leverstep.statics.posture import Axes, Find, Posture, Relation
from leverstep.statics.step import Draft
from leverstep.statics.turn import acting_along

_WAYS: tuple[tuple[ForceAxis, str], ...] = ((HORIZONTAL, "right"), (VERTICAL, "up"))
"""The axes that a force is handed on along, and the way of each that counts as positive."""


def read_joined(
    reader: Reader,
    forces: Forces,
    quantities: Quantities,
    before: Posture | None,
) -> tuple[tuple[Force, ...], tuple[Couple, ...]]:
    """Return what the segment before does to this one where they are joined, none without that.

    That is its joint reaction, each component a force, and its net moment, all turned round; the
    net moment is the one that also speeds that segment up, where such a one is worked out.

    Args:
        reader: the table of the posture.
        forces: those read so far; they keep what these are called.
        quantities: those met so far.
        before: the posture before, None where it could not be read.
    """
    table = reader.child("joined", needed=False)
    if table is None:
        return (), ()
    letter, name = table.text("symbol"), table.text("name")
    is_letter = len(letter) == 1 and letter.isalpha() and letter.isascii()
    if letter and not is_letter:
        table.fault("symbol", f'found "{letter}"', 'one letter, as "E" for forces E_x and E_y')
    at, offset, _ = forces.point(table, letter)
    if offset is not None or at.sought:
        table.fault("at", "found another place", "a distance along this segment that is given")
    table.finish()
    if not is_letter:
        return (), ()
    pushes = []
    for axis, way in _WAYS if before is None else _handed_on(before, quantities):
        symbol = _symbol(letter, axis)
        quantities.take(table, symbol)
        forces.names[symbol] = name
        size = Given(symbol, symbol, "N")
        key = "" if before is None else before.key(axis.reaction)
        pushes.append(Force(symbol, at, STRAIGHT[way], size, mark=forces.mark, before=key))
    couples = () if before is None else tuple(_couples(table, forces, letter, before))
    return tuple(pushes), couples


def _symbol(letter: str, axis: ForceAxis) -> str:
    """Return the symbol of the part along an axis of what is handed on: `E_x`."""
    return with_index(letter, f"_{axis.letter}")


def check_handed_on(before: Posture, ask: Reader) -> None:
    """Note what leaves nothing to be handed on, in what the posture before asks for."""
    if not before.reaction:
        key = "reaction" if ask.has("reaction") else "find"
        expected = "a reaction to be handed on to the segment that is joined to this one"
        ask.fault(key, f"found {shown(ask.table.get(key))}", expected)
    elif Axes.LEVEL not in before.resolved:
        expected = "horizontal and vertical components, to be handed on to the next segment"
        ask.fault("resolve", f"found {shown(ask.table.get('resolve'))}", expected)


def _handed_on(before: Posture, quantities: Quantities) -> Iterator[tuple[ForceAxis, str]]:
    """Yield the axes along which the posture before has a reaction."""
    draft = Draft(before, quantities.middle())
    for axis, way in _WAYS:
        if acting_along(draft, before.forces, axis):
            yield axis, way


def _couples(table: Reader, forces: Forces, letter: str, before: Posture) -> Iterator[Couple]:
    """Yield the net moment of the posture before as a couple, where it has one."""
    if before.find is not Find.NET_MOMENT:
        return
    symbol = with_index("C", f"_{letter.lower()}")
    forces.quantities.take(table, symbol)
    forces.names[symbol] = forces.names.get(_symbol(letter, VERTICAL), table.text("name"))
    size = Given(symbol, symbol, "N·m")
    yield Couple(symbol, size, before.positive, _net_moment(before))


def _net_moment(before: Posture) -> str:
    """Return the key of the whole net moment of a posture: the one that speeds it up, if any."""
    sped_up = (f.symbol for f in before.further if f.relation is Relation.MOMENT_SPED_UP)
    return next(sped_up, before.key(NET_MOMENT))
