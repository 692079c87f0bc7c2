"""Floor 7: the commands: parse, call, draw progress."""
