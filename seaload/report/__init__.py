"""Floor 6: tables, figures and pages, made from saved results only."""
