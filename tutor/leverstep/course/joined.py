"""Reading where a segment of a chain is joined to the one before, which acts on it there."""

from __future__ import annotations

from collections.abc import Iterator

from leverstep.course.faults import Reader
from leverstep.course.forces import STRAIGHT, Forces
from leverstep.course.quantities import Quantities
from leverstep.statics.acting import Couple, Force
from leverstep.statics.force_axes import HORIZONTAL, VERTICAL, ForceAxis
from leverstep.statics.kinds import NET_MOMENT
from leverstep.statics.points import Given
from leverstep.statics.posture import Axes, Find, Posture
from leverstep.statics.step import Draft
from leverstep.statics.turn import acting_along

_WAYS: tuple[tuple[ForceAxis, str], ...] = ((HORIZONTAL, "right"), (VERTICAL, "up"))
"""The axes that a force is handed on along, and the way of each that counts as positive."""


def read_joined(
    reader: Reader, forces: Forces, quantities: Quantities, before: Posture | None
) -> tuple[tuple[Force, ...], tuple[Couple, ...]]:
    """Return what the segment before does to this one where they are joined, none without that.

    That is its joint reaction, each component a force, and its net moment, all turned round.

    Args:
        reader: the table of the posture.
        forces: those read so far; they keep what these are called.
        quantities: those met so far.
        before: the posture before, None where it could not be read.
    """
    table = reader.child("joined", needed=False)
    if table is None or before is None:
        return (), ()
    letter, name = table.text("symbol"), table.text("name")
    if not (len(letter) == 1 and letter.isalpha() and letter.isascii()):
        table.fault("symbol", f'found "{letter}"', 'one letter, as "E" for forces E_x and E_y')
        return (), ()
    if not before.reaction or Axes.LEVEL not in before.resolved:
        expected = "a posture before whose reaction is asked for, horizontally and vertically"
        table.fault("", "nothing is handed on", expected)
    at, offset, _ = forces.point(table, letter)
    if offset is not None or at.sought:
        table.fault("at", "found another place", "a distance along this segment that is given")
    table.finish()
    pushes = []
    for axis, way in _handed_on(before, quantities):
        symbol = f"{letter}_{axis.letter}"
        quantities.take(table, symbol)
        forces.names[symbol] = name
        size = Given(symbol, symbol, "N")
        pushes.append(
            Force(
                symbol, at, STRAIGHT[way], size, mark=forces.mark, before=before.key(axis.reaction)
            )
        )
    return tuple(pushes), tuple(_couples(table, forces, letter, before))


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
    symbol = f"C_{letter.lower()}"
    forces.quantities.take(table, symbol)
    forces.names[symbol] = forces.names.get(f"{letter}_y", table.text("name"))
    size = Given(symbol, symbol, "N·m")
    yield Couple(symbol, size, before.positive, before.key(NET_MOMENT))
