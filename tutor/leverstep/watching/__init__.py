"""A class while it sits a drill: its records followed as they grow, and who to go to next."""
