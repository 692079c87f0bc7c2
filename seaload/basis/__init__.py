"""Floor 1: constants, units at the edge, vocabulary, records, random streams, errors, the compile decorator."""
