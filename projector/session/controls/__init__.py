"""What a person can ask for, and the keys, pedals and controllers that ask it."""
