"""How pages are judged as students write them: what is seen, called wrong, passed, and how soon.

Prints the tables of README: `python tests/benchmarks/pages.py [FOLDER]`. The pages lie in
`tests/pages`, each with what a reader found of every line.
"""

from __future__ import annotations

import argparse
import gc
import statistics
import time
from collections import Counter
from pathlib import Path

import checkout  # noqa: F401  (before what it finds)
from helpers.labelled_pages import PAGES, labelled_page
from helpers.material import CATALOGUE
from leverstep.claims.judged_line import LineStanding
from leverstep.claims.page_of_claims import Page
from leverstep.claims.plain_writing import decimal_comma
from leverstep.slips.page_told import told_page
from machine import machine

FOUND = (LineStanding.RIGHT, LineStanding.KEPT, LineStanding.FOLLOWS)


def judged(path: Path, count: Counter[str]) -> list[float]:
    """Judge one page, count what came of its lines, and return how long each took, in seconds.

    The problem is met before the clock starts, by a wrong line on a page of its own: what its
    derivation comes to with wrong values is made a function once, for all pages on it.
    """
    labelled = labelled_page(path)
    question, texts = labelled.question, labelled.texts
    first = Page(question)
    for step in [step for step in question.derivation.asked if step.kind.is_number][:2]:
        first.write(f"{step.key} = {1.37 * question.right[step.key]:.4g}")
    page, times = Page(question, decimal_comma(texts), "\n".join(texts)), []
    gc.collect()  # what the pages before left is cleared away on no line of this one
    for text in texts:
        start = time.process_time()
        page.write(text)
        times.append(time.process_time() - start)
    told = list(told_page(page, CATALOGUE))
    for number, found in labelled.found.items():
        one = told[number - 1]
        standing = one.line.standing
        match found:
            case "right" | "follows":
                count["right"] += 1
                count["right seen"] += standing in FOUND
                count["right called wrong"] += standing is LineStanding.WRONG
            case "wrong":
                count["wrong"] += 1
                count["wrong passed"] += standing in FOUND
                count["slip told"] += bool(one.slips)
            case "remark":
                count["remark"] += 1
                count["remark judged"] += standing in (*FOUND, LineStanding.WRONG)
    return times


def share(part: int, whole: int) -> str:
    """Return a part of a whole, also as a percentage."""
    return f"{part:4} of {whole:4}   {100 * part / whole if whole else 0:5.1f} %"


def main() -> None:
    """Judge all pages of a folder and print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", nargs="?", type=Path, default=PAGES)
    paths = sorted(parser.parse_args().folder.glob("[0-9]*.json"))
    count: Counter[str] = Counter()
    pages = [judged(path, count) for path in paths]
    lines = [1000 * seconds for times in pages for seconds in times]
    whole = [1000 * sum(times) for times in pages]
    print(f"{machine()}\n\n{len(paths)} pages")
    print(f"right or following, recognised    {share(count['right seen'], count['right'])}")
    print(f"right or following, called wrong  {share(count['right called wrong'], count['right'])}")
    print(f"wrong, called right               {share(count['wrong passed'], count['wrong'])}")
    print(f"wrong, a slip told                {share(count['slip told'], count['wrong'])}")
    print(f"remarks, judged                   {share(count['remark judged'], count['remark'])}")
    slow = f"99th percentile {statistics.quantiles(lines, n=100)[-1]:.1f} ms, "
    print(f"a line  {statistics.median(lines):6.1f} ms   {slow}at most {max(lines):.1f} ms")
    print(f"a page  {statistics.median(whole):6.1f} ms   at most {max(whole):.1f} ms")


if __name__ == "__main__":
    main()
