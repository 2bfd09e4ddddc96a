"""The command that seals a drill: its records then show what was changed in them later."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from leverstep.course.plain_text import plain
from leverstep.faces.commands.usage import add_command, add_drill_file

if TYPE_CHECKING:
    from leverstep.faces.commands.usage import Commands
    from leverstep.faces.material import Material


def add_seal(own: Commands) -> None:
    """Add the command `seal` to those of `drill`."""
    told = "have records show what is changed in them later"
    seal = add_command(own, "seal", told, "drill seal levers.toml")
    add_drill_file(seal)
    seal.set_defaults(command=_seal)


def _seal(options: argparse.Namespace, material: Material) -> int:
    """Make a pair of keys for a drill, where it has none; say where the private one is kept."""
    import os

    from leverstep.course.faults import Fault, FileError
    from leverstep.drill.drill_file import read_drill
    from leverstep.drill.rule_writing import set_rules
    from leverstep.drill.seal_key import NoLibrary, make_pair, place_of_private

    drill = read_drill(options.file, material.shelf.problems, roster_needed=False)
    public = drill.seal
    if not public:
        try:
            public = make_pair()
        except NoLibrary as error:
            found = "no keys can be made here"
            raise FileError([Fault(str(options.file), "", found, str(error))]) from error
        set_rules(options.file, f'seal = "{public}"')
    place = place_of_private(public)
    print(plain(f"{options.file} is sealed {'already' if drill.seal else 'now'}."))
    if os.path.lexists(place):
        print(plain(f"Its private key is {place}"))
        print(
            "Without that file no seal can be checked: keep a copy, where no student can read it."
        )
    else:
        print("Its private key is not here: give its file to marking by --seal-key.")
    if not drill.seal:
        print("Sittings that were begun before go on, and are sealed from there on.")
    return 0
