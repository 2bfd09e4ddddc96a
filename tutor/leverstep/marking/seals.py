"""The seals of records as marking tells of them: whether they hold, by the keys at hand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from leverstep.bench.contents import Contents
from leverstep.bench.record_lines import DrillBegun, ResumedLine
from leverstep.bench.seal_check import Checked, SealState, checked
from leverstep.course.phrases import counted
from leverstep.drill.drill import Drill
from leverstep.drill.seal_key import NoLibrary, PrivateKey, keys_at_hand

NOT_SEALED = "not sealed, though the drill is"
NO_SEAL_NOW = "sealed, which was not checked, since the drill has no seal now"


def with_seal_keys(drill: Drill, named: Path | None = None) -> tuple[Drill, str]:
    """Return a drill with the private keys at hand, and a sentence where seals can't be checked.

    Args:
        drill: what is marked.
        named: a file with its private key, None for what is kept in the user's data.

    Raises:
        FileError: where what is named is no such key.
    """
    if not drill.all_seals and named is None:
        return drill, ""
    try:
        keys = keys_at_hand(drill.all_seals, named)
    except NoLibrary as error:
        return drill, f"The seals of {drill.id} were not checked: what reads the key {error}"
    if not keys:
        return drill, (
            f"The seals of {drill.id} were not checked: its private key is not here. "
            "--seal-key takes the file."
        )
    return replace(drill, seal_keys=keys), ""


def seal_checked(drill: Drill, data: bytes, found: Contents) -> Checked:
    """Return what the seals of a record show, with remarks as marking has them.

    Args:
        drill: what it is marked against.
        data: the bytes of the record.
        found: what they hold.
    """
    if drill.seal_keys:
        shown = checked_by(drill.seal_keys, data)
    else:
        is_sealed = any(isinstance(o, DrillBegun | ResumedLine) and o.sealed for o in found.lines)
        shown = Checked(SealState.UNCHECKED if is_sealed else SealState.NONE)
    if shown.state is SealState.NONE and drill.all_seals:
        return replace(shown, remarks=(NOT_SEALED,))
    if shown.state is SealState.UNCHECKED and not drill.all_seals:
        return replace(shown, remarks=(NO_SEAL_NOW,))
    return shown


def checked_by(keys: Sequence[PrivateKey], data: bytes) -> Checked:
    """Return what the seals of a record show by some private keys."""
    if not keys:
        return Checked(SealState.UNCHECKED)

    def opens(sealed: str) -> Iterator[bytes]:
        for key in keys:
            secret = key.secret(sealed)
            if secret is not None:
                yield secret

    return checked(data, opens)


def cut_told(missing: int) -> str:
    """Return that lines are missing at the end of a record, by the key beside it."""
    are = counted(missing, "line is", "lines are")
    return f"by the key beside it {are} missing at its end, unless it was copied while it was sat"
