"""Which records of a student may count, and what is told of the others by the names of files."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence

from leverstep.bench.seal_check import SealState
from leverstep.course.phrases import some_named
from leverstep.marking.marking import Marked

_MOST_NAMED = 3
"""Files that a remark names: anybody may have put any number of them into a share."""


def chosen(
    records: Sequence[Marked], codes: Collection[str]
) -> tuple[tuple[Marked, ...], tuple[str, ...]]:
    """Return the records of a student that may count, and remarks on those that may not.

    Those whose code is among the `codes` noted of the student may count alone. Where none is, those
    that are intact may; only where none is intact either, all may.
    """
    ranks = [0 if one.code in codes else 1 if one.is_intact else 2 for one in records]
    best = min(ranks, default=0)
    by_rank = list(zip(ranks, records, strict=True))
    aside = (one for rank, one in by_rank if rank > best)
    return tuple(one for rank, one in by_rank if rank == best), tuple(_left_out(aside))


def _left_out(aside: Iterable[Marked]) -> Iterator[str]:
    """Yield which records are not counted, and why."""
    reasons: dict[str, list[str]] = {}
    for one in aside:
        reasons.setdefault(_reason(one), []).append(one.record)
    for reason, names in reasons.items():
        yield f"not counted, {reason}: {some_named(names, _MOST_NAMED)}"


def _reason(one: Marked) -> str:
    if one.seal is SealState.UNKNOWN:
        return "not sealed by the key of the drill"
    if not one.is_intact:
        return "changed after it was written"
    return "its code not noted" if one.ended else "not handed in"


def of_several_accounts(records: Iterable[Marked]) -> Iterator[str]:
    """Yield whose files the records of a student are, where they belong to several accounts.

    Those of the account with the fewest stand first.
    """
    names: dict[str, list[str]] = {}
    for one in records:
        for file in one.files:
            if file.account:
                names.setdefault(file.account, []).append(file.name)
    if len(names) > 1:
        fewest = sorted(names, key=lambda account: (len(names[account]), account))
        told = (f"{some_named(names[account], _MOST_NAMED)} to {account}" for account in fewest)
        yield f"files that belong to different accounts: {', '.join(told)}"
