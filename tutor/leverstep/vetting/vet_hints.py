"""Vetting hint files: what can't be read, and slips that are not told for their own wrong line.

A file is vetted beside those that ship, since its slips will be told apart from theirs.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Set
from os.path import realpath
from typing import TYPE_CHECKING

from leverstep.course.faults import Fault, FileError, failing_as_fault
from leverstep.course.places import shipped
from leverstep.course.plain_text import near
from leverstep.course.problem import Problem, Question
from leverstep.course.shelf import problem_files
from leverstep.slips.catalogue import HINT_TABLES, Catalogue, Slip, WrongLine
from leverstep.slips.explained import Explained, explained
from leverstep.slips.picture_slips import PictureSlip
from leverstep.slips.telling import MOST_TOLD
from leverstep.vetting.vet import Report
from leverstep.working.reasons import reason_words
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.working import Working
from leverstep.working.writing import worked_line

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable


def is_hint_file(keys: Set[str]) -> bool:
    """Return whether a file holds what a catalogue is made of, by the keys at its top."""
    return not keys.isdisjoint(HINT_TABLES)


def vet_hint_files(
    paths: Iterable[Traversable], problems: Mapping[str, Problem]
) -> Iterator[Report]:
    """Yield a report for each hint file, read after those that ship and are not among them.

    `problems` are those that a wrong line may be of, by id.
    """
    paths = list(paths)
    if not paths:
        return
    named = {realpath(str(path)) for path in paths}
    catalogue = Catalogue({}, {})
    for path in problem_files([shipped("hints")]):
        if realpath(str(path)) not in named:
            catalogue = catalogue.with_file(path, path.name)
    read = []
    for path in paths:
        before = catalogue
        catalogue = before.with_file(path, str(path))
        slips = [slip for slip in catalogue.slips.values() if slip.id not in before.slips]
        instead = [*_instead(str(path), before, catalogue)]
        read.append((str(path), catalogue.faults[len(before.faults) :], slips, instead))
    for name, faults, slips, instead in read:
        found = (*_missing(name, catalogue),) if name == str(paths[-1]) else ()
        for number, slip in enumerate(slips, 1):
            try:
                with failing_as_fault(name):
                    fault = _tried(name, number, slip, catalogue, problems)
                    found += () if fault is None else (fault,)
            except FileError as error:
                found += error.faults
        untried = [_untried(name, n) for n, slip in enumerate(slips, 1) if slip.wrong is None]
        told = [
            remark
            for number, slip in enumerate(slips, 1)
            for remark in _takes_places(name, number, slip, catalogue)
        ]
        yield Report(name, None, faults + found, (*untried, *told, *instead))


def _instead(name: str, before: Catalogue, after: Catalogue) -> Iterator[Fault]:
    """Yield a remark for each table of a file that takes the place of one read before."""
    for term in after.terms.values():
        if term.name in before.terms and before.terms[term.name] is not term:
            found = f'this takes the place of the term "{term.name}" that ships'
            yield Fault(name, "term", found, "that one is not shown")
    for slip, words in after.diagram_slips.items():
        if slip in before.diagram_slips and before.diagram_slips[slip] is not words:
            found = f'this takes the place of the words that ship for "{slip}"'
            yield Fault(name, "diagram_slip", found, "those are not told")


def _missing(name: str, catalogue: Catalogue) -> Iterator[Fault]:
    """Yield a fault for each slip in diagrams without words, where those of others were read."""
    if catalogue.diagram_slips and not catalogue.faults:
        for slip in PictureSlip:
            if slip not in catalogue.diagram_slips:
                yield Fault(name, "diagram_slip", f'none has the id "{slip}"', "one for each slip")


def _takes_places(name: str, number: int, slip: Slip, catalogue: Catalogue) -> Iterator[Fault]:
    """Yield a remark for each slip read before that is told no more where this one fits."""
    for other in catalogue.slips.values():
        if other is slip:
            return
        if slip.takes_place_of(other):
            found = f'this slip says the same as "{other.name}" ({other.id})'
            yield Fault(name, f"slip[{number}]", found, "that one is not told where both fit")


def _untried(name: str, number: int) -> Fault:
    """Return the remark on a slip that has no wrong line."""
    expected = "a wrong line, where a problem has one"
    return Fault(name, f"slip[{number}].wrong", "this slip is not tried on any line", expected)


def _tried(
    name: str, number: int, slip: Slip, catalogue: Catalogue, problems: Mapping[str, Problem]
) -> Fault | None:
    """Return the fault of a slip's wrong line, None where the slip is told for it."""
    wrong = slip.wrong
    if wrong is None:
        return None
    place = f"slip[{number}].wrong"
    if wrong.problem not in problems:
        found = f'found "{wrong.problem}"{near(wrong.problem, problems)}'
        expected = "a problem that `leverstep problems` lists"
        return Fault(name, f"{place}.problem", found, expected)
    question = problems[wrong.problem].question(wrong.seed)
    if question.trouble:
        return Fault(name, f"{place}.seed", question.trouble, "numbers with an equilibrium")
    keys = [step.key for step in question.derivation.asked]
    if wrong.line not in keys:
        found = f'found "{wrong.line}"{near(wrong.line, keys)}'
        return Fault(name, f"{place}.line", found, "one of " + ", ".join(keys))
    verdict = _judged(question, wrong)
    behind = explained(verdict, catalogue)
    if _is_told(slip, behind):
        return None
    said = _said(verdict, behind, catalogue)
    return Fault(name, f"{place}.entry", said, f'the slip "{slip.name}"')


def _judged(question: Question, wrong: WrongLine) -> Verdict:
    """Return the verdict on a wrong line, with every line before it as worked out."""
    working = Working(question)
    values = question.right
    for step in working.steps:
        if step.key == wrong.line:
            break
        working.enter(step.key, worked_line(question, step, values))
    return working.enter(wrong.line, wrong.entry)


def _is_told(slip: Slip, found: Explained) -> bool:
    """Return whether a slip alone is one of the explanations that a student is told."""
    told = found.explanations[:MOST_TOLD]
    return any({finding.slip for finding in one.findings} == {slip.id} for one in told)


def _said(verdict: Verdict, found: Explained, catalogue: Catalogue) -> str:
    """Return what comes of an entry: the slips found, or why there is none."""
    entry = f'"{verdict.text}"'
    reason = verdict.reason or found.reason
    if verdict.outcome is not Outcome.WRONG or reason:
        return f"{entry}: {verdict.outcome}" + (f", {reason_words(reason)}" if reason else "")
    if not found.explanations:
        return f"{entry} is explained by no slip"
    named = [
        " with ".join(f'"{catalogue.slips[finding.slip].name}"' for finding in one.findings)
        for one in found.explanations
    ]
    return f"{entry} is told as {' or '.join(named)}"
