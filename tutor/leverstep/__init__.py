"""leverstep: a tutor for joint statics, checked line by line. DEVELOPERS.md maps the rooms."""
