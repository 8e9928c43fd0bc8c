"""Reading a brief: every fault at once, every default with its reason, then frozen records."""
