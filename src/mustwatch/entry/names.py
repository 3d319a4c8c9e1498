"""What days and months are called, in reading and in writing, and the clock they are told by."""

from datetime import datetime

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
    "November", "December",
)  # fmt: skip


def local(at: datetime, now: datetime) -> datetime:
    """A time as its own day's clock showed it: in the machine's zone where `now` stands in it, else as `now`."""
    return at.astimezone() if now.astimezone().utcoffset() == now.utcoffset() else at.astimezone(now.tzinfo)
