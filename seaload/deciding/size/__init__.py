"""Sizing a foil from finished cases: the setting of each sea, loads of a season, limits, spectra, changes."""
