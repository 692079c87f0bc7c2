"""The verb `log`: recorded logs read, judged, counted, put into the ledger of their foil, and told."""
