"""What a gravity can be: outside it, a figure is a slip and no must."""

LOWEST_SG, HIGHEST_SG = 0.980, 1.180
