"""Another field from one that the shop has departed from, with the fewest changes."""
