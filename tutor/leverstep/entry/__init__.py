"""Reading an entry: from text to a tree of numbers, symbols, operations and units."""
