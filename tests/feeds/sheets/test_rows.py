"""Tables of others: every field understood by a stated rule, or its row refused with the reason."""

import time
from datetime import UTC, datetime, timedelta, timezone

import pytest

from mustwatch.entry.when import in_zone
from mustwatch.feeds.sheets.grid import Table
from mustwatch.feeds.sheets.rows import from_sheets
from mustwatch.feeds.sheets.text import sheet_of

NOW = datetime(2026, 6, 1, 12, tzinfo=UTC)
HOUR_EAST = timezone(timedelta(hours=1))
HEADER = "batch,at,gravity,scale,sample_c,must_c,ph,note\n"


def table(**more) -> Table:
    return Table(NOW, lambda at: at.replace(tzinfo=HOUR_EAST), **more)


def from_csv(text: str, table: Table):
    """The events of a delimited text."""
    return from_sheets([sheet_of(text, table.names)], table)


def one(row: str, **more):
    """The event of the only row."""
    found = from_csv(HEADER + row + "\n", table(**more))
    assert found.bad == [], found.bad
    return found.events[0][1]


def refused(row: str, **more) -> str:
    """Why the only row is refused."""
    found = from_csv(HEADER + row + "\n", table(**more))
    assert found.events == []
    return found.bad[0].why


def test_a_row_becomes_a_reading():
    """All fields, the time without offset as local."""
    event = one('fir,2026-05-01 18:00,1.060,sg,21,20.5,3.6,"fine, clear"')
    assert (event.kind, event.batch, event.must_c, event.ph, event.note) == ("read", "fir", 20.5, 3.6, "fine, clear")
    assert (event.gravity.value, event.gravity.scale, event.gravity.sample_c) == (1.06, "sg", 21.0)
    assert event.at == datetime(2026, 5, 1, 17, tzinfo=UTC)


def test_a_note_alone_becomes_a_note():
    """No reading is made of nothing."""
    event = one("fir,2026-05-01T18:00:00Z,,,,,,swirled it")
    assert (event.kind, event.note) == ("noted", "swirled it")


@pytest.mark.parametrize(
    ("gravity", "scale", "value"),
    [("1.060", "", 1.06), ("1060", "sg", 1.06), ("998", "", 0.998), ("10.5", "Bx", 10.5), ("-1.2", "brix", -1.2),
     ("12", "Plato", 12.0), ('"1,050"', "", 1.05)],
)  # fmt: skip
def test_scales_and_ways_to_write_a_gravity(gravity, scale, value):
    """Points, decimal comma, brix and plato."""
    assert one(f"fir,2026-05-01,{gravity},{scale}").gravity.value == pytest.approx(value)


@pytest.mark.parametrize(
    ("row", "why"),
    [
        ("fir,2026-05-01,wet", "is no number"),
        ("fir,2026-05-01,１.０５０", "is no number"),
        ("fir,2026-05-01,1_050", "is no number"),
        ("fir,2026-05-01,1.050e400", "is no number"),
        ("fir,2026-05-01,nan", "is no number"),
        ("fir,2026-05-01,0x1", "is no number"),
        ("fir,2026-05-01,10.5,sg", "no specific gravity"),
        ("fir,2026-05-01,1.05,baume", "scale"),
        ("fir,2026-05-01,,,21", "without a gravity"),
        ("fir,2026-05-01,99,brix", "not possible"),
        ("fir,2026-05-01,,,,200", "must_c"),
        ("fir,2026-05-01,,,,,15", "ph"),
        (",2026-05-01,1.05", "no batch"),
        ("../x,2026-05-01,1.05", "tag"),
        ("fir,,1.05", "is no time"),
        ("fir,yesterday,1.05", "is no time"),
        ("fir,2026-02-30,1.05", "is no time"),
        ("fir,9999-12-31T23:59:60Z,1.05", "is no time"),
        ("fir,0001-01-01,1.05,,,,,,,,x", "fields under"),
        ("fir,2027-05-01,1.05", "still to come"),
    ],
)
def test_what_is_not_understood_is_refused_with_the_reason(row, why):
    """Never silently read as something else."""
    assert why in refused(row)


def test_bad_rows_are_named_by_their_line_and_good_ones_still_read():
    """A field with a line end in it does not shift the numbers."""
    text = HEADER + 'fir,2026-05-01,1.06,,,,,"two\nlines"\nfir,2026-05-02,wet\n\nfir,2026-05-03,1.05\n'
    found = from_csv(text, table())
    assert [line for line, _ in found.events] == [3, 6] and [row.line for row in found.bad] == [4]
    assert found.events[0][1].note == "two\nlines"


@pytest.mark.parametrize("sign", [",", ";", "\t"])
def test_common_separators(sign):
    """Told by the header row."""
    found = from_csv(
        sign.join(["batch", "at", "gravity"]) + "\n" + sign.join(["fir", "2026-05-01", "1.06"]) + "\n", table()
    )
    assert found.events[0][1].gravity.value == 1.06


def test_columns_are_mapped_and_unused_ones_told():
    """A mark of the editor's and capitals do not matter."""
    text = "\ufeffDate;Jug;SG;colour\n01.05.2026;fir;1,060;amber\n"
    names = {"at": "Date", "batch": "Jug", "gravity": "SG"}
    found = from_csv(text, table(names=names, date_format="%d.%m.%Y"))
    assert found.unused == ("colour",) and found.events[0][1].at.date().isoformat() == "2026-05-01"
    assert from_csv("Batch,AT,Gravity\nfir,2026-05-01,1.06\n", table()).events


def test_rows_that_name_no_batch_take_the_given_one():
    """A table of one batch needs no such column."""
    found = from_csv("at,gravity\n2026-05-01,1.06\n", table(batch="fir"))
    assert found.events[0][1].batch == "fir"


@pytest.mark.parametrize(
    ("text", "more", "why"),
    [
        ("", {}, "empty"),
        ("gravity\n1\n", {}, "no column at and no column batch"),
        ("at,at,batch\n", {}, "stands twice"),
        ("at,batch\n", {"names": {"ph": "acid"}}, "no column 'acid'"),
        ("at,batch\n", {"names": {"colour": "x"}}, "no column here"),
    ],
)
def test_a_header_that_cannot_be_used_is_refused(text, more, why):
    """Before any row is looked at."""
    with pytest.raises(ValueError, match=why):
        from_csv(text, table(**more))


def test_an_unfinished_quote_is_told():
    """The rest of the file must not vanish in one field."""
    found = from_csv(HEADER + 'fir,2026-05-01,1.06,,,,,"never ended\nfir,2026-05-02,1.05\n', table())
    assert found.bad and "not CSV" in found.bad[0].why


@pytest.mark.parametrize(
    ("row", "value", "scale", "sample_c"),
    [
        ("fir,2026-05-01,10.5Bx,,", 10.5, "brix", None),
        ("fir,2026-05-01,12 °P,plato,", 12.0, "plato", None),
        ("fir,2026-05-01,1.060 SG,,70F", 1.06, "sg", 21.11),
        ('fir,2026-05-01,"1,060",,"21,5 °C"', 1.06, "sg", 21.5),
    ],
)
def test_a_figure_may_carry_its_scale(row, value, scale, sample_c):
    """As quick entry takes them: 10.5Bx, 70F."""
    gravity = one(row).gravity
    assert (gravity.value, gravity.scale, gravity.sample_c) == (value, scale, sample_c)


def test_two_scales_that_differ_are_asked_about():
    """The cell and the column cannot both be right."""
    assert "which one" in refused("fir,2026-05-01,10.5Bx,plato")


def test_a_spreadsheets_word_on_its_separator_is_heeded():
    """Rows keep the numbers they have in the file."""
    found = from_csv("sep=;\r\nbatch;at;gravity\r\nfir;2026-05-01;1,060\r\nfir;2026-05-02;wet\r\n", table())
    assert [number for number, _ in found.events] == [3] and [row.line for row in found.bad] == [4]


def test_a_tag_may_begin_with_a_capital():
    """Spreadsheets write one; tags have none."""
    assert one("Fir,2026-05-01,1.060").batch == "fir"


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("at,batch,gravity,must_c\n2026-05-01,fir,1,050\n", "decimal comma"),
        ("at,batch,temp\n2026-05-01,fir,68\n", "--unit must_c=F"),
        ("at,batch,must_c\n03/04/2026,fir,20\n", "3 Apr or 4 Mar"),
        ("at,batch,must_c\n25/04/2026,fir,20\n04/25/2026,fir,20\n05/04/2026,fir,20\n", "day-first or"),
        ("at,batch,must_c\n26/05/14,fir,20\n26/05/17,fir,20\n", "year first or last"),
        ("at,batch,must_c\n26.05.14,fir,20\n", "year first or last"),
        (
            "at,batch,must_c\n13/04/2026,fir,20\n04/12/2026,fir,20\n05/11/2026,fir,20\n06/10/2026,fir,20\n",
            "day-first or",
        ),
    ],
)
def test_what_could_be_two_things_is_asked(text, why):
    """A torn number, a bare temperature, a day that may be a month: nobody guesses. The last proof alone is a slip."""
    try:
        found = from_csv(text, table())
    except ValueError as asked:
        assert why in str(asked)
    else:
        assert found.events == [] and why in found.bad[0].why


def test_a_name_becomes_a_tag_and_two_names_never_the_same():
    """What a sheet calls a batch is told beside its tag; a known name finds its batch."""
    text = "at,batch,gravity\n2026-05-01,Fir Tree,1.06\n2026-05-02,Old Oak,1.06\n"
    found = from_csv(text, table(known={"old oak": "oak-1"}))
    assert [event.batch for _, event in found.events] == ["fir-tree", "oak-1"]
    again = from_csv(text + "2026-05-03,Fir-Tree!,1.05\n", table(known={"old oak": "oak-1"}))
    assert "--tag" in again.bad[0].why or "tag" in again.bad[0].why


def test_a_row_with_a_date_alone_is_told_and_left_out():
    """Sheets are dated ahead; nothing was measured."""
    found = from_csv("at,batch,gravity\n2026-05-01,fir,1.06\n2026-05-02,fir,\n", table())
    assert len(found.events) == 1 and found.dates_only == [(3, None)] and found.bad == []


def test_the_cellars_own_unit_settles_bare_degrees():
    """Whoever shows temperatures in F writes them in F."""
    found = from_csv("at,batch,temp\n2026-05-01,fir,68\n", table(fahrenheit=True))
    assert found.events[0][1].must_c == 20.0


@pytest.mark.parametrize("text", ["14/05/26,17/05/26,29/05/26", "14.05.26,17.05.26", "5/14/26,5/17/26,5/29/26"])
def test_years_of_two_figures_are_read_where_they_can_only_stand_last(text):
    """The day changes from row to row."""
    rows = "".join(f"{day},fir,{1.09 - n / 100:.3f}\n" for n, day in enumerate(text.split(",")))
    found = from_csv("at,batch,gravity\n" + rows, table())
    assert [f"{event.at:%d %m %Y}" for _, event in found.events][:2] == ["14 05 2026", "17 05 2026"]


def test_of_a_gravity_in_two_scales_the_first_counts_and_is_told():
    """A sheet that reckons Brix beside the gravity."""
    found = from_csv("at,batch,SG,Brix\n2026-05-01,fir,1.042,10.5\n2026-05-02,fir,,10\n", table())
    assert [event.gravity.scale for _, event in found.events] == ["sg", "brix"] and found.doubled == [(2, None)]


def test_a_row_of_the_night_of_the_clock_change_is_a_bad_row_that_names_both_readings(monkeypatch):
    """Nobody guesses which of two hours was meant."""
    monkeypatch.setenv("TZ", "Europe/Berlin")
    time.tzset()
    try:
        found = from_csv("batch,at,gravity\nfir,2026-10-25 02:30,1.05\n", Table(NOW.replace(year=2027), in_zone))
    finally:
        monkeypatch.undo()
        time.tzset()
    assert "write 2026-10-25T02:30+02:00 or 2026-10-25T02:30+01:00" in found.bad[0].why
