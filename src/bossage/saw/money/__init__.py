"""Which sticks to buy: the least money, with a lower bound that proves it."""
