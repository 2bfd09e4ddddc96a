"""The command `page`: judge a whole page of working that was written in any editor."""

from __future__ import annotations

import argparse
import errno
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from leverstep.course.faults import Fault, FileError, unreadable
from leverstep.faces.commands.usage import add_command, add_json, add_name, seed
from leverstep.faces.terminal import say_json

if TYPE_CHECKING:
    from leverstep.faces.commands.usage import Commands
    from leverstep.faces.material import Material
    from leverstep.slips.page_told import ToldLine

LARGEST_PAGE = 200_000
"""Bytes that a file of a page may have, and characters that may come by the input."""


def add_page(commands: Commands) -> None:
    """Add the command `page` to a parser."""
    page = add_command(
        commands, "page", "judge a page of working, line by line",
        "page elbow-pail-of-water --seed 7 working.txt",
    )  # fmt: skip
    add_name(page)
    page.add_argument("--seed", type=seed, default="1", help="what the numbers are drawn from")
    page.add_argument(
        "file",
        metavar="FILE",
        help="a text file with one line of working on each line; - for the input",
    )
    add_json(page)
    page.set_defaults(command=_page)


def _page(options: argparse.Namespace, material: Material) -> int:
    """Judge a page; return 0 only where all that is asked for is there and right."""
    from leverstep.claims.page_of_claims import judge_page
    from leverstep.faces.openings import question_to_tell
    from leverstep.slips.page_told import conventions, missing, told_page
    from leverstep.working.cautions import CAUTION

    shelf = material.shelf
    question = question_to_tell(shelf.find(options.name), options.seed, shelf)
    page = judge_page(question, _text(options.file).split("\n"))
    lines = list(told_page(page, material.catalogue))
    left, kept = missing(page), conventions(page)
    if options.json:
        rows = [_row(one) for one in lines]
        say_json({"lines": rows, "missing": left, "conventions": kept, "caution": CAUTION})
    else:
        print(f"Numbers: {question.seed}")
        for one in lines:
            if one.told:
                print(f"Line {one.line.number}: {one.line.text.strip()}\n  {one.told}")
        for told in kept:
            print(told)
        if left:
            print("Still to find:")
        for name, asked in left.items():
            print(f"  {name}: {asked}")
        print(CAUTION)
    return 1 if left or any(one.line.standing == "wrong" for one in lines) else 0


def _text(name: str) -> str:
    """Return the text of a page, without the line end of its last line.

    Raises:
        FileError: where it can't be read.
    """
    from leverstep.course.plain_files import TooLarge, read_text

    try:
        if name != "-":
            text = read_text(Path(name), LARGEST_PAGE, linked=True)
        elif len(text := sys.stdin.read(LARGEST_PAGE + 1)) > LARGEST_PAGE:
            raise TooLarge(errno.EFBIG, "the page is too large")
    except (OSError, ValueError) as error:
        raise FileError([Fault(name, "", unreadable(error), "a text file")]) from error
    return text.removesuffix("\n")


def _row(one: ToldLine) -> dict[str, object]:
    return {
        "line": one.line.number,
        "text": one.line.text,
        "verdict": str(one.line.standing),
        "about": list(one.line.about),
        "slips": list(one.slips),
        "told": one.told,
    }
