"""A boat file looked at by itself, before anyone trusts it: what it floats, balances, resists and bends like."""
