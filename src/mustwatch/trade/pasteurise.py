"""Heat that stops yeast: pasteurisation units."""

REFERENCE_C = 60.0
RATE = 1.393  # so many times as fast for each degree more
LOWEST_C, HIGHEST_C = 55.0, 100.0
FERMENTED_UNITS = 50.0  # asked for fermented drinks of the strength of cider, so that no yeast is left


def pasteurisation_units(temp_c: float, minutes: float) -> float:
    """Pasteurisation units of a drink held at a temperature: minutes at 60 °C that do the same.

    Range: temp_c, of the drink itself: 55 to 100 °C. minutes: 0 or more. Errors: ValueError outside.

    >>> round(pasteurisation_units(60.0, 15.0), 1)
    15.0
    >>> round(pasteurisation_units(65.0, 10.0), 1)
    52.5

    Source: PU = t x 1.393^(T - 60), after Del Vecchio, Dayharsh and Baselt, Proceedings of the American Society of
    Brewing Chemists (1951) 45, as printed in a dictionary of units (sizes.com, "pasteurization unit"); the paper itself
    was not opened.
    """
    if not LOWEST_C <= temp_c <= HIGHEST_C:
        raise ValueError(f"pasteurisation_units covers {LOWEST_C:g} to {HIGHEST_C:g} °C, got {temp_c:g}")
    if minutes < 0:
        raise ValueError(f"minutes must be 0 or more, got {minutes:g}")
    return float(minutes * RATE ** (temp_c - REFERENCE_C))
