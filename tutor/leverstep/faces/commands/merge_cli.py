"""The command that puts the sums of parts of a course together."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from leverstep.faces.commands.usage import add_command, add_drill_file

if TYPE_CHECKING:
    from leverstep.faces.commands.usage import Commands
    from leverstep.faces.material import Material


def add_merge(own: Commands) -> None:
    """Add the command `merge` to those of `drill`."""
    told = "put the sums of parts of a course together"
    example = "drill merge levers.toml north.json south.json --out all/"
    merge = add_command(own, "merge", told, example)
    add_drill_file(merge)
    merge.add_argument(
        "sums", nargs="+", type=Path, metavar="FILE", help="what drill mark --sums wrote"
    )
    merge.add_argument("--out", type=Path, required=True, metavar="DIR", help="where it goes")
    merge.add_argument("--tex", action="store_true", help="the report as LaTeX too")
    merge.set_defaults(command=_merge)


def _merge(options: argparse.Namespace, material: Material) -> int:
    """Add up the sums of several parts; write their report, and the sums of all."""
    from leverstep.drill.drill_file import read_drill
    from leverstep.marking.outputs import Outputs
    from leverstep.reports.class_report import headline
    from leverstep.reports.part_sums import SUMS, added_up, sums_text
    from leverstep.reports.report_files import write_report

    outputs = Outputs.into(options.out)
    drill = read_drill(options.file, material.shelf.problems, roster_needed=False)
    collected = added_up(options.sums, drill, material.catalogue)
    figures = collected.figures()
    with outputs as out:
        written = write_report(figures, out, options.tex, with_names=False)
        out.open(SUMS).write(sums_text(drill, collected))
    print(f"The report of all: {', '.join(map(str, written))}; sums: {options.out / SUMS}")
    print(headline(figures))
    return 0
