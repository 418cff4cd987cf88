"""What is known of seeds: pure functions on numbers, and the reference tables."""
