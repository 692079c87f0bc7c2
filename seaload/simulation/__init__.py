"""Floor 4: one block of cases: prepare arrays, march, count."""
