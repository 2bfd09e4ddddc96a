"""Files of authors that mean harm, or that a broken editor left, and what becomes of them.

Run as a program, with a file of commands and the files of each as JSON, it calls each command for
each of its files with little memory, and prints the exit code, the processor time and what was
said, as a line of JSON for each.
"""

from __future__ import annotations

import contextlib
import io
import json
import resource
import sys
from collections.abc import Iterator
from pathlib import Path
from time import process_time

MEMORY = 1_000_000_000
"""Bytes that a command may have."""

MANY = 180_000
"""Characters; about as many as the file of a problem may have."""

PROBLEM = """
id = "good"
title = "A test"
joint = "elbow"
statement = "A pail of {W_l} hangs {d_l} from the axis, flexors pull at {d_m}."
[segment]
name = "forearm"
axis = "elbow"
[effort]
symbol = "F_m"
name = "flexors"
at = { symbol = "d_m", value = 4, unit = "cm" }
direction = "up"
"""

LOAD = """
[[load]]
symbol = "W_SIGN"
name = "pail"
force = { value = 20, unit = "N" }
at = { symbol = "d_SIGN", value = 33, unit = "cm" }
direction = "down"
"""

DRILL = """
id = "levers"
title = "Levers"
"""

ITEM = """
[[item]]
problem = "plain-seesaw"
"""

SLIP = """
[[slip]]
id = "odd"
name = "odd"
kinds = ["moment"]
look = "look"
happened = "it happened"
reason = "it is odd"
wrong = false
"""


def texts() -> Iterator[tuple[str, str]]:
    """Yield what each hostile text is called, and the text."""
    for number in (2_000, MANY // 2):
        yield f"{number} parts of a key", "title" + ".a" * number + " = 1\n"
        yield f"{number} parts of a heading", "[a" + ".a" * number + "]\n"
        yield f"{number} parts in a table", "a = { b" + ".a" * number + " = 1 }\n"
        yield f"{number} quoted parts", '"a"' + ' . "a"' * (number // 3) + " = 1\n"
        yield f"{number} arrays deep", "a = " + "[" * number + "]" * number + "\n"
        yield f"{number} tables deep", "a = " + "{b=" * (number // 2) + "1" + "}" * (number // 2)
        yield f"{number} arrays left open", "a = " + "[" * number
        yield f"{number} commented arrays", "a = [\n" + "[#]\n" * (number // 4)
    for many in (4_900, 15_000):
        yield f"{many} headings", "".join(f"[a{n}.b.c]\n" for n in range(many))
        yield f"{many} keys", "".join(f"a{n}=1\n" for n in range(many))
        yield f"{many} dotted keys", "".join(f"a{n}.b.c.d.e=1\n" for n in range(many))
        yield f"{many} lists of tables", "[[load]]\n" * many
        yield f"{many} constants", DRILL + ITEM + "[constants]\ng = [" + "9.81, " * many + "]\n"
        yield f"{many} kinds", SLIP.replace('"moment"', '"momment", ' * many)
        yield f"{many} roles", SLIP + "roles = [" + '"laod", ' * many + "]\n"
        inside = "".join(f"p{n} = 'titel = 1'\n" for n in range(many))
        yield f"{many} problems inside", DRILL + ITEM + "[problems]\n" + inside
    yield "many texts left open", '"""\\' * (MANY // 4)
    yield "many quotes", '"' * MANY
    yield "many apostrophes", "a = " + "'" * MANY
    yield "a long key", "a" * MANY + " = 1\n"
    yield "a long quoted key", '"' + "ü" * (MANY // 2) + '" = 1\n'
    yield "long keys alike", "".join(f"{'titl' * 400}{n} = 1\n" for n in range(100))
    yield (
        "long names alike",
        DRILL + "".join(f"[[item]]\nproblem = '{'plain' * 400}{n}'\n" for n in range(80)),
    )
    yield "a long whole number", "difficulty = 1" + "0" * 100_000
    yield "a whole number of 4 000 digits", PROBLEM + "tolerance = 1" + "0" * 4_000
    yield "a long number in base 16", "difficulty = 0x" + "f" * 100_000
    yield "a long decimal", "difficulty = 0." + "1" * 100_000
    yield "a number of a long power", "difficulty = 1e" + "9" * 100_000
    yield "a constant of 4 000 digits", DRILL + ITEM + "[constants]\ng = 1" + "0" * 4_000
    for power in ("1e999999", "-1e999999", "1e-999999", "1e308", "inf", "-inf", "nan", "1" * 90):
        yield f"a tolerance of {power[:9]}", f"tolerance = {power}\n"
        yield f"a load of {power[:9]}", PROBLEM + LOAD.replace("SIGN", "l").replace("20", power)
        yield f"marks of {power[:9]}", DRILL + ITEM + f"marks = {power}\n"
        yield f"minutes of {power[:9]}", f"minutes = {power}\n" + DRILL + ITEM
        yield f"a constant of {power[:9]}", DRILL + ITEM + f"[constants]\ng = {power}\n"
        yield f"a change of {power[:9]}", SLIP + f"x = 1\nchange = {{ gravity = {power} }}\n"
        yield f"a slip as often as {power[:9]}", SLIP + f"often = {power}\n"
    for moment in (
        "0001-01-01T00:00:00+23:59", "9999-12-31T23:59:59-23:59", "9999-12-31T23:59:60Z",
        "0000-01-01T00:00:00Z", "2027-02-30T00:00:00Z", "2027-01-01T24:00:00Z", "23:59:59.999",
        "1979-05-27", "2027-01-01T00:00:00+24:00", f"2027-01-01T00:00:00.{'9' * 1000}Z",
    ):  # fmt: skip
        yield f"opens at {moment[:25]}", f"opens = {moment}\n" + DRILL + ITEM
        yield f"closes at {moment[:25]}", f"closes = {moment}\n" + DRILL + ITEM
    crossed = "opens = 2999-12-31T23:59:59-23:59\ncloses = 1970-01-01T00:00:00+23:59\n"
    yield "moments the wrong way round", crossed + DRILL + ITEM
    yield "lone surrogates", 'title = "\\ud800"\n'
    yield "a sign beyond all", 'title = "\\UFFFFFFFF"\n'
    yield "controls by escapes", 'title = "\\u001b[2J\\u009b2J\\u202e"\n'
    yield "controls in keys", '"\\u001b[2J\\u202e" = 1\n'
    for many in (1_000, MANY // 9):
        unknown = PROBLEM.replace("hangs", "".join(f"{{W_{n}}}" for n in range(many)))
        yield f"{many} placeholders", unknown + LOAD.replace("SIGN", "l")
    yield "many loads", PROBLEM + "".join(LOAD.replace("SIGN", f"{n}") for n in range(1_200))
    for many in (3_300, MANY // 33):
        for key in ("problen", "problem"):
            item = f"[[item]]\n{key} = 'plain-sesaw'\n"
            yield f"{many} misspelt items with {key}", DRILL + item * many
    deep = "[problems]\na = 'b = " + "[" * 90_000 + "'\n"
    yield "a problem inside that is deep", DRILL + ITEM + deep
    kinds = ("flip", "gravity", "factor", "conversion")
    changes = "".join(f"{kind} = [" + "1, " * 900 + "]\n" for kind in kinds)
    yield "many changes", SLIP + "[slip.change]\n" + changes
    yield "many slips", SLIP * (MANY // len(SLIP))
    yield "a long title", PROBLEM.replace("A test", "A" * 100_000) + LOAD.replace("SIGN", "l")


def files() -> Iterator[tuple[str, bytes]]:
    """Yield what each hostile file is called, and its bytes."""
    for name, text in texts():
        yield name, text.encode()
    yield "nothing", b""
    yield "a NUL", b'title = "a\x00b"\n'
    yield "only NULs", b"\x00" * 100_000
    yield "two marks of UTF-8", b"\xef\xbb\xbf" * 2 + b'title = "a"\n'
    yield "UTF-16", 'title = "a"\n'.encode("utf-16")
    yield "Latin-1", 'title = "45°"\n'.encode("latin-1")
    yield "a surrogate in UTF-8", b'title = "\xed\xa0\x80"\n'
    yield "an overlong sign", b'title = "\xc0\xaf"\n'
    yield "CR alone", b'title = "a"\rjoint = "b"\r'
    yield "CR in a text", b'title = "a\rb"\n'
    yield "many lines of comment", b"#\n" * 999_000
    yield "many words", b"a " * 999_000
    yield "many empty texts", b"x = [\n" + b'"",' * 600_000
    yield "too large by far", b"a = 1\n" * 3_000_000


def main(calls: list[tuple[str, list[str]]]) -> None:
    """Call each command for each of its files and print what came of it."""
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    from leverstep.faces.commands.cli import main as call

    from helpers.read_once import read_once

    read_once()
    for command, paths in calls:
        for path in [paths[0], *paths]:  # the first time, what the command needs is loaded
            said = io.StringIO()
            begun = process_time()
            with contextlib.redirect_stdout(said), contextlib.redirect_stderr(said):
                try:
                    code: object = call([*command.split(), path])
                except SystemExit as ended:
                    code = ended.code
                except BaseException as error:  # noqa: BLE001  (told as what came of it)
                    code = f"{type(error).__name__}: {error}"[:200]
            told = {"file": path, "code": code, "said": said.getvalue()}
            print(json.dumps(told | {"seconds": process_time() - begun}), flush=True)


if __name__ == "__main__":
    main(json.loads(Path(sys.argv[1]).read_text(encoding="utf-8")))
