"""Evidence: what several rules read out of a batch's story."""
