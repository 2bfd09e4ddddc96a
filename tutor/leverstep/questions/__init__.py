"""Questions with answers to choose from, which make a student think about a working."""
