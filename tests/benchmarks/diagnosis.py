"""How right the diagnosis is: what the tutor says of the lines of a student made for measuring.

Run as `python tests/benchmarks/diagnosis.py`; `--help` tells the options. The student in the folder
`student` works each problem forward with numbers, and makes wrong moves on the way; it shares no
arithmetic with the tutor. A diagnosis is right where it names the move that was made, or a move
that gives the very number typed.
"""

from __future__ import annotations

import argparse
import hashlib
import itertools
import math
import random
import re
import tempfile
import time
from collections.abc import Iterable, Sequence
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from typing import TextIO

import checkout  # noqa: F401  (before what it finds)
from conventions_kept import whole_workings
from helpers.material import CATALOGUE
from leverstep.course.places import shipped
from leverstep.course.shelf import load_shelf
from leverstep.slips.explained import explained
from leverstep.slips.telling import tell
from leverstep.statics import kinds
from leverstep.working.reasons import reason_words
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.working import Working
from marking import (
    COPIES,
    Desk,
    Place,
    Strand,
    conventions,
    is_tie,
    names,
    outcome_of,
    told_in_short,
    typed,
)
from student.balances import balance, balance_moves
from student.entries import (
    Entry,
    equation,
    equation_moves,
    equation_text,
    shares,
    structural_entries,
)
from student.lines import FIGURES, WORDS, Formula, written
from student.moves import Move, catalogue, moves
from student.right import SIGNED
from student.sheet import Sheet
from tables import TABLES, Tally, show_failures

ONE_OF = ("power-of-ten", *COPIES, "rounded-early", "digits-miscopied")
"""Slips that can be made in many ways: one way of each is tried at a line, drawn at random."""
SKIPPED, PAIRS, RANDOM, STARTS, ARITHMETIC, EQUATIONS = 8, 3, 3, 6, 4, 10
"""How many entries are drawn: for each line, slips on lines skipped, pairs of slips (on the line
and with a line skipped), random values and arithmetic; for each question, wrong lines that are
followed to the end, and equations."""


def try_slips(
    desk: Desk, tally: Tally, measure: str, place: Place, truth: Sequence[Strand]
) -> None:
    """Type what some slips come to, and count what was said."""
    value = place.value(move for strand in truth for move in strand)
    if not math.isfinite(value) or abs(value) > 1e12 or (value and abs(value) < 1e-12):
        return
    text = typed(place.step, value)
    verdict = desk.entered(place, text)
    outcome = outcome_of(desk, place, text, verdict, truth)
    made = " + ".join(
        f"{s[0].slip}@{','.join(m.key for m in s)} {s[0].about} {s[0].other} {s[0].variant}".strip()
        for s in truth
    )
    pair = "one on a line skipped" if place.skipped else "both on the line"
    group = truth[0][0].slip if len(truth) == 1 else pair
    tally.add(measure, group, outcome, f"{made}: {desk.said(place, text, verdict)}")


def drawn(chance: random.Random, found: Iterable[Move]) -> list[Move]:
    """Return moves with one way drawn of each slip that can be made in many."""
    kept: list[Move] = []
    many: dict[str, list[Move]] = {}
    for move in found:
        if move.slip in ONE_OF:
            many.setdefault(move.slip, []).append(move)
        else:
            kept.append(move)
    return kept + [chance.choice(ways) for ways in many.values()]


def single_slips(desk: Desk, tally: Tally, chance: random.Random, place: Place) -> None:
    """Measure 1: one slip at a line, all lines before it right."""
    for move in drawn(chance, moves(desk.sheet, place.key, place.before)):
        try_slips(desk, tally, "one slip", place, [(move,)])


def skipping(place: Place) -> Place:
    """Return a place with the lines that it is worked from not written."""
    skipped = tuple(k for k in place.sheet.uses(place.key, place.before) if k in place.sheet.steps)
    order = [key for key in place.sheet.steps if key in skipped]
    before = {key: value for key, value in place.before.items() if key not in skipped}
    return Place(place.sheet, place.key, before, tuple(order))


def skipped_slips(desk: Desk, tally: Tally, chance: random.Random, place: Place) -> None:
    """Measure 1, with the slip made on a line that was not written; alone, or on all of them."""
    place = skipping(place)
    if place.step.kind.name in WORDS or not place.skipped:
        return
    reach = place.reach()
    earlier = [m for key in place.skipped for m in drawn(chance, reach[key])]
    earlier = [m for m in earlier if m.slip not in COPIES]
    for move in chance.sample(earlier, min(SKIPPED, len(earlier))):
        try_slips(desk, tally, "one slip, line skipped", place, [(move,)])
    for slip in dict.fromkeys(m.slip for m in earlier if m.slip not in ONE_OF):
        ways = [[m for m in reach[key] if m.slip == slip] for key in place.skipped]
        strand = tuple(found[0] for found in ways if len(found) == 1)
        if len(strand) > 1 and all(len(found) < 2 for found in ways):
            try_slips(desk, tally, "same slip on skipped lines", place, [strand])


def two_slips(desk: Desk, tally: Tally, chance: random.Random, place: Place) -> None:
    """Measure 2: two slips, both at a line, or one of them on a line that was not written."""
    if place.step.kind.name in WORDS:
        return
    for where in (place, skipping(place)):
        reach = where.reach()
        here = drawn(chance, reach[place.key])
        earlier = [m for key in where.skipped for m in drawn(chance, reach[key])]
        # A power of ten on a line that is not there fits too much with a second slip to be told.
        earlier = [m for m in earlier if m.slip != "power-of-ten"]
        pairs = (
            list(itertools.product(here, earlier))
            if earlier
            else list(itertools.combinations(here, 2))
        )
        if where is place or earlier:
            for pair in chance.sample(pairs, min(PAIRS, len(pairs))):
                _try_pair(desk, tally, where, pair)


def _try_pair(desk: Desk, tally: Tally, place: Place, pair: tuple[Move, Move]) -> None:
    """Try two moves that can be told apart: both matter, and their order does not."""
    one, other = pair
    both, turned = place.value(pair), place.value((other, one))
    alone = place.value((one,)), place.value((other,))
    copies = {*COPIES, "rounded-early", "digits-miscopied"} & {one.slip, other.slip}
    if copies or one.slip == other.slip or not math.isclose(both, turned, rel_tol=1e-9):
        return
    if not any(math.isclose(both, value, rel_tol=1e-6) for value in alone):
        try_slips(desk, tally, "two slips", place, [(one,), (other,)])


def right_answers(desk: Desk, tally: Tally) -> None:
    """Measure 3: right answers under each convention, rounded as one goes or only when written."""
    question = desk.question
    for constants in conventions(question):
        sheet = Sheet(question, constants)
        for figures in (3, 4, 5):
            for way in ("rounded as one goes", "rounded when written"):
                values = sheet.worked(figures if way == "rounded as one goes" else None)
                working = Working(question)
                for key, step in sheet.steps.items():
                    if not step.kind.is_equation:
                        text = typed(step, values[key], figures)
                        verdict = working.enter(key, text)
                        outcome = "right" if verdict.settled else verdict.outcome.name.lower()
                        said = desk.said(Place(sheet, key, {}), text, verdict)
                        said += f" with {constants}, {figures} figures"
                        tally.add("right answers", way, outcome, said)


def random_values(desk: Desk, tally: Tally, chance: random.Random, place: Place) -> None:
    """Measure 4: random values at a line, all before it right, and with nothing written."""
    right = desk.values[place.key]
    if place.step.kind.name in WORDS or right == 0:
        return
    alone = Place(place.sheet, place.key, {}, tuple(desk.working.lines))
    for measure, where in (("random, lines before", place), ("random, nothing before", alone)):
        for _ in range(RANDOM):
            value = right * 20 ** chance.uniform(-1, 1) * chance.choice((1, -1))
            text = typed(place.step, value)
            if desk.is_right(place, text):
                continue
            verdict = desk.entered(where, text)
            told = (
                explained(verdict, CATALOGUE).explanations[0].sure
                if explained(verdict, CATALOGUE).explanations
                else None
            )
            outcome = {True: "told as sure", False: "asked", None: "nothing told"}[told]
            outcome = outcome if verdict.outcome is Outcome.WRONG else verdict.outcome.name.lower()
            tally.add(measure, place.step.kind.name, outcome, desk.said(where, text, verdict))


def follow_through(desk: Desk, tally: Tally, chance: random.Random) -> None:
    """Measure 5: a wrong line, by a move or by chance, and right work on it to the end."""
    sheet = desk.sheet
    places = [place for place in Desk(desk.question).lines() if place.step.kind.name not in WORDS]
    for place in chance.sample(places, min(STARTS, len(places))):
        found = moves(sheet, place.key, place.before)
        move = chance.choice(drawn(chance, found))
        by_chance = desk.values[place.key] * 2 ** chance.uniform(-1, 1)
        for group, value in (("a slip", place.value([move])), ("by chance", by_chance)):
            if math.isfinite(value) and 1e-9 < abs(value) < 1e9:
                _follow(desk, tally, group, place, value)


def _follow(desk: Desk, tally: Tally, group: str, place: Place, wrong: float) -> None:
    """Work on from a wrong line to the end; count the later lines that rest on it."""
    sheet = desk.sheet
    working = Working(desk.question)
    values, resting, begun = sheet.start(), {place.key}, typed(place.step, wrong)
    for key, step in sheet.steps.items():
        if step.kind.is_equation or (
            step.kind.words == "direction" and not sheet.right(key, values)
        ):
            continue
        try:
            value = wrong if key == place.key else sheet.right(key, values)
            text = typed(step, value)
        except ArithmeticError:
            return
        verdict = working.enter(key, text)
        values[key] = value if step.kind.name in WORDS else float(text.split(" ")[0])
        if key == place.key and verdict.outcome is not Outcome.WRONG:
            return
        if key == place.key:
            continue
        rests = bool(resting & set(sheet.uses(key, values)))
        resting |= {key} if rests else set()
        outcome = "right or followed" if verdict.settled else verdict.outcome.name.lower()
        said = f"{place.key} = {begun}, then {desk.said(Place(sheet, key, {}), text, verdict)}"
        tally.add(
            "follow-through", group if rests else "lines that do not rest on it", outcome, said
        )


def arithmetic(desk: Desk, tally: Tally, chance: random.Random, place: Place) -> None:
    """Measure 6: a line as arithmetic with numbers put in, right and with one thing wrong."""
    if place.step.kind.name in WORDS:
        return
    right, *wrong = structural_entries(desk.sheet, place.key, place.before)
    for entry in [right, *chance.sample(wrong, min(ARITHMETIC, len(wrong)))]:
        verdict = desk.entered(place, entry.text)
        outcome = _arithmetic_outcome(desk, place, entry, verdict)
        said = f"{entry.kind} {entry.about}: {desk.said(place, entry.text, verdict)}"
        tally.add("arithmetic", entry.kind, outcome, said)


def _arithmetic_outcome(desk: Desk, place: Place, entry: Entry, verdict: Verdict) -> str:
    """Return what came of a line as arithmetic; the right one is to be right."""
    number = written(entry.value, FIGURES + 1)
    size = number.removeprefix("-") if place.step.kind.name not in SIGNED else number
    if verdict.outcome is Outcome.UNREAD:
        return "not judged"
    if entry.kind == "right":
        return "right" if verdict.settled else "right called wrong"
    if verdict.settled:
        short = written(entry.value)
        near = desk.is_right(place, short) or desk.follows(place, short)
        return "hidden" if near else "accepted"
    if names_factor(verdict, entry.kind, entry.about):
        return "factor named"
    told = explained(verdict, CATALOGUE).explanations
    if told and any(is_tie(place, told[0], one) for one in (number, size)):
        return "slip named"
    return "another told" if told else "nothing told"


def names_factor(verdict: Verdict, kind: str, about: str) -> bool:
    """Return whether a verdict says what is wrong with one factor, and with which.

    Args:
        verdict: on a line typed as arithmetic.
        kind: what is wrong, as in `Entry.kind`.
        about: the key of the quantity that it is wrong about.
    """
    what = {"replaced": "instead", "term missing": "missing"}.get(kind, kind)
    for found in explained(verdict, CATALOGUE).differences:
        # A sine or cosine is told with its angle, the factor of a unit with its units.
        words = set(re.split(r"[ ()]", f"{found.about} {found.typed}"))
        if found.what == what and (about in words or what == "function"):
            return True
    return False


def equations(desk: Desk, tally: Tally, chance: random.Random) -> None:
    """Measure 7: each equation in symbols, right and with one thing wrong in one term."""
    sheet = desk.sheet
    for step in (step for step in sheet.steps.values() if step.kind.is_equation):
        view = sheet.at(step)
        of_moments = step.kind is kinds.EQUATION
        line = equation(view) if of_moments else balance(view, step)
        made = equation_moves(view) if of_moments else balance_moves(view, step)
        _one_equation(desk, tally, chance, (step.key, line, made))


def _one_equation(
    desk: Desk, tally: Tally, chance: random.Random, asked: tuple[str, Formula, list[Move]]
) -> None:
    """Enter one equation right, then with each of some wrong moves; `asked` has its key first."""
    key, line, made = asked
    working = Working(desk.question)
    verdict = working.enter(key, equation_text(line, chance.random() < 0.5))
    outcome = "right" if verdict.settled else "right called wrong"
    start = f"{desk.question.problem.id} seed {desk.question.seed}"
    tally.add("equations", "right", outcome, f"{start}: {verdict.text}")
    for move in chance.sample(made, min(EQUATIONS, len(made))):
        text = equation_text(move.edit(line), chance.random() < 0.5)
        verdict = working.enter(key, text)
        outcome = _equation_outcome(line, made, move, verdict)
        told = told_in_short(verdict) or reason_words(verdict.reason)
        said = (
            f"{move.slip} {move.about} {move.other}: {start}: {text} -> {verdict.outcome}: {told}"
        )
        tally.add("equations", move.slip, outcome, said)


def _equation_outcome(line: Formula, made: Sequence[Move], move: Move, verdict: Verdict) -> str:
    """Return what came of an equation with one wrong move."""
    symbols = tuple(dict.fromkeys(term.about for term in line.terms))

    def same(one: Formula, other: Formula) -> bool:
        pairs = zip(shares(one, symbols), shares(other, symbols), strict=True)
        return all(math.isclose(a, b, rel_tol=1e-9, abs_tol=1e-9) for a, b in pairs)

    if verdict.outcome is Outcome.UNREAD:
        return "not judged"
    if verdict.settled:
        return "hidden" if same(move.edit(line), line) else "accepted"
    if not explained(verdict, CATALOGUE).explanations:
        return "nothing told"
    first = explained(verdict, CATALOGUE).explanations[0]
    if names(first, [(move,)]):
        return "named"
    ways = [[m for m in made if m.slip == f.slip and m.about in f.abouts] for f in first.findings]
    for chosen in itertools.product(*ways):
        typed_again = line
        for one in chosen:
            typed_again = one.edit(typed_again)
        if same(typed_again, move.edit(line)):
            return "tie"
    return "another told"


def same_as_reference(desk: Desk, tally: Tally) -> None:
    """Count where the student's right values are not those of the tutor, to nine figures."""
    theirs = desk.question.graph.values(desk.question.numbers, {})
    for key, step in desk.sheet.steps.items():
        if not step.kind.is_equation:
            own = desk.sheet.reference[key]
            same = math.isclose(own, theirs[key], rel_tol=1e-9, abs_tol=1e-9)
            said = (
                f"{desk.question.problem.id} seed {desk.question.seed}: {key} {own} {theirs[key]}"
            )
            tally.add("student and tutor", "right values", "same" if same else "not the same", said)


def note_verdicts(file: TextIO) -> None:
    """Have every verdict of this process written to a file, with what was typed and is told."""
    enter = Working.enter

    def noted(working: Working, key: str, text: str) -> Verdict:
        verdict = enter(working, key, text)
        told = tell(working, verdict, CATALOGUE)
        file.write(f"{working.question.seed} {key} {text} -> {verdict.outcome}: {told}\n")
        return verdict

    Working.enter = noted  # type: ignore[method-assign]


def measure_problem(ident: str, seeds: int, verdicts: Path | None = None) -> Tally:
    """Return the tally of one problem over its seeds; write every verdict to a folder if named."""
    if verdicts is None:
        return measured(ident, seeds)
    enter = Working.enter
    with (verdicts / f"{ident}.txt").open("w", encoding="utf-8") as file:
        note_verdicts(file)
        tally = measured(ident, seeds)
    Working.enter = enter  # type: ignore[method-assign]
    return tally


def measured(ident: str, seeds: int) -> Tally:
    """Return the tally of one problem over its seeds."""
    tally = Tally()
    problem = load_shelf([shipped("problems")]).problems[ident]
    for seed in range(1, seeds + 1):
        desk = Desk(problem.question(str(seed)))
        chance = random.Random(f"{ident} {seed}")
        same_as_reference(desk, tally)
        right_answers(desk, tally)
        follow_through(desk, tally, chance)
        equations(desk, tally, chance)
        for place in desk.lines():
            single_slips(desk, tally, chance, place)
            skipped_slips(desk, tally, chance, place)
            two_slips(desk, tally, chance, place)
            random_values(desk, tally, chance, place)
            arithmetic(desk, tally, chance, place)
        whole_workings(desk, tally, chance)
    return tally


def digest_of(idents: Sequence[str], verdicts: Path) -> str:
    """Return the SHA-256 of all verdicts that were written to a folder, problem by problem."""
    digest = hashlib.sha256()
    for ident in idents:
        digest.update((verdicts / f"{ident}.txt").read_bytes())
    return digest.hexdigest()


def measure_all(idents: Sequence[str], seeds: int, verdicts: Path | None) -> Tally:
    """Return the tally of several problems, each worked by one process."""
    tally = Tally()
    with ProcessPoolExecutor() as pool:
        given = itertools.repeat(seeds), itertools.repeat(verdicts)
        for found in pool.map(measure_problem, idents, *given):
            tally.include(found)
    return tally


def main() -> None:
    """Measure every problem that is offered, and print the tables."""
    shelf = [problem.id for problem in load_shelf([shipped("problems")]).offered]
    parser = argparse.ArgumentParser(description="Measure how right the diagnosis is.")
    parser.add_argument("--seeds", type=int, default=20, help="sets of numbers for each problem")
    parser.add_argument("--problem", choices=sorted(shelf), metavar="ID", help="only this one")
    parser.add_argument("--groups", action="store_true", help="print each slip and kind of line")
    told = "write every verdict to this folder, to lay two versions side by side with diff"
    parser.add_argument("--verdicts", type=Path, metavar="DIR", help=told)
    parser.add_argument("--digest", action="store_true", help="print the SHA-256 of every verdict")
    parser.add_argument("--list", action="store_true", help="print the first failures too")
    chosen = parser.parse_args()
    idents = [ident for ident in shelf if chosen.problem in (None, ident)]
    start = time.perf_counter()
    with tempfile.TemporaryDirectory() as folder:
        verdicts = chosen.verdicts or (Path(folder) if chosen.digest else None)
        if verdicts is not None:
            verdicts.mkdir(parents=True, exist_ok=True)
        tally = measure_all(idents, chosen.seeds, verdicts)
        if chosen.digest:
            print(f"all verdicts: {digest_of(idents, verdicts)}\n")
    print(
        f"{len(idents)} problems, {chosen.seeds} seeds each, {time.perf_counter() - start:.0f} s\n"
    )
    for table in TABLES:
        table.sum_up(tally)
    met = {group for measure, group, _ in tally.counts if measure in ("one slip", "equations")}
    print("\nslips never made:", ", ".join(sorted(catalogue().keys() - met)) or "none")
    for table in TABLES if chosen.groups else ():
        table.show(tally)
    if chosen.list:
        show_failures(tally)


if __name__ == "__main__":
    main()
