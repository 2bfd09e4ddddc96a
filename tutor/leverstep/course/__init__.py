"""Problem files: reading them, naming every fault, and drawing the numbers of one student."""
