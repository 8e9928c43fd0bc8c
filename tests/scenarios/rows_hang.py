ROWS = {}
