"""Why a wrong line is wrong: the slips behind it, and what its arithmetic shows of itself."""

from __future__ import annotations

import logging
from dataclasses import replace
from typing import NamedTuple

from leverstep.comparing.differences import Difference
from leverstep.comparing.structure import structure
from leverstep.entry.tokens import MEANT
from leverstep.entry.tree import Reason, Tree, is_arithmetic, names_in
from leverstep.slips.catalogue import Catalogue, Slip
from leverstep.slips.finding import Explanation
from leverstep.slips.search import explain
from leverstep.working.attempt import Attempt
from leverstep.working.judge import judge_value
from leverstep.working.verdict import Verdict
from leverstep.working.writing import unit_words

_log = logging.getLogger(__name__)


class Explained(NamedTuple):
    """What is found behind a wrong line; nothing at all for any other.

    `reason` says what is wrong where that is no slip. `explanations` are those that fit equally
    well, the likeliest first; empty where no known slip explains the line. `differences` are what
    its arithmetic shows of itself.
    """

    reason: Reason | None = None
    explanations: tuple[Explanation, ...] = ()
    differences: tuple[Difference, ...] = ()


_NOTHING = Explained()
_SIGNS = {"+", "-", *(sign for sign, meant in MEANT.items() if meant == "-")}


def explained(verdict: Verdict, catalogue: Catalogue) -> Explained:
    """Return what is found behind the line of a verdict; looked for once, however often asked."""
    if verdict.attempt is None:
        return _NOTHING
    known = verdict.attempt.found_by
    found = known.get(catalogue)
    if not isinstance(found, Explained):
        found = known[catalogue] = _looked_for(verdict.attempt, catalogue)
    if not found.differences or has_sign(verdict.text):
        return found
    shown = (replace(d, what="unsigned") if d.what == "sign" else d for d in found.differences)
    return found._replace(differences=tuple(shown))


def has_sign(text: str) -> bool:
    """Return whether a plus or minus sign was typed."""
    return not _SIGNS.isdisjoint(text)


def made_for_sure(found: Explained, catalogue: Catalogue) -> tuple[Slip, ...]:
    """Return the slips that were made for sure on a line, by what is found behind it.

    Where several explanations fit equally well, that is only what all of them have in common.
    """
    explanations = found.explanations
    if not explanations or not explanations[0].sure:
        return ()
    slips = catalogue.slips
    likeliest, *others = explanations
    made = [slips[finding.slip] for finding in likeliest.findings]
    for other in others:
        reasons = {slips[finding.slip].reason for finding in other.findings}
        made = [slip for slip in made if slip.reason in reasons]
    return tuple(dict.fromkeys(made))


def _looked_for(attempt: Attempt, catalogue: Catalogue) -> Explained:
    try:
        return _found(attempt, catalogue)
    except Exception:  # noqa: BLE001  (it is wrong, whatever becomes of the reason)
        _log.exception("No reason could be looked for in %s", attempt.question.problem.id)
        return _NOTHING


def _found(attempt: Attempt, catalogue: Catalogue) -> Explained:
    if attempt.claimed:
        return _found_by_value(attempt, catalogue)
    if attempt.only_structure:
        return Explained(differences=_differences(attempt))
    if reason := _fits_in_unit(attempt):
        return Explained(reason)
    if attempt.reading.tree is None:
        return _searched(attempt, catalogue)
    if is_arithmetic(attempt.reading.tree):
        return _searched(_with_structure(attempt, attempt.reading.tree), catalogue)
    found = _searched(attempt, catalogue)
    if found.explanations:
        return found
    # A number alone may be one factor of its line, without the others.
    differences = _differences(_with_structure(attempt, attempt.reading.tree))
    is_part = [one.what for one in differences] == ["missing"]
    return Explained(differences=differences if is_part else ())


def _found_by_value(attempt: Attempt, catalogue: Catalogue) -> Explained:
    """Return what is found behind a wrong claim of a page, by its value before its arithmetic."""
    found, tree = _searched(attempt, catalogue), attempt.reading.tree
    if found.explanations or tree is None or not is_arithmetic(tree) or any(names_in(tree)):
        return found
    shown = _with_structure(attempt, tree)
    return found if shown.structure is None else _searched(shown, catalogue)


def _with_structure(attempt: Attempt, tree: Tree) -> Attempt:
    """Return an attempt with what its arithmetic shows of itself."""
    shown = structure(attempt.question, attempt.step, tree, attempt.written)
    return replace(attempt, structure=shown)


def _differences(attempt: Attempt) -> tuple[Difference, ...]:
    """Return what the arithmetic of an attempt shows, nothing where it is not recognised."""
    return () if attempt.structure is None else attempt.structure.differences


def _searched(attempt: Attempt, catalogue: Catalogue) -> Explained:
    """Return the slips that give what was typed, with what its arithmetic shows."""
    return Explained(None, explain(attempt, catalogue), _differences(attempt))


def _fits_in_unit(attempt: Attempt) -> Reason | None:
    """Return that the number is right and only its unit is not; None where that is not so."""
    step, reading = attempt.step, attempt.reading
    written = reading.mass_unit or reading.converted
    if not written:
        return None
    size = 1.0 if reading.mass_unit else abs(reading.size)
    number = reading._replace(
        value=reading.value / size, half_digit=reading.half_digit / size, mass_unit=""
    )
    judged = judge_value(attempt.question, step, number, (attempt.own, attempt.wrong))
    if not (judged.right or judged.follows):
        return None
    return Reason.of("fits_in_unit", unit=unit_words(step), found=written)
