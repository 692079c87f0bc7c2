"""Floor 4: files of other people and our own: sea records, results, the store of finished cases."""
