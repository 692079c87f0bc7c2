"""The library of a boat: filled by a study, grown by use, asked from Python."""
