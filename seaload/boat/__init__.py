"""Floor 3: hull, keel, thrust and resistance: the forces that carry and drive the boat."""
