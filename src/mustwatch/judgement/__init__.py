"""Judgement: the one truth about a batch, from its readings and its story."""
