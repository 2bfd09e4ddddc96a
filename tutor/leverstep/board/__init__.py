"""A worked solution shown line by line before a class."""
