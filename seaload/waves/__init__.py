"""Floor 3: the sea, from spectrum to surface elevation and orbital velocity at a point."""
