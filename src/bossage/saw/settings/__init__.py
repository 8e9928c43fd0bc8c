"""How few settings of the stop do, once the money is found; with a lower bound that proves it."""
