"""Vetting what authors write: every fault of a problem file that its numbers can bring out."""
