"""The terms of the course: what each means, its picture, and which of them a line is about."""
