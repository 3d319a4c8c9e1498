"""Where this machine keeps the program's own: local state, and the cellar of one who names none."""

import os
import sys
from pathlib import Path

NAME = "mustwatch"
# Source: XDG Base Directory Specification 0.8, section 3.
STATE = ("XDG_STATE_HOME", ".local/state")
DATA = ("XDG_DATA_HOME", ".local/share")


def state_folder() -> Path:
    """The folder of local state."""
    if (plain := _by_the_specification(*STATE)) is not None:
        return plain
    from platformdirs import user_state_path

    return user_state_path(NAME, appauthor=False)


def data_folder() -> Path:
    """The folder of what a user keeps."""
    if (plain := _by_the_specification(*DATA)) is not None:
        return plain
    from platformdirs import user_data_path

    return user_data_path(NAME)


def _by_the_specification(variable: str, usual: str) -> Path | None:
    """Worked out here where it is two lines, for every command asks; None on other systems than Linux."""
    if sys.platform != "linux" or "ANDROID_ROOT" in os.environ:
        return None
    given = os.environ.get(variable, "")
    return Path(given if os.path.isabs(given) else os.path.expanduser(f"~/{usual}")) / NAME
