"""Vetting what authors write: every fault of a file of problems or of hints."""
