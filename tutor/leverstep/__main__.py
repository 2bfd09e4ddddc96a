"""`python -m leverstep` is the same as the command `leverstep`."""

from leverstep.faces.commands.cli import run

run()
