"""A thermometer's million lines: the story keeps its extremes, and nothing that was corrected."""

from datetime import UTC, datetime, timedelta

from ledger.many_lines import fill

from mustwatch.feeds.probes.average import Line
from mustwatch.feeds.probes.config import Probe
from mustwatch.feeds.probes.keeper import event_of
from mustwatch.ledger.codec import encode
from mustwatch.ledger.condense import Day, bulk
from mustwatch.ledger.crc import sealed
from mustwatch.ledger.drafts import draft, stamped

DAY = datetime(2026, 3, 1, tzinfo=UTC)


def temperatures(place, values, device="7e57000000000001", first=0, batch="fir", **more):
    """Write readings five minutes apart; their ids."""
    ids, lines = [], []
    for number, value in enumerate(values, first):
        event_id = f"0195{number:04x}-0000-7000-8000-{device[-12:]}"
        event = draft("read", DAY + timedelta(minutes=5 * number), batch, must_c=value, **more)
        lines.append(sealed(encode(stamped(event, event_id, number + 1))) + b"\n")
        ids.append(event_id)
    with (place.cellar / "events" / f"{device}.jsonl").open("ab") as file:
        file.write(b"".join(lines))
    return ids


def told(place):
    """The temperatures of the story and how many were left out."""
    found = place.again().read()
    return [event.must_c for event in found.events if event.kind == "read"], found.condensed


def test_up_to_eight_readings_of_a_day_are_kept_whole(place):
    """Somebody who reads often loses nothing."""
    temperatures(place, range(10, 18))
    assert told(place) == ([float(c) for c in range(10, 18)], 0)


def test_of_more_the_lowest_the_highest_and_the_last_are_kept(place):
    """In the order they were read; the others are counted."""
    temperatures(place, [15, 14, 22, 16, 9, 17, 18, 30, 12, 13, 20])
    assert told(place) == ([9.0, 30.0, 20.0], 8)


def test_days_and_batches_are_condensed_apart(place):
    """Twelve readings of one batch hide none of another's."""
    temperatures(place, range(10, 22))
    temperatures(place, [40], batch="elm", first=50)
    temperatures(place, [50], first=400)
    assert told(place) == ([10.0, 21.0, 40.0, 50.0], 10)


def test_readings_that_say_more_are_never_condensed(place):
    """A gravity, a pH or a note is a person's reading."""
    temperatures(place, range(10, 22), ph=3.5)
    assert told(place)[1] == 0
    temperatures(place, range(10, 22), first=20, note="warm today")
    assert told(place)[1] == 0


def test_a_probes_lines_are_condensed_as_it_writes_them(place):
    """Of a batch and of a place, each apart; a float's gravity stays whole."""
    temperatures(place, [15, 14, 22, 16, 9, 17, 18, 30, 12, 13, 20], probe="shelf", n=4)
    assert told(place) == ([9.0, 30.0, 20.0], 8)
    attic, floating = Probe("attic", "w1", place="attic"), Probe("float", "mqtt", batch="fir")
    minutes = [DAY + timedelta(minutes=n) for n in range(12)]
    place.ledger.append([event_of(attic, Line(at, 10.0 + n, None, 3)) for n, at in enumerate(minutes)], DAY)
    place.ledger.append([event_of(floating, Line(at, 20.0, 1.05, 3)) for at in minutes], DAY)
    events = place.again().read().events
    assert [event.air_c for event in events if event.batch is None] == [10.0, 21.0]
    assert sum(event.kind == "read" and event.gravity is not None for event in events) == 12


def test_a_corrected_reading_is_never_condensed(place):
    """Neither the one taken back nor the extreme that then counts."""
    ids = temperatures(place, [15, 14, 22, 16, 9, 17, 18, 30, 12, 13, 20, 21])
    place.ledger.append([draft("withdrew", DAY, "fir", target=ids[7])], DAY)
    place.ledger.append([draft("amended", DAY, "fir", target=ids[2], set={"must_c": 23})], DAY)
    assert told(place) == ([22.0, 9.0, 30.0, 21.0], 8)


def test_the_same_readings_in_two_files_count_once(place):
    """A sync's copy of the thermometer's file."""
    temperatures(place, range(10, 22))
    path = place.cellar / "events" / "7e57000000000001.jsonl"
    path.with_name("7e57000000000001 (1).jsonl").write_bytes(path.read_bytes())
    assert told(place)[0] == [10.0, 21.0]


def test_two_thermometers_of_one_batch_are_condensed_together(place):
    """The union's extremes, wherever they were written."""
    temperatures(place, [15, 10, 16, 17, 18, 19])
    temperatures(place, [20, 30, 21, 22, 23, 5], device="7e57000000000002", first=20)
    values, hidden = told(place)
    assert values == [30.0, 5.0] and hidden == 10


def test_an_impossible_temperature_is_told_not_taken_for_the_highest(place):
    """999 °C from a broken probe must not push the real highest out."""
    temperatures(place, range(10, 22))
    line = (place.cellar / "events" / "7e57000000000001.jsonl").read_bytes().splitlines()[0]
    bad = sealed(line[:-18].replace(b'"must_c":10.0', b'"must_c":999.0').replace(b"01950000", b"0195ffff") + b"}")
    (place.cellar / "events" / "7e57000000000002.jsonl").write_bytes(bad + b"\n")
    found = place.again().read()
    assert [t.kind for t in found.troubles] == ["damaged"]
    assert max(event.must_c for event in found.events) == 21.0


def test_looking_back_condenses_what_had_happened_by_itself(place):
    """`--now` in the middle of a day: its lowest, highest and last stay, whatever was read later that day."""
    temperatures(place, range(10, 30))
    then = DAY + timedelta(minutes=5 * 10)
    found = place.again().read(then)
    assert [event.must_c for event in found.events if event.at <= then] == [10.0, 20.0] and found.condensed == 16


def test_a_day_is_a_day_in_utc_whatever_the_offset(place):
    """The same moment written with two offsets falls on the same day."""
    head = b'{"v":1,"id":"01950000-0000-7000-8000-000000000001","seq":1,"at":"%b"'
    line = head + b',"batch":"fir","kind":"read","must_c":20.5}'
    keys = {bulk(line % at, "a.jsonl", 1)[0] for at in (b"2026-03-01T23:30:00Z", b"2026-03-02T01:30:00+02:00")}
    assert keys == {("fir", "2026-03-01", "must")}


def test_a_day_is_the_same_in_any_order():
    """Which file is read first must not matter."""
    readings = [(float(n * 7 % 23), f"2026-03-01T00:{n:02d}:00", f"id{n:02d}", "a.jsonl", n, b"") for n in range(23)]

    def kept(some):
        day = Day()
        for reading in some:
            day.take(reading)
        return {reading[2] for reading in day.kept}, day.hidden

    for split in (1, 4, 8, 9, 15, 22):
        assert kept(readings[split:] + readings[:split]) == kept(readings) == kept(reversed(readings))
        eight = readings[:8]
        assert kept(eight[split:] + eight + eight[:split]) == ({reading[2] for reading in eight}, 0)


def test_a_large_cellar_reads_the_same_streamed_or_condensed(place):
    """Twenty thousand lines: the extremes of every day are in both."""
    fill(place.cellar, 20_000, 60)
    found = place.again().read()
    total = sum(1 for _ in place.again().lines())
    assert total == 20_000 == len(found.events) + found.condensed
