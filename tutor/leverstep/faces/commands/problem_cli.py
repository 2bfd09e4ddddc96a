"""The commands for problems: list them, show a worked solution, judge one entry."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from leverstep.course.faults import Fault, FileError
from leverstep.course.listing import ASKED, UNITS
from leverstep.course.plain_text import near, shown
from leverstep.faces.commands.usage import add_command, add_json, add_name, seed, whole_number
from leverstep.faces.terminal import say, say_json
from leverstep.working.cautions import CAUTION

if TYPE_CHECKING:
    from leverstep.faces.commands.usage import Commands
    from leverstep.faces.material import Material
    from leverstep.slips.explained import Explained
    from leverstep.working.verdict import Verdict
    from leverstep.working.working import Working


def add_problems(commands: Commands) -> None:
    """Add the command `problems` to a parser."""
    problems = add_command(commands, "problems", "list the problems", "problems --joint knee")
    problems.add_argument("--joint", help="only of this joint")
    problems.add_argument(
        "--class",
        dest="lever",
        type=whole_number,
        choices=(1, 2, 3),
        help="only levers of this class",
    )
    problems.add_argument(
        "--difficulty", type=whole_number, choices=(1, 2, 3), help="only of this difficulty"
    )
    problems.add_argument("--units", choices=UNITS, help="only with these units")
    problems.add_argument("--asks", choices=ASKED, help="only those that ask for this")
    problems.add_argument("--alike", metavar="NAME", help="only those worked as this one is")
    problems.add_argument(
        "--new", type=Path, metavar="FILE", help="write a new problem, asking for what there is"
    )
    problems.add_argument(
        "--text", metavar="NAME", help="print the file of one, to change a copy of it"
    )
    add_json(problems)
    problems.set_defaults(command=_problems)


def add_working(commands: Commands) -> None:
    """Add the command `working` to a parser."""
    example = "working elbow-pail-of-water --seed 7"
    working = add_command(commands, "working", "show the worked solution of a problem", example)
    add_name(working)
    working.add_argument("--seed", type=seed, required=True, help="the numbers to work with")
    add_json(working)
    working.set_defaults(command=_working)


def add_check(commands: Commands) -> None:
    """Add the command `check` to a parser."""
    example = 'check elbow-pail-of-water --seed 7 --step W_l "93.4 N"'
    check = add_command(commands, "check", "judge one entry", example)
    add_name(check)
    check.add_argument("entry", metavar="ENTRY", help="what a student typed")
    check.add_argument("--seed", type=seed, required=True, help="the numbers to work with")
    check.add_argument("--step", required=True, metavar="KEY", help="the line it was typed on")
    check.add_argument(
        "--given", action="append", default=[], metavar="KEY=ENTRY", help="an earlier line"
    )
    add_json(check)
    check.set_defaults(command=_check)


def _new(path: Path, material: Material) -> int:
    """Write a new problem of what the teacher answers, and tell what vetting finds in it."""
    from leverstep.course.new_file import refuse_old, write_new
    from leverstep.course.problem_writing import refuse_ident, text_of_problem
    from leverstep.faces.lines.problem_asking import ProblemAsker
    from leverstep.vetting.vet import vet_file

    refuse_ident(path)
    refuse_old(path)
    joints = dict.fromkeys(card.joint for card in material.shelf.offered)
    try:
        wanted = ProblemAsker(path, joints, say, input).wanted()
    except EOFError:
        print("\nThe input has ended; nothing was written.", file=sys.stderr)
        return 2
    write_new(path, wanted if isinstance(wanted, str) else text_of_problem(wanted))
    say(f"{path} has been written. It is a text file: every line in it can be changed.")
    faults = vet_file(path, material.catalogue).faults
    for fault in faults:
        say(f"To be mended: {fault}")
    if not faults:
        say(f"`leverstep vet` finds no fault. To see it worked: leverstep working {path} --seed 1")
    return 0


def _print_text(name: str, material: Material) -> int:
    """Print the file of a problem as it is."""
    from leverstep.course.problem_examples import text_that_ships
    from leverstep.course.toml import text_of

    shelf, problem = material.shelf, material.shelf.find(name)
    is_own = problem.id in shelf.own or problem.id not in shelf.problems
    own = problem.path if is_own else None
    text = text_that_ships(problem.id) if own is None else text_of(own, own.name)
    sys.stdout.write(text)
    return 0


def _problems(options: argparse.Namespace, material: Material) -> int:
    if options.new is not None:
        return _new(options.new, material)
    if options.text is not None:
        return _print_text(options.text, material)
    shelf = material.shelf
    wanted = {
        "joint": options.joint,
        "class": options.lever,
        "difficulty": options.difficulty,
        "units": options.units,
        "asks": options.asks,
    }
    rows: list[dict[str, object]] = [
        {
            "id": card.id,
            "title": card.title,
            "joint": card.joint,
            "difficulty": card.difficulty,
            "class": card.lever_class,
            "units": card.units,
            "asks": card.asks,
            "own": card.id in shelf.own,
        }
        for card in shelf.offered
    ]
    joints = {str(row["joint"]): None for row in rows}
    if options.joint is not None and options.joint not in joints:
        found = f"found {shown(options.joint)}{near(options.joint, joints)}"
        raise FileError([Fault("--joint", "", found, f"one of {', '.join(joints)}")])
    rows = [row for row in rows if all(v in (None, row[k]) for k, v in wanted.items())]
    if options.alike is not None:
        rows = _alike(options.alike, rows, material)
    if options.json:
        say_json(rows)
        return 0
    if not rows:
        is_alone = options.alike is not None and not any(wanted.values())
        none = _NONE_ALIKE if is_alone else "No problem matches these filters; leave one out."
        print(none, file=sys.stderr)
    width = max((len(str(row["id"])) for row in rows), default=0)
    for row in rows:
        lever = f", class {row['class']}" if row["class"] else ""
        facts = f"{row['joint']}, difficulty {row['difficulty']}{lever}, {row['units']}"
        facts += f", asks for the {row['asks']}"
        facts += ", the same lines" if row.get("same_lines") else ""
        mark = "your own: " if row["own"] else ""
        print(f"{row['id']!s:{width}}  {mark}{row['title']} ({facts})")
    return 0


_NONE_ALIKE = (
    "No other problem is worked as this one is. A drill may pair it with itself, with "
    "other numbers."
)


def _alike(name: str, rows: list[dict[str, object]], material: Material) -> list[dict[str, object]]:
    """Return of some problems the others that are alike in structure to one, the nearest first."""
    from leverstep.course.alike_problems import are_alike, have_same_lines

    one, problems = material.shelf.find(name), material.shelf.problems
    found = [
        row | {"same_lines": have_same_lines(one, problems[str(row["id"])])}
        for row in rows
        if row["id"] != one.id and are_alike(one, problems[str(row["id"])])
    ]
    return sorted(found, key=lambda row: not row["same_lines"])


def _working(options: argparse.Namespace, material: Material) -> int:
    from leverstep.faces.openings import question_to_tell
    from leverstep.working.wording import ask
    from leverstep.working.writing import formula, substituted, value_text, worked_line

    shelf = material.shelf
    question = question_to_tell(shelf.find(options.name), options.seed, shelf)
    values = question.right
    steps = question.derivation.asked
    if options.json:
        rows = [
            {
                "key": step.key,
                "asks": ask(question, step),
                "formula": formula(question, step),
                "substituted": substituted(question, step, values),
                "value": values.get(step.key),
                "text": value_text(step, values[step.key]) if step.key in values else None,
                "unit": step.unit,
            }
            for step in steps
        ]
        answer = {
            "id": question.problem.id,
            "title": question.problem.title,
            "seed": question.seed,
            "statement": question.statement,
            "caution": CAUTION,
            "steps": rows,
        }
        say_json(answer)
        return 0
    print(question.problem.title)
    print(question.statement)
    for step in steps:
        print(f"\n{ask(question, step)} [{step.key}]")
        if not step.kind.is_equation and step.written:
            print(f"  {formula(question, step)}")
        print(f"  {worked_line(question, step, values)}")
    print(f"\n{CAUTION}")
    return 0


def _check(options: argparse.Namespace, material: Material) -> int:
    """Judge one entry after some earlier lines; tell the verdict, its reason and the hints."""
    from leverstep.faces.openings import question_to_tell
    from leverstep.slips.explained import explained
    from leverstep.slips.ladder import hints
    from leverstep.slips.telling import tell
    from leverstep.working.reasons import reason_words
    from leverstep.working.working import Working

    shelf, catalogue = material.shelf, material.catalogue
    working = Working(question_to_tell(shelf.find(options.name), options.seed, shelf))
    asked, earlier = _lines_named(options, working)
    for key, text in earlier:
        given = working.enter(key, text)
        if not given.counts:
            print(f"--given {key}: not read: {reason_words(given.reason)}", file=sys.stderr)
            return 2
    verdict = working.enter(asked, options.entry.strip())
    for fault in catalogue.faults:
        print(fault, file=sys.stderr)
    told = tell(working, verdict, catalogue)
    texts = tuple(hint.text for hint in hints(working, asked, catalogue))
    if options.json:
        say_json(_verdict_as_data(verdict, explained(verdict, catalogue), told, texts))
    else:
        _say_verdict(verdict, told, texts)
    return 0 if verdict.settled else 1


def _lines_named(
    options: argparse.Namespace, working: Working
) -> tuple[str, list[tuple[str, str]]]:
    """Return the key of the line to be judged, and the earlier lines that were given, key and
    entry, in the order of the working. A line may be named as it is shown: `direction`.

    Raises:
        FileError: where one of them names no line.
    """
    from leverstep.working.page import key_named, line_name

    if without := [given for given in options.given if "=" not in given]:
        raise FileError(
            [Fault("--given", "", f"found {shown(one)}", "KEY=ENTRY") for one in without]
        )
    names = [line_name(step) for step in working.steps]

    def key_of(name: str) -> str:
        key = key_named(working.steps, name)
        if key is None:
            found, expected = f"no such line{near(name, names)}", f"one of {', '.join(names)}"
            raise FileError([Fault(name, "", found, expected)])
        return key

    asked, parted = key_of(options.step), [given.partition("=") for given in options.given]
    earlier = [(key_of(name.strip()), text) for name, _, text in parted]
    keys = [step.key for step in working.steps]
    return asked, sorted(earlier, key=lambda line: keys.index(line[0]))


def _verdict_as_data(
    verdict: Verdict, found: Explained, told: str, hints: tuple[str, ...]
) -> dict[str, object]:
    """Return a verdict for JSON."""
    from leverstep.working.reasons import reason_words

    explanations = [
        {
            "sure": explanation.sure,
            "slips": [{"id": f.slip, "line": f.step} for f in explanation.findings],
        }
        for explanation in found.explanations
    ]
    return {
        "line": verdict.step,
        "entry": verdict.text,
        "verdict": str(verdict.outcome),
        "told": told,
        "reason": reason_words(verdict.reason or found.reason),
        "explanations": explanations,
        "hints": [] if verdict.settled else list(hints),
        "caution": CAUTION,
    }


def _say_verdict(verdict: Verdict, told: str, hints: tuple[str, ...]) -> None:
    """Print a verdict, and the hints where the line is not right."""
    print(told)
    if verdict.counts and not verdict.settled:
        for number, text in enumerate(hints, 1):
            print(f"Hint {number}: {text}")
    print(CAUTION)
