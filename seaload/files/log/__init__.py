"""Recorded logs: files of other people's loggers read into chunks in time order, and judged."""
