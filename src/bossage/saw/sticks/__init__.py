"""From a job to the plan of its sticks: places, order of work, and advice beside it."""
