"""What this boat does in any sea: points marched once, and what is told between them with its error."""
