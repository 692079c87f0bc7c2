"""Finished cases to one Dataset, written once."""
