"""A sweep: the table, report.html with charts to point at, and its figures."""
