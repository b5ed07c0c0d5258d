"""What is in the cylinder, what leaves it, and what the gas can and cannot do."""
