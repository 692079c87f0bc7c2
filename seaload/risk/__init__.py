"""Floor 3: rates, odds, extremes and the intervals around them."""
