"""`listen`: thermometers, floats and a message broker into the ledger, until it is told to stop."""

from __future__ import annotations

import argparse
import getpass
import hashlib
import json
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from mustwatch.commands.context import DONE, Context, Refused

if TYPE_CHECKING:
    from mustwatch.feeds.probes.config import Plan

DESCRIPTION = """\
Writes what probes report into the ledger: a mean when it has moved, a line each eight hours when it has not.
What it listens to stands in cellar.toml:

  [feeds.probes.shelf]          a thermometer on the 1-wire bus; also source = "hwmon" or "iio" with chip = "NAME"
  source = "w1"
  id = "28-0123456789ab"
  batch = "heather-2"           or place = "cellar"

  [feeds.broker]                messages; the password in password_file, mode 0600, or MUSTWATCH_BROKER_PASSWORD
  host = "127.0.0.1"

  [feeds.probes.float]
  source = "mqtt"
  topic = "cellar/float"
  gravity = "sg"                where it stands in the message: a path such as data.values[0], or $
  temperature = "temp"
  time = "at"                   with its own time, nothing is lost or counted twice
  batch = "heather-2"

DEVELOPERS.md names every key. SIGTERM stops it; it begins again where it ended.
A change of cellar.toml is taken up within seconds."""


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = subparsers.add_parser(
        "listen",
        help="thermometers, floats and a message broker into the ledger",
        description=DESCRIPTION,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument("--once", action="store_true", help="say what each thermometer shows now; save nothing")
    parser.add_argument("--states", action="store_true", help="print what would be published, by topic; save nothing")
    parser.add_argument("--unit", choices=("user", "system"), help="write units for systemd, and say how to start them")
    parser.add_argument("--to", type=Path, metavar="DIR", help="where the units are written")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Listens until SIGTERM; 2 where the settings name nothing to listen to."""
    from mustwatch.feeds.probes.config import plan_of
    from mustwatch.ledger.visible import visible

    try:
        plan = plan_of(context.settings.feeds)
        if args.unit:
            return write_units(args, context, plan)
        if args.states:
            from mustwatch.feeds.probes.published import documents
            from mustwatch.ledger.visible import plain_json

            cellar = context.cellar_view()
            context.out(plain_json(documents(plan.publish or "mustwatch", cellar, context.findings(cellar))))
            return DONE
        if not plan.probes and not plan.publish:
            raise Refused("cellar.toml names no probe; `mustwatch listen --help` shows how")
        return once(context, plan) if args.once else listening(context, plan)
    except ValueError as why:
        raise Refused(visible(str(why))) from None


def once(context: Context, plan: Plan) -> int:
    """One look at each thermometer of the kernel's."""
    from mustwatch.feeds.probes.kernel import value_of
    from mustwatch.feeds.probes.sample import Sample
    from mustwatch.said.figures import degrees

    for probe in plan.probes:
        bound = probe.batch or probe.place
        if probe.source == "mqtt":
            context.out(f"{probe.name}  {bound}  waits for messages on {probe.where['topic']}")
            continue
        found = value_of(probe, context.clock_now)
        shown = found.celsius if isinstance(found, Sample) else None
        said = degrees(shown, context.settings) if shown is not None else getattr(found, "why", "")
        context.out(f"{probe.name}  {bound}  {said}")
    return DONE


def listening(context: Context, plan: Plan) -> int:
    """Listens, until told to stop. Raises Refused where it cannot be."""
    import asyncio

    from mustwatch.feeds.locked import alone
    from mustwatch.feeds.probes.keeper import Keeper
    from mustwatch.feeds.probes.listening import listen
    from mustwatch.ledger.device import machine
    from mustwatch.ledger.visible import visible

    if context.read_only:
        raise Refused(f"not saved: {context.read_only}")
    folder = context.ledger.identity.folder / "feeds"

    def say(text: str) -> None:
        context.err(visible(text))

    name = hashlib.sha256(f"{machine()} {folder}".encode()).hexdigest()[:12]
    settings = _Watched(context, plan, say)
    with alone(folder, "listen"):
        while settings.take_up():
            keeper = Keeper(context.ledger, folder, say)
            keeper.start(settings.plan.probes, context.clock_now)
            asyncio.run(
                listen(
                    settings.plan, keeper, lambda: context.clock_now, name, lambda: states(context), settings.changed
                )
            )
    return DONE


class _Watched:
    """The plan in cellar.toml, watched for a change while the listener runs."""

    def __init__(self, context: Context, plan: Plan, say: Callable[[str], None]) -> None:
        self.plan = plan
        self._context = context
        self._say = say
        self._text = _text_of(context)
        self._next: Plan | None = plan

    def take_up(self) -> bool:
        """Goes over to the plan that is next; False where there is none, and the listener was told to stop."""
        if self._next is None:
            return False
        self.plan, self._next = self._next, None
        return True

    def changed(self) -> bool:
        """Whether the file holds another plan now. A faulty one is told once, and the plan that runs goes on."""
        from mustwatch.feeds.probes.config import plan_of

        text = _text_of(self._context)
        if text == self._text:
            return False
        self._text = text
        settings, fault = self._context.settled()
        try:
            plan = self.plan if fault else plan_of(settings.feeds)
        except ValueError as why:
            plan, fault = self.plan, str(why)
        if fault:
            self._say(f"{fault}; what was listened to before goes on")
        if plan == self.plan:
            return False
        self._say("cellar.toml has changed: listening as it says now")
        self._next = plan
        return True


def _text_of(context: Context) -> str | None:
    """What stands in cellar.toml; None where the file cannot be read."""
    try:
        return context.ledger.settings_text()
    except (OSError, ValueError):
        return None


def states(context: Context) -> Mapping[str, bytes]:
    """Each batch's state as it is published: reckoned by a process that ends, so that this one stays small."""
    import subprocess

    words = [sys.executable, "-m", "mustwatch", "--cellar", str(context.cellar), "listen", "--states"]
    ran = subprocess.run(words, capture_output=True, timeout=300, check=False)
    told = json.loads(ran.stdout) if ran.returncode == 0 else {}
    return {topic: json.dumps(each, ensure_ascii=False).encode() for topic, each in told.items()}


def write_units(args: argparse.Namespace, context: Context, plan: Plan) -> int:
    """Writes the units and says what to do with them."""
    from mustwatch.feeds.probes.units import Place, units
    from mustwatch.ledger.files import own_folder, write_whole

    user = args.unit == "user"
    target = args.to or (Path.home() / ".config/systemd/user" if user else Path("/etc/systemd/system"))
    cellar, state = context.cellar.resolve(), context.ledger.identity.state.resolve()
    own_folder(state)
    command = [sys.executable, "-m", "mustwatch", "--cellar", str(cellar)]
    reads = [
        str(path)
        for path in (Path(sys.prefix).resolve(), Path(sys.base_prefix).resolve(), package(), *secrets(plan))
        if path.is_absolute()
    ]
    place = Place(command, [str(cellar), str(state)], list(dict.fromkeys(reads)),
                  None if user else getpass.getuser(), plan.broker is not None)  # fmt: skip
    target.mkdir(parents=True, exist_ok=True)
    for name, text in units(place).items():
        write_whole(target / name, [text.encode()], 0o644)
        context.out(f"wrote {target / name}")
    how = "systemctl --user" if user else "systemctl"
    warns = "urls_file" in plan.notify
    started = ["mustwatch-listen.service"] if plan.probes or plan.publish else []
    started += ["mustwatch-check.timer"] if warns else []
    if started:
        context.out(f"now: {how} daemon-reload && {how} enable --now {' '.join(started)}")
    if not warns:
        context.out("before you enable mustwatch-check.timer: name feeds.notify.urls_file in cellar.toml")
    if user:
        context.out("and, to have it run while nobody is logged in: loginctl enable-linger")
    return DONE


def package() -> Path:
    """The folder in which this program lies."""
    import mustwatch

    return Path(mustwatch.__file__ or ".").resolve().parent.parent


def secrets(plan: Plan) -> list[Path]:
    """The files of secrets that the units must be able to read."""
    named = [plan.broker.password_file if plan.broker else None, plan.broker.ca_file if plan.broker else None,
             plan.notify.get("urls_file")]  # fmt: skip
    return [Path(str(name)).expanduser() for name in named if name]
