"""What is asked of the heights, as a graph; and what is known of it before a field is looked for."""
