"""What the saw is asked, as a maker says it and as whole numbers; and first-fit decreasing, the peer of every plan."""
