"""The page of a boat file looked at by itself: what strangers read before they trust it."""
