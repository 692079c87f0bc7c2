"""Floor 3: cycles of a load history and the damage they add up to."""
