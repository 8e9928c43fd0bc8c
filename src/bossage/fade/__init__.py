"""The colours over the piece, and the count table."""
