"""A sitting: the working of a question, kept on disk entry by entry."""
