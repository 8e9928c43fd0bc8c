"""What lies in which stick, once the sticks are given."""
