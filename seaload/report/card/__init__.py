"""The settings card: a page to laminate."""
