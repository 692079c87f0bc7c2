"""Floor 2: what a person writes, checked, and turned into SI records."""
