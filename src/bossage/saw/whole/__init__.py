"""Whole numbers that have to add up: the knapsack and subset sums, which know nothing of a saw."""
