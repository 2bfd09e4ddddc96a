"""What the lines of a page claim, of which quantity, and whether it holds."""
