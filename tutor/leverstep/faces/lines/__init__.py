"""The faces in plain lines, for screen readers, scripts and pipes."""
