"""The faces: they show and ask, and compute nothing."""
