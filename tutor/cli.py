"""The command line.

Exit codes: 0 done, 1 a wrong entry in `check`, 2 wrong usage or a broken file.
"""

from __future__ import annotations

import argparse
import json
import os
import re
import sys
from collections.abc import Callable, Sequence
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

from tutor.board_cli import add_board
from tutor.completion_cli import add_completion
from tutor.course.faults import Fault, FileError, near, shown
from tutor.course.kinds import ASKED, UNITS
from tutor.course.places import LIBRARY
from tutor.drill_cli import add_drill
from tutor.explore_cli import add_explore
from tutor.progress_cli import add_progress
from tutor.sheet_cli import add_sheet
from tutor.terminal import is_plain, not_written, open_streams, say
from tutor.usage import Usage, whole_number, wrong
from tutor.working.guidance import Guidance

if TYPE_CHECKING:
    from tutor.course.problem import Problem
    from tutor.course.shelf import Shelf
    from tutor.vetting.vet import Report

    Command = Callable[[argparse.Namespace, Shelf], int]
    Commands = argparse._SubParsersAction[argparse.ArgumentParser]


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line and return its exit code."""
    open_streams()
    for stream in (sys.stdin, sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")
    typed = sys.argv[1:] if arguments is None else arguments
    try:
        code = _run(_parser().parse_args([_as_entry(argument) for argument in typed]))
        sys.stdout.flush()  # so that a reader who has gone is noticed here
        return code
    except BrokenPipeError:
        _forget_output()  # whoever read it has gone; nothing more can be said
        return 0
    except OSError as error:
        _forget_output()
        print(not_written(error), file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        return 130


def _as_entry(argument: str) -> str:
    """Return an argument such as `-3.1 N·m` so that argparse takes it for an entry, no option."""
    return f" {argument}" if re.match(r"-[0-9.(]|-[A-Za-z]+_", argument) else argument


def _seed(text: str) -> str:
    """Return what the numbers are drawn from: a number, or a short word."""
    from tutor.course.numbers import LONGEST_SEED, is_seed

    if not is_seed(text.strip()):
        raise wrong(text, f"1 to {LONGEST_SEED} printable characters")
    return text.strip()


def _run(options: argparse.Namespace) -> int:
    if options.version:
        print(f"leverstep {_version()}")
        return 0
    try:
        _add_libraries(options.own_folders)
        return _run_command(options)
    except FileError as error:
        print(error, file=sys.stderr)
        return 2


def _add_libraries(folders: Sequence[str]) -> None:
    """Have folders of the teacher's own read, before those that the room names."""
    absent = [folder for folder in folders if not os.path.isdir(folder)]
    if absent:
        found, expected = "there is no such folder", "a folder of your own problems and hints"
        raise FileError([Fault(f"--library {folder}", "", found, expected) for folder in absent])
    named = [*folders, *filter(None, [os.environ.get(LIBRARY)])]
    if named:
        os.environ[LIBRARY] = os.pathsep.join(named)


def _run_command(options: argparse.Namespace) -> int:
    if options.command is _open and options.name is None and not is_plain(options.plain):
        from tutor.screens.app import run_app

        return run_app(say)  # which reads the problems once its first screen is up
    from tutor.course.shelf import load_shelf

    shelf = load_shelf()
    for line in shelf.left_out:
        print(line, file=sys.stderr)
    command: Command = options.command
    return command(options, shelf)


def _forget_output() -> None:
    """Send what is still to be written nowhere, so that the end of the program does not fail."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _parser() -> argparse.ArgumentParser:
    parser: argparse.ArgumentParser = Usage(
        prog="leverstep",
        description="Practise joint statics line by line: from a posture to muscle force, "
        "mechanical advantage and joint reaction.",
        epilog="example: leverstep practise elbow-full-pail",
        parents=[_library([])],
    )
    parser.add_argument("--version", action="store_true", help="show the version")
    parser.set_defaults(command=_open, name=None, seed=None, own=[], plain=False, go_on=False)
    parser.set_defaults(guidance=Guidance.LINES)
    commands = parser.add_subparsers(title="commands", metavar="COMMAND")
    for add in (_add_practise, _add_problems, _add_working, _add_check, _add_vet):
        add(commands)
    add_explore(commands, _command, _seed)
    add_drill(commands, _command)
    add_progress(commands, _command)
    add_board(commands, _command, _seed)
    add_sheet(commands, _command, _seed)
    add_completion(commands, _command, parser)
    return parser


def _library(default: object) -> argparse.ArgumentParser:
    """Return the option that every command has: a folder of the teacher's own."""
    parser = argparse.ArgumentParser(add_help=False)
    parser.add_argument(
        "--library", action="append", dest="own_folders", default=default, metavar="DIR",
        help="a folder of your own problems and hints, beside those that ship",
    )  # fmt: skip
    return parser


def _command(
    commands: Commands, name: str, help_text: str, example: str
) -> argparse.ArgumentParser:
    """Return the parser of a new command."""
    return commands.add_parser(
        name,
        help=help_text,
        epilog=f"example: leverstep {example}",
        parents=[_library(argparse.SUPPRESS)],
    )


def _add_practise(commands: Commands) -> None:
    practise = _command(commands, "practise", "work a problem", "practise elbow-full-pail --plain")
    practise.add_argument("name", metavar="NAME", help="a problem, or the path of a problem file")
    practise.add_argument(
        "--seed", type=_seed, help="the numbers to work with (new ones unless given)"
    )
    practise.add_argument(
        "--go-on", action="store_true", help="go on with the last working that is not finished"
    )
    practise.add_argument(
        "--own", action="append", default=[], metavar="SYMBOL=VALUE",
        help="a number measured on your own body, for a problem that takes it",
    )  # fmt: skip
    practise.add_argument(
        "--guidance", choices=[str(degree) for degree in Guidance], default=Guidance.LINES,
        help="how far you are led: every line is asked for, landmarks only, or a blank sheet",
    )  # fmt: skip
    practise.add_argument("--plain", action="store_true", help="plain lines, for screen readers")
    practise.set_defaults(command=_open)


def _add_problems(commands: Commands) -> None:
    problems = _command(commands, "problems", "list the problems", "problems --joint knee")
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
    problems.add_argument("--asks", choices=ASKED, help="only where this is to be found")
    problems.add_argument("--json", action="store_true", help="as JSON")
    problems.set_defaults(command=_problems)


def _add_working(commands: Commands) -> None:
    example = "working elbow-full-pail --seed 7"
    working = _command(commands, "working", "show the worked solution of a problem", example)
    working.add_argument("name", metavar="NAME", help="a problem, or the path of a problem file")
    working.add_argument("--seed", type=_seed, required=True, help="the numbers to work with")
    working.add_argument("--json", action="store_true", help="as JSON")
    working.set_defaults(command=_working)


def _add_check(commands: Commands) -> None:
    example = 'check elbow-full-pail --seed 7 --step W_l "48.9 N"'
    check = _command(commands, "check", "judge one entry", example)
    check.add_argument("name", metavar="NAME", help="a problem, or the path of a problem file")
    check.add_argument("entry", metavar="ENTRY", help="what a student typed")
    check.add_argument("--seed", type=_seed, required=True, help="the numbers to work with")
    check.add_argument("--step", required=True, metavar="KEY", help="the line it was typed at")
    check.add_argument(
        "--given", action="append", default=[], metavar="KEY=ENTRY", help="an earlier line"
    )
    check.add_argument("--json", action="store_true", help="as JSON")
    check.set_defaults(command=_check)


def _add_vet(commands: Commands) -> None:
    vet = _command(commands, "vet", "look for faults in your own files", "vet my-course/")
    vet.add_argument(
        "paths", nargs="*", type=Path, metavar="PATH",
        help="files of problems, hints or drills, and folders (all that ship unless given)",
    )  # fmt: skip
    vet.add_argument("--json", action="store_true", help="as JSON")
    vet.set_defaults(command=_vet)


def _vet(options: argparse.Namespace, shelf: Shelf) -> int:
    """Vet files of problems and of hints; all that ship where no path is given."""
    from tutor.course.places import shipped
    from tutor.course.shelf import problem_files
    from tutor.drill.drill_file import is_drill_file
    from tutor.drill_cli import vet_drills
    from tutor.slips.catalogue import load_catalogue
    from tutor.vetting.vet import vet_files
    from tutor.vetting.vet_hints import is_hint_file, vet_hint_files

    paths = list(problem_files(options.paths or [shipped("problems"), shipped("hints")]))
    if not paths:
        where = ", ".join(str(path) for path in options.paths)
        raise FileError([Fault(where, "", "no file is there to vet", "files that end in .toml")])
    hints = [path for path in paths if is_hint_file(path)]
    drills = [path for path in paths if is_drill_file(path)]
    problems = [path for path in paths if path not in (*hints, *drills)]
    catalogue = load_catalogue([], [shipped("hints")])  # without those that are broken
    reports = [*vet_files(problems, catalogue), *vet_hint_files(hints, shelf.problems)]
    reports += vet_drills(drills, shelf, catalogue)
    if options.json:
        print(json.dumps([_report(one) for one in reports], indent=2, ensure_ascii=False))
    for report in () if options.json else reports:
        for fault in report.faults:
            print(fault)
        if not report.faults:
            print(f"{report.file}: no fault")
        for span in report.spans:
            print(f"  {span.step.key:8} {span.text}")
        for remark in report.remarks:
            print(f"  remark: {remark.key}: {remark.found}")
    return 2 if any(report.faults for report in reports) else 0


def _report(report: Report) -> dict[str, object]:
    """Return a report of vetting for JSON."""
    return {
        "file": report.file,
        "faults": [asdict(fault) for fault in report.faults],
        "remarks": [asdict(remark) for remark in report.remarks],
        "answers": [
            {"line": s.step.key, "unit": s.step.unit, "low": s.low, "high": s.high}
            for s in report.spans
        ],
    }


def _version() -> str:
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version("leverstep")
    except PackageNotFoundError:  # run from a clone that was never installed
        return "(not installed)"


def _open(options: argparse.Namespace, shelf: Shelf) -> int:
    """Open a problem on the full screen, or line by line."""
    problem = _first(shelf) if options.name is None else shelf.find(options.name)
    shelf = shelf.including(problem)
    record = _last_unfinished(shelf, problem) if options.go_on else None
    if is_plain(options.plain):
        return _plain(shelf, problem, options, record)
    from tutor.screens.app import run_app
    from tutor.screens.opening import Opening

    guidance = Guidance(options.guidance)
    opening = Opening(problem, options.seed or "", record, tuple(options.own), guidance)
    return run_app(say, opening, shelf)


def _last_unfinished(shelf: Shelf, problem: Problem) -> Path:
    """Return the record of the last working of a problem that is not finished."""
    from tutor.drill.practice import unfinished

    for one in unfinished(shelf):
        if one.problem is problem:
            return one.path
    expected = "a working begun before; leave out --go-on to begin one"
    raise FileError([Fault(problem.id, "", "nothing is unfinished", expected)])


def _first(shelf: Shelf) -> Problem:
    """Return the problem to begin with: the easiest of the shelf, by title."""
    if not shelf.cards:
        raise FileError(shelf.faults)
    easiest = min(shelf.cards, key=lambda card: (card.difficulty, card.title))
    return shelf.problems[easiest.id]


def _plain(shelf: Shelf, problem: Problem, options: argparse.Namespace, record: Path | None) -> int:
    from tutor.drill.practice import Practice, new_seed, unfinished
    from tutor.drill.record import RecordError
    from tutor.line import LineMode
    from tutor.working.own import OwnError, read_own

    try:
        if record is None:
            if options.seed is None and any(one.problem is problem for one in unfinished(shelf)):
                say(f"There is an unfinished working: practise {problem.id} --go-on takes it up.")
            own = read_own(problem, options.own)
            guidance = Guidance(options.guidance)
            seed = options.seed or new_seed()
            practice = Practice.start(problem, seed, own=own, guidance=guidance)
        else:
            practice = Practice.resume(record, shelf)
    except OwnError as error:
        print(f"--own: {error}", file=sys.stderr)
        return 2
    except RecordError as error:
        print(error, file=sys.stderr)
        return 2
    for fault in practice.catalogue.faults:
        print(fault, file=sys.stderr)
    LineMode(practice, say, input).run()
    return 0


def _problems(options: argparse.Namespace, shelf: Shelf) -> int:
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
        for card in shelf.cards
    ]
    joints = {str(row["joint"]): None for row in rows}
    if options.joint is not None and options.joint not in joints:
        found = f"found {shown(options.joint)}{near(options.joint, joints)}"
        raise FileError([Fault("--joint", "", found, f"one of {', '.join(joints)}")])
    rows = [row for row in rows if all(v in (None, row[k]) for k, v in wanted.items())]
    if options.json:
        print(json.dumps(rows, indent=2, ensure_ascii=False))
        return 0
    if not rows:
        print("No problem is all of that; leave an option out.", file=sys.stderr)
    width = max((len(str(row["id"])) for row in rows), default=0)
    for row in rows:
        lever = f", class {row['class']}" if row["class"] else ""
        facts = f"{row['joint']}, difficulty {row['difficulty']}{lever}, {row['units']}"
        facts += f", asks for the {row['asks']}"
        mark = "your own: " if row["own"] else ""
        print(f"{row['id']!s:{width}}  {mark}{row['title']} ({facts})")
    return 0


def _working(options: argparse.Namespace, shelf: Shelf) -> int:
    from tutor.drill.practice import sound
    from tutor.working.wording import CAUTION, ask
    from tutor.working.writing import formula, substituted, value_text, worked_line

    question = sound(shelf.find(options.name).question(options.seed))
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
        print(json.dumps(answer, indent=2, ensure_ascii=False))
        return 0
    print(question.problem.title)
    print(question.statement)
    for step in steps:
        print(f"\n{ask(question, step)} [{step.key}]")
        if step.kind != "equation" and step.written:
            print(f"  {formula(question, step)}")
        print(f"  {worked_line(question, step, values)}")
    print(f"\n{CAUTION}")
    return 0


def _check(options: argparse.Namespace, shelf: Shelf) -> int:
    from tutor.drill.practice import sound
    from tutor.slips.catalogue import catalogue_in_use
    from tutor.slips.opening import open_working
    from tutor.slips.telling import hints, tell

    working = open_working(sound(shelf.find(options.name).question(options.seed)))
    keys = [step.key for step in working.steps]
    if without := [given for given in options.given if "=" not in given]:
        raise FileError(
            [Fault("--given", "", f"found {shown(one)}", "KEY=ENTRY") for one in without]
        )
    earlier = [given.partition("=") for given in options.given]
    for key in [options.step, *(key.strip() for key, _, _ in earlier)]:
        if key not in keys:
            print(
                f"{key}: no such line{near(key, keys)}; expected one of {', '.join(keys)}",
                file=sys.stderr,
            )
            return 2
    for key, _, text in sorted(earlier, key=lambda part: keys.index(part[0].strip())):
        given = working.enter(key.strip(), text)
        if not given.counts:
            print(f"--given {key}: not read: {given.reason}", file=sys.stderr)
            return 2
    verdict = working.enter(options.step, options.entry.strip())
    catalogue = catalogue_in_use()
    for fault in catalogue.faults:
        print(fault, file=sys.stderr)
    told = tell(working, verdict, catalogue)
    texts = hints(working, options.step, catalogue)
    if options.json:
        explanations = [
            {
                "sure": explanation.sure,
                "slips": [{"id": f.slip, "line": f.step} for f in explanation.findings],
            }
            for explanation in verdict.explanations
        ]
        answer = {
            "line": verdict.step,
            "entry": verdict.text,
            "verdict": str(verdict.outcome),
            "told": told,
            "reason": verdict.reason,
            "explanations": explanations,
            "hints": [] if verdict.settled else list(texts),
        }
        print(json.dumps(answer, indent=2, ensure_ascii=False))
    else:
        print(told)
        if verdict.counts and not verdict.settled:
            for number, text in enumerate(texts, 1):
                print(f"Hint {number}: {text}")
    return 0 if verdict.settled else 1
