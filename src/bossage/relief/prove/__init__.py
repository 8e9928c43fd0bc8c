"""Why there is no field, one file an argument; and the least that has to be given up for one."""
