"""How a command is called, and what is said of one that is called wrongly."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

from leverstep.course.plain_text import near, plain, shown
from leverstep.faces.terminal import write
from leverstep.working.rules import MOST_SLIPS

if TYPE_CHECKING:
    Commands = argparse._SubParsersAction[argparse.ArgumentParser]


class _Help(argparse.HelpFormatter):
    """Help with its example on one line, so that it can be copied."""

    def _fill_text(self, text: str, width: int, indent: str) -> str:
        return text if text.startswith("example: ") else super()._fill_text(text, width, indent)


class Usage(argparse.ArgumentParser):
    """A parser that says what it found, what it expected, and how it would be right."""

    def __init__(self, **named: Any) -> None:
        super().__init__(formatter_class=_Help, **named)
        self.color = False  # the next versions of Python would put it on a help

    def print_help(self, file: Any = None) -> None:
        """Print the help at once; unlike the parser's own, it fails where it can't be written."""
        if file is not None:
            super().print_help(file)
        else:
            write(self.format_help())

    def error(self, message: str) -> NoReturn:
        """Tell what is wrong, show an example that is right, and end with 2."""
        told = f"{self.format_usage()}{self.prog}: {plain(message)}\n{self.epilog or ''}\n"
        self.exit(2, told)

    def _check_value(self, action: argparse.Action, value: Any) -> None:
        """See to it that a value is one of the choices; name the nearest one if not."""
        if action.choices is not None and value not in action.choices:
            choices = [str(choice) for choice in action.choices]
            found = f"found {shown(value)}{near(str(value), choices)}"
            expected = f"expected one of {', '.join(choices)}"
            raise argparse.ArgumentError(action, f"{found}; {expected}")


def whole_number(text: str) -> int:
    """Return a whole number that is typed after an option."""
    try:
        return int(text)
    except ValueError as error:
        raise wrong(text, "a whole number") from error


def wrong(text: str, expected: str) -> argparse.ArgumentTypeError:
    """Return the error that says of a value what was found and what was expected."""
    return argparse.ArgumentTypeError(f"found {shown(text)}; expected {expected}")


def seed(text: str) -> str:
    """Return what the numbers are drawn from: a number, or a short word."""
    from leverstep.course.numbers import LONGEST_SEED, is_seed

    if not is_seed(text.strip()):
        raise wrong(text, f"1 to {LONGEST_SEED} printable characters")
    return text.strip()


def student(text: str) -> str:
    """Return a student's id."""
    from leverstep.course.reserved import NOT_RESERVED, is_reserved
    from leverstep.drill.drill import LONGEST_STUDENT, is_student, student_id

    if not is_student(text):
        raise wrong(text, f"1 to {LONGEST_STUDENT} printable characters")
    if is_reserved(text):
        raise wrong(text, NOT_RESERVED)
    return student_id(text)


def add_drill_file(parser: argparse.ArgumentParser) -> None:
    """Have a command take the file of a drill."""
    parser.add_argument("file", type=Path, metavar="FILE", help="the drill")


def add_start_word(parser: argparse.ArgumentParser) -> None:
    """Have a command take the start word of a drill."""
    parser.add_argument(
        "--start-word", metavar="WORD", help="the start word of a drill that has one"
    )


def add_part(parser: argparse.ArgumentParser, done: str) -> None:
    """Have a command take a part of the class; `done` says what is done with those: `mark`."""
    parser.add_argument(
        "--roster", type=Path, metavar="CSV",
        help=f"{done} those on this list alone, such as a group",
    )  # fmt: skip
    add_section(parser)


def add_pages(parser: argparse.ArgumentParser) -> None:
    """Have a command write a page for each student, and LaTeX."""
    parser.add_argument("--pages", action="store_true", help="a page to give back for each student")
    parser.add_argument("--tex", action="store_true", help="report and pages as LaTeX too")


def add_columns(parser: argparse.ArgumentParser) -> None:
    """Have a command write a table for the import of another program."""
    parser.add_argument(
        "--columns", type=Path, metavar="FILE",
        help="also write gradebook.csv, with the columns that this file names",
    )  # fmt: skip


def add_without_names(
    parser: argparse.ArgumentParser, told: str = "leave out the part for the teacher alone"
) -> None:
    """Have a command take the option to name nobody; `told` says what it does."""
    parser.add_argument("--without-names", action="store_true", help=told)


def add_seal_key(parser: argparse.ArgumentParser) -> None:
    """Have a command that marks take private keys of sealed drills."""
    parser.add_argument(
        "--seal-key", type=Path, action="append", default=[], metavar="FILE",
        help="the private key of a sealed drill that is not kept here; may be given again",
    )  # fmt: skip


def add_section(parser: argparse.ArgumentParser) -> None:
    """Have a command take one section of the roster."""
    parser.add_argument("--section", metavar="SECTION", help="one section of the roster alone")


def library_option(default: object) -> argparse.ArgumentParser:
    """Return the option that every command has: a folder of the teacher's own."""
    parser = argparse.ArgumentParser(add_help=False)
    parser.add_argument(
        "--library", action="append", dest="own_folders", default=default, metavar="DIR",
        help="a folder of your own problems and hints, beside those that ship",
    )  # fmt: skip
    return parser


def add_command(
    commands: Commands, name: str, help_text: str, example: str
) -> argparse.ArgumentParser:
    """Return the parser of a new command, with an example of a call at the end of its help."""
    return commands.add_parser(
        name,
        help=help_text,
        epilog=f"example: leverstep {example}",
        parents=[library_option(argparse.SUPPRESS)],
    )


def add_name(parser: argparse.ArgumentParser) -> None:
    """Have a command take a problem."""
    parser.add_argument("name", metavar="NAME", help="a problem, or the path of a problem file")


def add_slips(parser: argparse.ArgumentParser, what: str = "find and mend") -> None:
    """Add what has slips made in a working of somebody else; `what` says what is done then."""
    where = "in somebody else's working"
    parser.add_argument("--find-slip", action="store_true", help=f"{what} one slip {where}")
    parser.add_argument(
        "--slips", type=int, choices=range(1, MOST_SLIPS + 1),
        help=f"how many slips to {what} {where}",
    )  # fmt: skip


def slips_to_find(options: argparse.Namespace) -> int:
    """Return how many slips are to be made by the options at hand, 0 for none."""
    return options.slips or int(options.find_slip)


def add_plain(parser: argparse._ActionsContainer, default: object = argparse.SUPPRESS) -> None:
    """Have a command take the option for plain lines; what is left out says nothing by default."""
    parser.add_argument(
        "--plain", action="store_true", default=default, help="plain lines, for screen readers"
    )


def add_json(parser: argparse.ArgumentParser) -> None:
    """Have a command take the option for JSON."""
    parser.add_argument("--json", action="store_true", help="as JSON")
