"""Steps that hand on what acts on one segment of a chain, turned round, to the next segment.

What the next segment does to the one before where they are joined, the one before does to it in
return: a force and a moment as large, and opposite (Newton's third law).
"""

from __future__ import annotations

from leverstep.statics import kinds
from leverstep.statics.kinds import Kind
from leverstep.statics.step import Draft, Pen, symbol


def write_handed_on(draft: Draft) -> None:
    """Write what the segment before does to this one; what acted before already has its lines."""
    for force in draft.posture.forces:
        if force.before and not draft.has(force.symbol):
            _write_turned_round(draft, kinds.HANDED_FORCE, force.symbol, force.before)
    for couple in draft.posture.couples:
        if couple.before:
            _write_turned_round(draft, kinds.HANDED_MOMENT, couple.symbol, couple.before)


def _write_turned_round(draft: Draft, kind: Kind, key: str, before: str) -> None:
    pen = Pen(draft, key)
    pen.write(kind, key, -pen.choice("flip", 1, key) * symbol(before), f"−{{{before}}}")
