"""Rules: what an old hand would say of a batch. The machinery lies here, the evidence and the rules beside it."""
