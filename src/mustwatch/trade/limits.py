"""Refusing a number outside the range a formula was made for."""


class OutOfRange(ValueError):
    """A number outside the range a formula was made for, in one line that does not show it as it was typed."""


def within(name: str, value: float, low: float, high: float, unit: str = "") -> float:
    """The value itself, in the unit it came in, once it is known to lie in the range.

    Range: low to high, both ends included; not-a-number is never inside.
    Errors: ValueError, one line naming the range and the value.

    >>> within("temperature", 20.0, 0, 45, "°C")
    20.0

    Source: house rule, one wording for every refusal.
    """
    if low <= value <= high:
        return value
    tail = f" {unit}" if unit else ""
    raise OutOfRange(f"{name} must be {low:g} to {high:g}{tail}, got {value:g}")
