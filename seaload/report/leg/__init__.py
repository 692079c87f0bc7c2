"""The page, card, figures and table of a leg."""
