"""From finished cases to rates with intervals, and what they say of a setting."""
