"""Rules: what an old hand would say of a batch."""
