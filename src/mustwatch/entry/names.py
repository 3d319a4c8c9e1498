"""What days and months are called, in reading and in writing, and the clock they are told by."""

import time
from datetime import datetime, timedelta
from functools import lru_cache

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
    "November", "December",
)  # fmt: skip


def local(at: datetime, now: datetime) -> datetime:
    """A time as its own day's clock showed it: in the machine's zone where `now` stands in it, else as `now`."""
    return at.astimezone() if _is_here(now, now.utcoffset(), time.tzname) else at.astimezone(now.tzinfo)


@lru_cache(maxsize=8)
def _is_here(now: datetime, offset: timedelta | None, zone: tuple[str, str]) -> bool:
    """Whether a time stands in the machine's zone. zone: a test, or a long run, may have it set anew."""
    return now.astimezone().utcoffset() == offset
