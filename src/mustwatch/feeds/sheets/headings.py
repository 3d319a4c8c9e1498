"""Which column is which: the names people give them, in English, German and French."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from mustwatch.feeds.sheets.grid import Cell, Row, Unclear, words

COLUMNS = (
    "batch", "at", "time", "gravity", "scale", "brix", "plato", "sample_c", "must_c", "air_c", "ph", "ta_g_l",
    "free_so2_mg_l", "added", "note",
)  # fmt: skip
TEMPERATURES = ("sample_c", "must_c", "air_c")
HEADER_WITHIN = 25  # rows from the top in which the names of the columns may stand

_NAMES = {
    "batch": "batch; batches; batch name; batch no; batch number; name; jug; carboy; mead; brew; ansatz; charge; lot;"
    " cuvee; brassin; dame jeanne; ballon; met; hydromel; sud; gebinde; batch id",
    "at": "at; date; date time; datetime; day; when; datum; datum uhrzeit; zeitpunkt; date et heure; date heure; jour;"
    " reading date; date read; date of reading; messdatum; timestamp; date taken; date du releve; date mesure",
    "time": "time; uhrzeit; zeit; heure; hour; clock; time of day; time read",
    "gravity": "gravity; sg; specific gravity; spec gravity; hydrometer; hydrometer reading; density; relative density;"
    " dichte; densite; spindel; spindelwert; spezifisches gewicht; rel dichte; current gravity; gravity reading;"
    " gravity sg; sg reading; dichte sg; densite sg; masse volumique; densimetre",
    "scale": "scale; skala; echelle; gravity scale; gravity unit",
    "brix": "brix; bx; degrees brix; grad brix; degre brix; degres brix",
    "plato": "plato; degrees plato; grad plato; degre plato; degres plato",
    "sample_c": "sample c; sample temp; sample temperature; temp of sample; temperature of sample; hydrometer temp;"
    " probentemperatur; proben temp; temperatur der probe; temp echantillon; temperature echantillon;"
    " temperature de l echantillon",
    "must_c": "must c; must temp; must temperature; must; temp; temperature; temperatur; mosttemperatur;"
    " most temp; gartemperatur; temp mout; temperature mout; temperature du mout; fermentation temp;"
    " ferment temp; fermentation temperature; celsius; fahrenheit; degc; degf; t",
    "air_c": "air c; air; air temp; air temperature; room temp; room temperature; ambient; ambient temp;"
    " raumtemperatur; raumtemp; lufttemperatur; luft; temp ambiante; temperature ambiante; temperature de l air; room",
    "ph": "ph; ph value; ph wert; valeur ph; ph reading",
    "ta_g_l": "ta g l; ta; titratable acid; titratable acidity; total acid; gesamtsaure; acidite totale; acidity",
    "free_so2_mg_l": "free so2 mg l; free so2; so2 libre; freie so2; freies so2",
    "added": "added; addition; additions; added what; what was added; substance; zugabe; zugaben; zusatz; zusatze;"
    " ajout; ajouts; additif",
    "note": "note; notes; comment; comments; remark; remarks; notiz; notizen; bemerkung; bemerkungen; kommentar;"
    " kommentare; anmerkung; anmerkungen; remarque; remarques; commentaire; commentaires; observation;"
    " observations; what happened; action; actions; was; journal; diary; log",
}  # fmt: skip
MEANING = {name.strip(): ours for ours, names in _NAMES.items() for name in names.split(";")}
UNIT = re.compile(r"[(\[]([^)\]]*)[)\]]|\bin (°?[cf])$|(°[cf])$|, ?(°?[cf])$", re.IGNORECASE)
SCALES = {"": "sg", "sg": "sg", "brix": "brix", "bx": "brix", "plato": "plato", "p": "plato"}
SAID_OF_UNIT = {
    "c": "C", "celsius": "C", "degc": "C", "deg c": "C", "f": "F", "fahrenheit": "F", "degf": "F", "deg f": "F",
    "sg": "sg", "bx": "brix", "brix": "brix", "plato": "plato", "p": "plato", "g l": "g/l", "mg l": "mg/l",
    "ppm": "mg/l",
}  # fmt: skip
NEEDS_UNIT = {"ta_g_l": "g/l", "free_so2_mg_l": "mg/l"}  # acid is also written in per cent: never guessed


@dataclass(frozen=True, slots=True)
class Columns:
    """Where each of our columns stands, under which name, and the unit its name tells.

    row: the place of the header among the rows; notes: every column with words; unused: names nobody reads;
    width: how many columns the header names.
    """

    row: int
    where: Mapping[str, int]
    names: Mapping[str, str]
    units: Mapping[str, str]
    notes: tuple[int, ...]
    unused: tuple[str, ...]
    width: int


def plain(name: str) -> str:
    """A heading without accents, capitals and signs: `Température (°C)` is `temperature c`.

    >>> plain("Température_moût")
    'temperature mout'
    """
    bare = unicodedata.normalize("NFKD", name.replace("ß", "ss")).casefold()
    bare = "".join(sign for sign in bare if not unicodedata.combining(sign))
    return " ".join(re.sub(r"[^a-z0-9%]+", " ", bare).split())


def meaning(heading: str) -> tuple[str | None, str | None]:
    """(our column, the unit told) of a heading; None where it says nothing."""
    found = UNIT.search(heading)
    told = SAID_OF_UNIT.get(plain(next((part for part in found.groups() if part), ""))) if found else None
    bare = plain(heading)
    ours = MEANING.get(bare)
    if ours is None and found:
        ours = MEANING.get(plain(heading[: found.start()] + heading[found.end() :]))
    if ours is None and " " in bare and bare.rsplit(" ", 1)[1] in ("c", "f"):
        told, ours = bare[-1].upper(), MEANING.get(bare[:-2])
    if bare in ("c", "f", "celsius", "fahrenheit", "degc", "degf"):
        return "must_c", SAID_OF_UNIT[bare]
    if bare.endswith(" c") and ours in TEMPERATURES and told is None:
        told = "C"
    if ours in NEEDS_UNIT and not (told == NEEDS_UNIT[ours] or bare.endswith(NEEDS_UNIT[ours].replace("/", " "))):
        return None, None
    if ours == "gravity" and told in ("brix", "plato"):
        return told, None
    return ours, told


def columns_of(rows: Sequence[Row], names: Mapping[str, str], has_batch: bool) -> Columns:
    """The columns of a sheet, from the row that names them. Raises ValueError saying what is missing, Unclear."""
    for ours in names:
        if ours not in COLUMNS:
            raise ValueError(f"{ours} is no column here; the columns are {', '.join(COLUMNS)}")
    filled = [(place, row) for place, row in enumerate(rows) if not row.blank][:HEADER_WITHIN]
    if not filled:
        raise ValueError("the file is empty; a row must name the columns")
    best = max(filled, key=lambda each: (recognised(each[1].cells, names), -each[0]))
    place, row = best if recognised(best[1].cells, names) else filled[0]
    found = _placed(place, row, names)
    needed = {"at": "at", "batch": "batch (or name one with --batch)"}
    missing = [needed[name] for name in needed if name not in found.where and not (name == "batch" and has_batch)]
    if missing:
        raise ValueError(f"no column {' and no column '.join(missing)}; map yours, such as --column at=Date")
    return found


def recognised(cells: Sequence[Cell], names: Mapping[str, str]) -> int:
    """How many of our columns a row names; a row without a date among them names none."""
    texts = [words(cell) for cell in cells if isinstance(cell, str)]
    found = {ours for text in texts if (ours := meaning(text)[0]) and ours not in names}
    found |= {ours for ours, theirs in names.items() if theirs in texts}
    return len(found) if "at" in found or "tag" in (plain(text) for text in texts) else 0


def _placed(place: int, row: Row, names: Mapping[str, str]) -> Columns:
    header = [words(cell) for cell in row.cells]
    where: dict[str, int] = {}
    units: dict[str, str] = {}
    for asked, theirs in names.items():
        if theirs not in header:
            raise ValueError(
                f"there is no column {theirs!r}; the file has: {', '.join(name for name in header if name)}"
            )
        where[asked] = _once(header, theirs)
    taken, notes = set(where.values()), []
    for at, name in enumerate(header):
        ours, told = meaning(name)
        if ours is None and plain(name) == "tag":
            # The day in German, the batch in English: by what else there is.
            ours = "batch" if any(meaning(other)[0] == "at" for other in header) else "at"
        if ours and at in taken:
            units |= {mine: told for mine, spot in where.items() if spot == at and told}
        if ours is None or at in taken:
            continue
        if ours == "note" and "note" not in names:
            notes.append(at)
        elif ours in where and header[where[ours]] == name:
            raise ValueError(f"the column {name!r} stands twice")
        elif ours in where:
            raise Unclear(f"two columns could be {ours}, {header[where[ours]]!r} and {name!r}:"
                          f" say --column {ours}={header[where[ours]]!r}")  # fmt: skip
        elif ours not in where:
            where[ours] = at
            units |= {ours: told} if told else {}
    notes = [where["note"]] if "note" in names else notes
    if notes:
        where["note"] = notes[0]
    used = {*where.values(), *notes}
    unused = tuple(name for at, name in enumerate(header) if name and at not in used)
    width = max((at for at, name in enumerate(header) if name), default=-1) + 1
    return Columns(place, where, {ours: header[at] for ours, at in where.items()}, units, tuple(notes), unused, width)


def _once(header: Sequence[str], name: str) -> int:
    if header.count(name) > 1:
        raise ValueError(f"the column {name!r} stands twice")
    return header.index(name)
