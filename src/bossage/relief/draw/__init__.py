"""A field drawn at random: on any graph, or on a plain grid by whole classes of cells."""
