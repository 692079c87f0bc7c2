"""The page and the table of a sizing."""
