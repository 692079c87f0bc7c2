"""The page of a recorded log: what a foil has been through, and how good the record is."""
