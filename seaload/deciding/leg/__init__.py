"""The plan of a leg: a setting for every stretch of it, within a budget of odds and wear."""
