"""Floor 3: the sea, from its spectrum to wave components."""
