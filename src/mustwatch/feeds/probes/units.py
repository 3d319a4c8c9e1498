"""Units for systemd: the listener as a service, the check as a timer; hardened, with only the cellar to write. Pure.

Options after systemd.exec(5) and systemd.timer(5).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

NAMES = ("mustwatch-listen.service", "mustwatch-check.service", "mustwatch-check.timer")
HARDENED = """\
NoNewPrivileges=yes
CapabilityBoundingSet=
AmbientCapabilities=
ProtectSystem=strict
ProtectHome=tmpfs
PrivateTmp=yes
PrivateDevices=yes
PrivateUsers=yes
ProtectClock=yes
ProtectControlGroups=yes
ProtectHostname=yes
ProtectKernelLogs=yes
ProtectKernelModules=yes
ProtectKernelTunables=yes
ProtectProc=invisible
ProcSubset=pid
RestrictNamespaces=yes
RestrictRealtime=yes
RestrictSUIDSGID=yes
LockPersonality=yes
MemoryDenyWriteExecute=yes
RemoveIPC=yes
KeyringMode=private
SystemCallArchitectures=native
SystemCallFilter=@system-service
SystemCallFilter=~@privileged @resources
SystemCallErrorNumber=EPERM
UMask=0077
"""


@dataclass(frozen=True, slots=True)
class Place:
    """Where a unit runs. command: the program's own words; writes: folders it may write; reads: under the home, that
    it must see; user: whose it is for a system unit, None for a unit of the user's own; net: it needs the network."""

    command: Sequence[str]
    writes: Sequence[str]
    reads: Sequence[str]
    user: str | None
    net: bool


def units(place: Place) -> dict[str, str]:
    """The text of each unit, by its file name."""
    target = "multi-user.target" if place.user else "default.target"
    after = "network-online.target" if place.user else "basic.target"
    listen = _unit("Probes and messages into the mead cellar's ledger", after) + _service(
        place, "listen", "exec", "Restart=on-failure\nRestartSec=10\nMemoryMax=128M\nTasksMax=32\n", place.net
    )
    # Status 1 is a finding, not a failure of the unit.
    check = _unit("Warnings out of the mead cellar", after) + _service(
        place, "check --send", "oneshot", "SuccessExitStatus=1\nMemoryMax=512M\nTasksMax=64\n", True
    )
    timer = (
        _unit("Hourly look at the mead cellar; what is new goes out at once, the rest once a day", "")
        + "[Timer]\nOnCalendar=hourly\nRandomizedDelaySec=120\nPersistent=true\n\n[Install]\nWantedBy=timers.target\n"
    )
    return dict(zip(NAMES, (f"{listen}\n[Install]\nWantedBy={target}\n", check, timer), strict=True))


def _unit(words: str, after: str) -> str:
    order = f"After={after}\nWants={after}\n" if after.startswith("network") else ""
    return f"[Unit]\nDescription={words}\n{order}\n"


def _service(place: Place, words: str, kind: str, more: str, net: bool) -> str:
    user = f"User={place.user}\n" if place.user else ""
    families = "AF_UNIX AF_INET AF_INET6" if net else "AF_UNIX"
    apart = "" if net else "PrivateNetwork=yes\nIPAddressDeny=any\n"
    binds = "".join(f"BindPaths={_quoted(path)}\n" for path in place.writes)
    reads = "".join(f"BindReadOnlyPaths=-{_quoted(path)}\n" for path in place.reads)
    start = " ".join(_quoted(word) for word in place.command)
    return (
        f"[Service]\nType={kind}\n{user}ExecStart={start} {words}\nEnvironment=PYTHONUNBUFFERED=1\n{more}"
        f"{binds}{reads}{HARDENED}RestrictAddressFamilies={families}\n{apart}"
    )


def _quoted(text: str) -> str:
    """A word as systemd reads it back: per cent and dollar signs doubled, in quotes where it holds a blank."""
    plain = text.replace("\\", "\\\\").replace("%", "%%").replace("$", "$$").replace('"', '\\"')
    return f'"{plain}"' if any(sign in plain for sign in " \t'\"") else plain
