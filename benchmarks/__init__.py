"""What the reader reaches on sections painted with seeds that nobody tuned on. Every figure is simulated."""
