"""The level of every block: no two neighbours alike, counts exact, random to the eye; or a proof that it cannot be."""
