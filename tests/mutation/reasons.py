"""Mutations that no test can notice, each with its reason; known by the key that mutations.json gives them."""

REASONS = {}
