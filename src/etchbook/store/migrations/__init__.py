"""How older books become books of today, step by step; they travel with the package."""
