"""Whether the report of a term finds the weaknesses of its students again.

Run as `python tests/benchmarks/term.py [STUDENTS]`. Four sections sit six drills of two problems.
Each section has a weakness of its own, which most of its students have, and some of the others: a
slip, and the drills in which it is made, most of the times that it can be. The slips are made by
the benchmark's student, who shares no arithmetic with the tutor and keeps account of what was
typed; each is put right at the second try. In the year before, the first weakness was commoner.
Both years are marked, and what the report says is compared with the account.
"""

from __future__ import annotations

import random
import resource
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator, Mapping
from concurrent.futures import Executor
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path

import checkout  # noqa: F401  (before what it finds)
from helpers.drill_sittings import END, SHELF, entry, record, right_entry
from helpers.material import CATALOGUE
from leverstep.course.decimals import half_up
from leverstep.course.problem import Question
from leverstep.drill.drill import Drill
from leverstep.drill.drill_file import read_drill
from leverstep.faces.crash import workers
from leverstep.faces.terminal import look_for_garbage_seldom
from leverstep.term.slips_followed import AVOIDED, MADE, SILENT, is_back, next_signs
from leverstep.term.term_change import changed
from leverstep.term.term_figures import StudentTerm
from leverstep.term.term_marking import MarkedTerm, codes_noted, mark_term
from leverstep.term.term_plan import TermPlan, read_term
from machine import machine
from marking import Place, typed
from student.lines import FIGURES, WORDS, rounded
from student.moves import Move, moves
from student.sheet import Sheet

STUDENTS, OFTEN, SAT, APART = 120, 0.85, 0.95, 0.05
"""How many there are; how often a weakness shows where it can; how often a drill is sat; how far a
slip lies from what is right, as a share of it, or it is not made."""

MISTAKEN = 0.05
"""How often a line without a slip is typed wrong at first for no reason at all."""

UNIT = 2**20 if sys.platform == "darwin" else 2**10

PROBLEMS = (
    ("plain-wheelbarrow", "elbow-kettlebell"),
    ("plain-seesaw", "elbow-pail-of-water"),
    ("plain-lamp-bracket", "knee-curl-back"),
    ("wrist-flat-tray", "elbow-table-push"),
    ("knee-stool-hold", "shoulder-level-broom"),
    ("wrist-hammer", "hip-one-leg-stance"),
)
"""The problems of each drill."""

WEAKNESSES = {
    "L1": "kilograms-left",
    "L2": "arm-left-out-of-moment",
    "L3": "sign-of-a-moment",
    "L4": "ratio-upside-down",
}
"""The weakness of each section."""

SHAPES = ("xxxxxx", "xxoooo", "xxooxx", "oooxxx")
"""In which drills a weakness shows: it stays, goes, comes back, or comes late."""

OWN, OTHERS = 0.6, 0.2
"""How likely a student has the weakness of the own section, and that of another."""

COMMONER = 0.25
"""So much likelier everybody had the first weakness in the year before."""

WRONG_TRY = Fraction(1, 2)


@dataclass
class Account:
    """What one student did, by the student's own account: tracks by slip, shares by drill."""

    section: str
    weak: Mapping[str, str]
    tracks: dict[str, list[str]] = field(default_factory=dict)
    shares: dict[int, Fraction] = field(default_factory=dict)

    def note(self, slip: str, place: int, sign: str) -> None:
        """Note what a line of a drill shows of a slip; what was made once was made."""
        track = self.tracks.setdefault(slip, [SILENT] * len(PROBLEMS))
        track[place] = MADE if MADE in (sign, track[place]) else sign

    def track(self, slip: str) -> str:
        """Return the track of a slip as the report keeps it: from the drill where it was made."""
        track = "".join(self.tracks.get(slip, []))
        first = track.find(MADE)
        return "" if first < 0 else (SILENT * first + track[first:]).rstrip(SILENT)


def class_of(draw: random.Random, size: int, commoner: float) -> dict[str, Account]:
    """Return the accounts of a class before its first drill, by the ids of its students."""
    accounts = {}
    for number in range(size):
        section = list(WEAKNESSES)[number % len(WEAKNESSES)]
        weak = {}
        for whose, slip in WEAKNESSES.items():
            likely = (OWN if whose == section else OTHERS) + commoner * (whose == "L1")
            if draw.random() < likely:
                weak[slip] = draw.choice(SHAPES)
        accounts[f"s{number:04}"] = Account(section, weak)
    return accounts


def ways(sheet: Sheet, key: str, values: Mapping[str, float]) -> dict[str, tuple[Move, float]]:
    """Return the weaknesses that can be seen at a line, each with one way to make it."""
    place, right = Place(sheet, key, values), Place(sheet, key, values).value([])
    found = {}
    for move in moves(sheet, key, values):
        value = place.value([move])
        if move.slip in WEAKNESSES.values() and abs(value - right) > APART * abs(right):
            found.setdefault(move.slip, (move, value))
    return found


def worked(
    question: Question, account: Account, place: int, draw: random.Random
) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield what a student types at each line of a problem: a slip first, where one is made."""
    sheet = Sheet(question)
    values = sheet.start()
    for key, step in sheet.steps.items():
        if step.kind.is_equation:
            yield key, (right_entry(question, step),)
            continue
        can = {} if step.kind.name in WORDS else ways(sheet, key, values)
        weak = [one for one in can if account.weak.get(one, "")[place : place + 1] == MADE]
        made = next((one for one in weak if draw.random() < OFTEN), None)
        right = rounded(sheet.right(key, values), FIGURES, step.kind.name)
        shown = typed(step, Place(sheet, key, values).value([]))
        if made is not None:
            account.note(made, place, MADE)
            yield key, (typed(step, can[made][1]), shown)
        elif step.kind.is_number and draw.random() < MISTAKEN:
            factor = draw.choice((draw.uniform(0.5, 0.9), draw.uniform(1.1, 2)))
            yield key, (typed(step, factor * Place(sheet, key, values).value([])), shown)
        else:
            for slip in can:
                account.note(slip, place, AVOIDED)
            yield key, (shown,)
        values[key] = right


def sit(drill: Drill, student: str, account: Account, place: int, draw: random.Random) -> bytes:
    """Return the record of a student in a drill, and note its marks in the account."""
    lines, earned = [], Fraction(0)
    for task in drill.tasks(student):
        shares = []
        for key, texts in worked(task.question, account, place, draw):
            lines += [entry(key, text, task.number) for text in texts]
            shares.append(1 - WRONG_TRY * (len(texts) - 1))
        marks = task.marks * sum(shares, Fraction(0)) / len(shares)
        earned += Fraction(half_up(100 * marks), 100)
    account.shares[place] = earned / drill.marks
    return record(drill, student, [*lines, END])


def write_year(folder: Path, year: str, size: int, commoner: float = 0.0) -> dict[str, Account]:
    """Write the drills of a year with its records and its plan; return the accounts."""
    draw = random.Random(year)
    accounts = class_of(draw, size, commoner)
    (folder / "records").mkdir(parents=True)
    roster = "".join(f"{one},Student {one},{a.section}\n" for one, a in accounts.items())
    (folder / "class.csv").write_text(f"id,name,section\n{roster}", "utf-8")
    plan = f'title = "{year}"\nlowest_left_out = 1\n'
    for place, names in enumerate(PROBLEMS):
        text = f'id = "{year}-{place}"\ntitle = "Drill {place}"\nroster = "class.csv"\n'
        text += f"[marking]\nwrong_try = {float(WRONG_TRY)}\n"
        text += "".join(f'[[item]]\nproblem = "{name}"\n' for name in names)
        (folder / f"{place}.toml").write_text(text, "utf-8")
        plan += f'[[drill]]\nfile = "{place}.toml"\nname = "drill {place + 1}"\n'
        drill = read_drill(folder / f"{place}.toml", SHELF.problems)
        for student, account in accounts.items():
            if draw.random() < SAT:
                data = sit(drill, student, account, place, draw)
                (folder / "records" / f"{place}-{student}.jsonl").write_bytes(data)
    (folder / "course.toml").write_text(plan, "utf-8")
    return accounts


def compare(accounts: Mapping[str, Account], marked: MarkedTerm) -> None:
    """Print how far the report and the accounts agree: on marks, slips, and what became of them."""
    students = {one.student.id: one for one in marked.students}
    sat = [(ident, place) for ident, one in accounts.items() for place in one.shares]
    alike = sum(students[i].student.shares.get(p) == accounts[i].shares[p] for i, p in sat)
    print(f"\nmarks of a student in a drill: {len(sat)}, as reckoned by the student: {alike}")
    print(f"\n{'in the account / in the report':30}{'students':>10}", end="")
    print("".join(f"{name:>12}" for name in ("made", "met again", "staying", "gone", "back")))
    both: Counter[str] = Counter()
    for slip in WEAKNESSES.values():
        reason = CATALOGUE.slips[slip].reason
        tracks = [one.track(slip) for one in accounts.values()]
        (found,) = (one for one in marked.figures.slips if one.reason == reason)
        truth = counts([one for one in tracks if one])
        told = (found.students, sum(found.made), found.met, found.stayed, found.gone, found.back)
        cells = [f"{one} / {other}" for one, other in zip(truth, told, strict=True)]
        print(f"{slip:30}{cells[0]:>10}" + "".join(f"{cell:>12}" for cell in cells[1:]))
        for ident, account in accounts.items():
            both.update(agreed(account.track(slip), students[ident].student.tracks.get(reason, "")))
    print(
        f"\nslips made, by student, drill and slip: {both['made']}, found {both['found']}, ", end=""
    )
    print(f"told where none was made {both['false']}")
    print(f"whole tracks of a student: {both['tracks']}, the same in the report {both['same']}")
    given = {CATALOGUE.slips[slip].reason for slip in WEAKNESSES.values()}
    others = [one for one in marked.figures.slips if one.reason not in given]
    print(f"slips told that nobody made: {[(one.name, sum(one.made)) for one in others] or 'none'}")


def counts(tracks: list[str]) -> tuple[int, ...]:
    """Return what the report should say of tracks: students, made, met, staying, gone, back."""
    after = [sign for track in tracks for sign in next_signs(track)]
    made = sum(track.count(MADE) for track in tracks)
    stayed = after.count(MADE)
    return len(tracks), made, len(after), stayed, len(after) - stayed, sum(map(is_back, tracks))


def agreed(truth: str, told: str) -> Iterator[str]:
    """Yield in words how two tracks agree."""
    for made, found in zip(truth.ljust(99), told.ljust(99), strict=True):
        yield from ["made"] * (made == MADE)
        yield from ["found"] * (made == found == MADE)
        yield from ["false"] * (found == MADE != made)
    if truth:
        yield "tracks"
        yield from ["same"] * (truth == told.rstrip(SILENT))


def of_sections(plan: TermPlan, pool: Executor) -> int:
    """Print which slip most students of each section make; return how many are those given."""
    right = 0
    for section, slip in WEAKNESSES.items():
        part = plan.for_part(None, section)
        marked = mark_term(part, CATALOGUE, pool, codes_noted(part))
        first = marked.figures.slips[0]
        right += first.reason == CATALOGUE.slips[slip].reason
        print(
            f"{section}: given {slip}; first in its report: {first.name}, {first.students} students"
        )
    return right


def totals(students: tuple[StudentTerm, ...]) -> Fraction:
    """Return the mean of all totals."""
    known = [one.total for one in students if one.total is not None]
    return sum(known, Fraction(0)) / len(known)


def main() -> None:
    """Make two years, mark them, and print what was found again."""
    look_for_garbage_seldom()
    size = int(sys.argv[1]) if len(sys.argv) > 1 else STUDENTS
    print(machine())
    with tempfile.TemporaryDirectory() as home, workers() as pool:
        folder, before = Path(home) / "now", Path(home) / "then"
        accounts = write_year(folder, "now", size)
        write_year(before, "then", size, COMMONER)
        plan = read_term(folder / "course.toml", SHELF.problems)
        start = time.perf_counter()
        marked = mark_term(plan, CATALOGUE, pool, codes_noted(plan))
        spent = time.perf_counter() - start
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / UNIT
        records = sum(len(one.shares) for one in accounts.values())
        print(f"{size} students, {records} records, marked in {spent:.0f} s, peak {peak:.0f} MB")
        compare(accounts, marked)
        print()
        right = of_sections(plan, pool)
        print(f"sections whose weakness comes first in their report: {right} of {len(WEAKNESSES)}")
        plan_before = read_term(before / "course.toml", SHELF.problems)
        earlier = mark_term(plan_before, CATALOGUE, pool, codes_noted(plan_before))
        change = changed(earlier.figures, marked.figures)
        means = (100 * float(totals(one.students)) for one in (earlier, marked))
        print("\nmean total then {:.1f} %, now {:.1f} %".format(*means))
        if change.total.interval:
            low, high = change.total.interval
            print(f"95 % of the difference: {100 * low:+.1f} to {100 * high:+.1f} points")
        for one in change.slips:
            print(f"{one.name}: {one.then} then, {one.now} now, more than chance: {one.is_sure}")


if __name__ == "__main__":
    main()
