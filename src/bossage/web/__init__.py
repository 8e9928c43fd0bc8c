"""The workbench in the browser: a server on this machine's own address, over the store and the plan."""
