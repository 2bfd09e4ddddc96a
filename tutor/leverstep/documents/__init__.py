"""Documents: the blocks that they are made of, and for each format one writer of all of these."""
