"""Floor 5: scenario and files meet: a run, a sweep, the choice, and the dataset that holds the answer."""
