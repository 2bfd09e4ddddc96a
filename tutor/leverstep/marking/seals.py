"""The seals of records as marking tells of them: whether they hold, by the keys at hand."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from leverstep.bench.contents import Contents
from leverstep.bench.record_lines import DrillBegun, ResumedLine
from leverstep.bench.seal_check import Checked, SealState, checked
from leverstep.course.phrases import counted
from leverstep.drill.drill import Drill
from leverstep.drill.own_numbers import NO_SECRET, with_number_secret
from leverstep.drill.seal_key import NoLibrary, PrivateKey, keys_at_hand, named_keys

NOT_SEALED = "not sealed, though the drill is"
NO_SEAL_NOW = "sealed, which was not checked, since the drill has no seal now"


def with_secrets(
    drills: Sequence[Drill], named: Collection[Path] = ()
) -> tuple[tuple[Drill, ...], tuple[str, ...]]:
    """Return drills with what the teacher alone has, and a sentence on each that lacks some.

    That are the private keys of seals, and the secrets of students' own numbers.

    Args:
        drills: what is marked.
        named: files with private keys; others are looked for in the user's data.

    Raises:
        FileError: where one that is named is not the key of any of them.
    """
    wanted = {public for drill in drills for public in drill.all_seals}
    try:
        keys = named_keys(named, wanted)
        found = [keys_at_hand(drill.all_seals, keys) for drill in drills]
        reason = "its private key is not here. --seal-key takes the file."
    except NoLibrary as error:
        found = [()] * len(drills)
        reason = f"to read its private key takes {error}."
    both = list(zip(drills, found, strict=True))
    without = [drill.id for drill, at_hand in both if drill.all_seals and not at_hand]
    told = [f"The seals of {one} were not checked: {reason}" for one in without]
    keyed = [replace(drill, seal_keys=keys) if keys else drill for drill, keys in both]
    complete = tuple(map(with_number_secret, keyed))
    told += [
        f"Whether all had their own numbers in {one.id} was not checked: {NO_SECRET}."
        for one in complete
        if one.own_numbers and not one.number_secret
    ]
    return complete, tuple(told)


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
    return f"by the key beside it, {are} missing at its end, unless it was copied while it was sat"
