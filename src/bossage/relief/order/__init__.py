"""Fields of pieces whose rule leaves only order: stripes, bands, chessboards of low and high."""
