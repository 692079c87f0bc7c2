"""Floor 8: what a verb does: scenario and files meet, cases are sailed, the result is written."""
