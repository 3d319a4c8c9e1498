"""The terminal itself: which bytes are keys, how it is taken and how it is given back."""
