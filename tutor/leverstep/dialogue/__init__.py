"""What is said around a sitting: who may begin, the rules, the time, and what was handed in."""
