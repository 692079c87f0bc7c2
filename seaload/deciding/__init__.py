"""Which setting: rounds of sea, changes, moves, the choice, readings that call for backing off, doubt."""
