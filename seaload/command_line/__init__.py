"""Floor 9: the commands: parse, call, draw progress."""
