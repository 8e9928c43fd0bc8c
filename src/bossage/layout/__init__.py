"""Where every block sits, on which leaf, and how the piece stands on the wall."""
