"""Forms for what is done to a batch: the yeast, an addition, a racking, the bottling, a closure."""
