"""Getting every case marched once, anywhere: blocks, workers, keys, the store."""
