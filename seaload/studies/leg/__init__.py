"""The verb `leg`: settings for every stretch of a rough passage, within a budget of odds and wear."""
