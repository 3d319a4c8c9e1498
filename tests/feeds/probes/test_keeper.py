"""From values to the ledger: lines once, states once, through any end of the process."""

from datetime import UTC, datetime, timedelta

import pytest
from ledger.conftest import Place

from mustwatch.feeds.probes.config import Bands, Probe
from mustwatch.feeds.probes.keeper import Keeper
from mustwatch.feeds.probes.live import live
from mustwatch.feeds.probes.sample import Fault, Sample
from mustwatch.ledger.codec import parse
from mustwatch.ledger.store import NotSaved

BEGAN = datetime(2026, 5, 1, tzinfo=UTC)
PROBES = (
    Probe("shelf", "mqtt", "fir", where={"topic": "a"}, bands=Bands(600.0)),
    Probe("room", "mqtt", None, "cellar", where={"topic": "b"}, bands=Bands(600.0)),
    Probe("float", "mqtt", "fir", where={"topic": "c", "gravity": "g"}, bands=Bands(3600.0), noise_sg=0.005),
)


@pytest.fixture
def place(tmp_path) -> Place:
    return Place(tmp_path, "home")


def started(place: Place, tmp_path, said: list[str] | None = None, now: datetime = BEGAN) -> Keeper:
    keeper = Keeper(place.again(), tmp_path / "feeds", (said if said is not None else []).append)
    keeper.start(PROBES, now)
    return keeper


def feed(keeper: Keeper, minutes: range, celsius: float = 20.0, name: str = "shelf") -> None:
    for minute in minutes:
        at = BEGAN + timedelta(minutes=minute)
        keeper.take(name, Sample(at, celsius, 1.05 if name == "float" else None, told=True), at)
        keeper.tick(at)


def reads(place: Place) -> list:
    """As they stand in the files: a story leaves out most of a day's."""
    return [event for _, line in place.again().lines() if (event := parse(line)).kind == "read"]


def test_a_batchs_probe_gives_the_musts_warmth_a_places_the_airs(place, tmp_path):
    """With the probe's name, and how many values each line stands for."""
    keeper = started(place, tmp_path)
    for name in ("shelf", "room", "float"):
        feed(keeper, range(0, 70), name=name)
    shelf, room, float_ = (next(e for e in reads(place) if e.probe == name) for name in ("shelf", "room", "float"))
    assert (shelf.batch, shelf.must_c, shelf.n) == ("fir", 20.0, 10)
    assert (room.batch, room.air_c, room.place) == (None, 20.0, "cellar")
    assert (float_.gravity.value, float_.gravity.error, float_.gravity.instrument) == (1.05, 0.005, "float")


def test_any_end_of_the_process_loses_nothing_and_doubles_nothing(place, tmp_path):
    """Begun anew after every few values, without a farewell; the last values are sent again each time."""
    for begin in range(0, 600, 7):
        keeper = started(place, tmp_path)
        feed(keeper, range(max(0, begin - 3), begin + 7), celsius=20 + begin / 100)
    keeper = started(place, tmp_path)
    counted = sum(event.n for event in reads(place)) + len(keeper.spool.waiting["shelf"])
    assert counted == 602


def test_a_line_that_was_saved_but_not_yet_forgotten_is_not_saved_again(place, tmp_path, monkeypatch):
    """Killed between the ledger's word and the spool's."""
    keeper = started(place, tmp_path)
    monkeypatch.setattr(keeper.spool, "told", lambda until: (_ for _ in ()).throw(KeyboardInterrupt))
    with pytest.raises(KeyboardInterrupt):
        feed(keeper, range(0, 20))
    keeper = started(place, tmp_path)
    feed(keeper, range(20, 30), celsius=21)
    assert sum(event.n for event in reads(place)) + len(keeper.spool.waiting["shelf"]) == 10 + 1 + 10


def test_a_state_is_told_once_also_by_the_next_process(place, tmp_path):
    """Lost stays lost until it is well."""
    said: list[str] = []
    keeper = started(place, tmp_path, said)
    feed(keeper, range(0, 3))
    for minute in range(3, 30):
        at = BEGAN + timedelta(minutes=minute)
        keeper.take("shelf", Fault(at, "lost", "has a wrong checksum"), at)
        keeper.tick(at)
    keeper = started(place, tmp_path, said)
    for minute in range(30, 60):
        at = BEGAN + timedelta(minutes=minute)
        keeper.take("shelf", Fault(at, "lost", "has a wrong checksum"), at)
        keeper.tick(at)
    feed(keeper, range(60, 62))
    told = [event.state for event in place.again().read().events if event.kind == "probed" and event.probe == "shelf"]
    assert told == ["lost", "well"]
    assert said[0] == "probe shelf: lost, has a wrong checksum"


def test_a_full_disk_is_said_once_and_the_values_wait(place, tmp_path, monkeypatch):
    """And are saved when there is room again."""
    said: list[str] = []
    keeper = started(place, tmp_path, said)
    full = lambda events, now: (_ for _ in ()).throw(NotSaved("not saved: no space"))  # noqa: E731
    monkeypatch.setattr(keeper.ledger, "append", full)
    feed(keeper, range(0, 700))
    monkeypatch.undo()
    feed(keeper, range(700, 701))
    assert [line for line in said if "space" in line] == ["not saved: no space; the values wait"]
    assert sum(event.n for event in reads(place)) + len(keeper.spool.waiting["shelf"]) == 701


def test_a_probe_that_was_stuck_is_stuck_for_the_next_process_too(place, tmp_path):
    """It shows the same value still; that it did so for days is not forgotten at a start."""
    for begin in range(0, 100, 10):
        keeper = started(place, tmp_path, now=BEGAN + timedelta(hours=begin))
        for hour in range(begin, begin + 10):
            at = BEGAN + timedelta(hours=hour)
            keeper.take("shelf", Sample(at, 20.0, told=True), at)
            keeper.tick(at)
    told = [event.state for event in place.again().read().events if event.kind == "probed" and event.probe == "shelf"]
    assert told == ["stuck"]
    assert max(event.at for event in reads(place)) < BEGAN + timedelta(hours=73)


def test_a_device_under_a_new_name_does_not_count_again(place, tmp_path):
    """Its own file was put back from a copy; what the old one says of the probe still stands."""
    keeper = started(place, tmp_path)
    feed(keeper, range(0, 15))
    (path,) = (place.cellar / "events").glob("*.jsonl")
    path.rename(path.with_name("aaaaaaaaaaaaaaaa.jsonl"))
    keeper = started(place, tmp_path)
    feed(keeper, range(15, 40), celsius=21)
    assert sum(event.n for event in reads(place)) + len(keeper.spool.waiting["shelf"]) == 40


def test_what_is_live_goes_stale(place, tmp_path):
    """Nobody is shown a value of a listener that ended."""
    keeper = started(place, tmp_path)
    feed(keeper, range(0, 2))
    shelf = next(one for one in live(tmp_path / "feeds", BEGAN + timedelta(minutes=3)) if one.probe == "shelf")
    assert (shelf.celsius, shelf.batch, shelf.at) == (20.0, "fir", BEGAN + timedelta(minutes=1))
    assert live(tmp_path / "feeds", BEGAN + timedelta(days=4)) == live(tmp_path / "none", BEGAN) == ()
