"""The ledger: what every physical foil has been through, one SQLite file in the folder of results."""
