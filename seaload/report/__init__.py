"""Floor 8: tables, figures and pages, made from saved results only; what they answer is read once, in `answer`."""
