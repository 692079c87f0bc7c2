"""Sizing a foil: load a study, choose settings, sail usage and situations, limits, spectra, changes."""
