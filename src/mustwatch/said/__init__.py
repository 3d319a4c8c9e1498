"""Said: the one voice. Figures, dates, events and standing in words, for screens and commands alike."""
