"""What a library covers and how well it tells what it was not told."""
