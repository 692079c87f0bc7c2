"""A run: the table a sailor reads, report.html with the replay, and its figures."""
