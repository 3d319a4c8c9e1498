# ruff: noqa: E501
"""Thirty-odd sheets as people write them: what was typed, how it was saved, and what it must come to.

`typed` is what a person of that locale types, a tab between cells. `rows` is the truth, written by hand from what was
typed: (batch, local time, gravity with its scale, must in °C, pH, note). `refused` is the truth of what cannot be
taken: (sheet, line, a part of the reason); `question` a part of what is asked. All data is invented.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

Row = tuple[str, str, str, float | None, float | None, str | None]


@dataclass(frozen=True)
class Specimen:
    """One file. told: how it is to be read, as keys of Table; unused: columns that must be told as not used."""

    file: str
    locale: str
    typed: str = ""
    laid: dict[str, list[list[str]]] = field(default_factory=dict)
    separator: str = ","
    encoding: str = "utf-8"
    told: dict[str, Any] = field(default_factory=dict)
    rows: list[Row] = field(default_factory=list)
    refused: list[tuple[str | None, int, str]] = field(default_factory=list)
    question: str = ""
    unused: tuple[str, ...] = ()


def r(batch: str, at: str, gravity: str = "", must: float | None = None, ph: float | None = None,
      note: str | None = None) -> Row:  # fmt: skip
    """One row of truth."""
    return batch, at if " " in at else f"{at} 12:00", gravity, must, ph, note


US = "Date\tSG\tTemp (F)\tNotes\n5/14/2026\t1.092\t70\tpitched\n5/17/2026\t1.070\t72\t\n5/29/2026\t1.012\t68\tslow, smells fine\n"
US_ROWS = [r("fir", "2026-05-14", "1.092", 21.11, None, "pitched"), r("fir", "2026-05-17", "1.07", 22.22),
           r("fir", "2026-05-29", "1.012", 20.0, None, "slow, smells fine")]  # fmt: skip
DE = (
    "Datum\tAnsatz\tDichte\tTemperatur (°C)\tpH-Wert\tBemerkung\n"
    "01.05.2026\theide-2\t1,092\t21,5\t4,1\tgärt schön\n04.05.2026\theide-2\t1,070\t22\t3,8\t\n"
    "06.05.2026\tfichte\t1,050\t20,5\t\tHefe aufgerührt; süß\n"
)
DE_ROWS = [r("heide-2", "2026-05-01", "1.092", 21.5, 4.1, "gärt schön"), r("heide-2", "2026-05-04", "1.07", 22.0, 3.8),
           r("fichte", "2026-05-06", "1.05", 20.5, None, "Hefe aufgerührt; süß")]  # fmt: skip
FR = (
    "Date\tHeure\tCuvée\tDensité\tTempérature (°C)\tpH\tRemarques\n"
    "25/04/2026\t18:30\tbruyère\t1,092\t21,5\t4,1\tdémarrage\n28/04/2026\t08:15\tbruyère\t1,070\t22\t3,8\t\n"
)
FR_ROWS = [r("bruyere", "2026-04-25 18:30", "1.092", 21.5, 4.1, "démarrage"),
           r("bruyere", "2026-04-28 08:15", "1.07", 22.0, 3.8)]  # fmt: skip
GB = "Batch\tDate\tTime\tGravity\tTemp °C\tComments\nfir\t25/04/2026\t18:30\t1.060\t20\tswirled\nheather-2\t02/05/2026\t07:05\t1.052\t19.5\t\n"
GB_ROWS = [
    r("fir", "2026-04-25 18:30", "1.06", 20.0, None, "swirled"),
    r("heather-2", "2026-05-02 07:05", "1.052", 19.5),
]
FIR = {"batch": "fir"}

SPECIMENS = [
    Specimen("us-plain.csv", "en-US", US, told=FIR, rows=US_ROWS),
    Specimen("us-tabs.csv", "en-US", US, separator="\t", encoding="utf-16", told=FIR, rows=US_ROWS),
    Specimen("us-plain.xlsx", "en-US", US, told=FIR, rows=US_ROWS),
    Specimen("us-plain.ods", "en-US", US, told=FIR, rows=US_ROWS),
    Specimen(
        "us-may-be-either.csv",
        "en-US",
        "Date\tSG\n5/4/2026\t1.092\n5/7/2026\t1.07\n",
        told=FIR,
        question="say --dates day-first or --dates month-first",
    ),  # fmt: skip
    Specimen(
        "us-told.csv",
        "en-US",
        "Date\tSG\n5/4/2026\t1.092\n5/7/2026\t1.07\n",
        told={**FIR, "order": "month-first"},
        rows=[r("fir", "2026-05-04", "1.092"), r("fir", "2026-05-07", "1.07")],
    ),  # fmt: skip
    Specimen(
        "us-slips.xlsx",
        "en-US",
        "Date\tSG\n5/4/2026\t1.092\n13/5/2026\t1.07\n",
        told=FIR,
        question="text among true dates",
    ),
    Specimen(
        "us-hours.csv",
        "en-US",
        "Date read\tSpecific Gravity\tMust temp F\n5/14/2026 6:30 PM\t1.092\t70\n5/20/2026 7:05 AM\t1.05\t71\n",
        told=FIR,
        rows=[r("fir", "2026-05-14 18:30", "1.092", 21.11), r("fir", "2026-05-20 07:05", "1.05", 21.67)],
    ),  # fmt: skip
    Specimen(
        "us-bare-degrees.csv",
        "en-US",
        "Date\tSG\tTemp\n5/14/2026\t1.092\t70\n5/20/2026\t1.05\t64\n",
        told=FIR,
        question="without a unit",
    ),  # fmt: skip
    Specimen("gb-slashes.csv", "en-GB", GB, rows=GB_ROWS),
    Specimen("gb-slashes.ods", "en-GB", GB, rows=GB_ROWS),
    Specimen("gb-bars.csv", "en-GB", GB, separator="|", rows=GB_ROWS),
    Specimen("gb-carets.csv", "en-GB", GB, separator="^", rows=GB_ROWS),
    Specimen(
        "gb-brix.xlsx",
        "en-GB",
        "Day\tJug\tBrix\tpH\tlabel colour\n25/04/2026\tfir\t22.4\t3.9\tgreen\n28/04/2026\tfir\t18\t3.7\t\n",
        rows=[r("fir", "2026-04-25", "22.4 brix", None, 3.9), r("fir", "2026-04-28", "18 brix", None, 3.7)],
        unused=("label colour",),
    ),  # fmt: skip
    Specimen(
        "gb-dashes.csv",
        "en-GB",
        "Date\tBatch\tSG\tTemp °C\tpH\n25/04/2026\tfir\t1.060\t-\tn/a\n26/04/2026\tfir\tn/a\t21\t–\n27/04/2026\tfir\t\t\t\n",
        rows=[r("fir", "2026-04-25", "1.06"), r("fir", "2026-04-26", "", 21.0)],
    ),  # fmt: skip
    Specimen(
        "gb-totals.csv",
        "en-GB",
        "Date\tBatch\tSG\n25/04/2026\tfir\t1.060\n26/04/2026\tfir\t1.050\nAverage\t\t1.055\n",
        refused=[(None, 4, "is no time")],
    ),  # fmt: skip
    Specimen(
        "gb-bad-rows.csv",
        "en-GB",
        "Date\tBatch\tSG\tpH\n25/04/2026\tfir\t1.060\t\n26/04/2026\tfir\tabout 1.05\t\n27/04/2026\tfir\t1.05\t38\n31/04/2026\tfir\t1.04\t\n",
        refused=[(None, 3, "is no number"), (None, 4, "ph"), (None, 5, "is no time")],
    ),  # fmt: skip
    Specimen("gb-wide.csv", "en-GB", "Date\tHeather\tFir\n25/04/2026\t1.06\t1.08\n", question="no column batch"),
    Specimen("de-strichpunkt.csv", "de-DE", DE, separator=";", encoding="windows-1252", rows=DE_ROWS),
    Specimen("de-utf16.csv", "de-DE", DE, separator="\t", encoding="utf-16", rows=DE_ROWS),
    Specimen("de-komma.csv", "de-DE", DE, rows=DE_ROWS),
    Specimen("de.xlsx", "de-DE", DE, rows=DE_ROWS),
    Specimen("de.ods", "de-DE", DE, rows=DE_ROWS),
    Specimen(
        "de-punkte.csv",
        "de-DE",
        "Datum\tAnsatz\tSG\n01.05.26\tfichte\t1092\n04.05.26\tfichte\t1.070\n05.05.26\tfichte\t998\n",
        separator=";",
        rows=[
            r("fichte", "2026-05-01", "1.092"),
            r("fichte", "2026-05-04", "1.07"),
            r("fichte", "2026-05-05", "0.998"),
        ],
    ),  # fmt: skip
    Specimen(
        "de-zum-datum-geworden.xlsx",
        "de-DE",
        "Datum\tAnsatz\tSG\tTemperatur (°C)\n01.05.2026\tfichte\t1,092\t21\n04.05.2026\tfichte\t1,070\t20.5.\n",
        refused=[("de-zum-datum-geworden", 3, "the sheet took it for a date")],
    ),  # fmt: skip
    Specimen(
        "de-monatsnamen.csv",
        "de-DE",
        "Tag\tAnsatz\tSpindel\n1. Mai 2026\tfichte\t1,092\n14. März 2026\tfichte\t1,1\n",
        separator=";",
        rows=[r("fichte", "2026-05-01", "1.092"), r("fichte", "2026-03-14", "1.1")],
    ),  # fmt: skip
    Specimen("fr.csv", "fr-FR", FR, separator=";", rows=FR_ROWS),
    Specimen("fr-1252.csv", "fr-FR", FR, separator=";", encoding="windows-1252", rows=FR_ROWS),
    Specimen("fr.xlsx", "fr-FR", FR, rows=FR_ROWS),
    Specimen("fr.ods", "fr-FR", FR, rows=FR_ROWS),
    Specimen(
        "fr-mois.csv",
        "fr-FR",
        "Jour\tCuvée\tDensité\n21 mai 2026\tpin\t1,092\n4 août 2025\tpin\t1,07\n",
        separator=";",
        rows=[r("pin", "2026-05-21", "1.092"), r("pin", "2025-08-04", "1.07")],
    ),  # fmt: skip
    Specimen(
        "one-sheet-a-batch.xlsx",
        "en-GB",
        laid={
            "Heather 2": [
                ["Heather honey, second try"],
                [],
                ["Date", "SG", "Temp (°C)"],
                ["d:2026-05-01T18:30:00", "n:1.092", "n:21"],
                ["d:2026-05-04", "n:1.07", ""],
            ],
            "fir": [["Date", "SG", "Temp (°C)"], ["d:2026-05-02", "n:1.1", "n:20.5"]],
            "shopping": [["honey", "6 kg"], ["yeast", "2"]],
        },
        rows=[
            r("heather-2", "2026-05-01 18:30", "1.092", 21.0),
            r("heather-2", "2026-05-04", "1.07"),
            r("fir", "2026-05-02", "1.1", 20.5),
        ],
    ),  # fmt: skip
    Specimen(
        "one-sheet-a-batch.ods",
        "fr-FR",
        laid={
            "bruyère": [
                ["Date", "Heure", "Densité", "pH"],
                ["", "", "", ""],
                ["d:2026-05-01", "t:18:30", "n:1.092", "n:3.9"],
            ],
            "pin": [
                ["Date", "Heure", "Densité", "pH"],
                ["d:2026-05-02", "", "n:1", "n:3.7"],
                ["d:2026-05-03", "", "n:9", ""],
            ],
        },
        refused=[("pin", 3, "no specific gravity")],
    ),  # fmt: skip
    Specimen(
        "one-for-all.ods",
        "en-GB",
        laid={
            "readings": [
                ["", "My mead log 2026"],
                [],
                ["", "Mead", "Date", "SG", "Temp", "Notes", "Comments"],
                ["", "", "", "", "°C", "", ""],
                ["", "Heather #2", "d:2026-05-01", "n:1.092", "n:21", "pitched", "at noon"],
                ["", "Fir", "d:2026-05-01", "f:1+0.1 = 1.1", "n:20", "", ""],
                ["", "Heather #2", "d:2026-05-04T07:00:00", "n:1.07", "", "", ""],
            ]
        },
        rows=[
            r("heather-2", "2026-05-01", "1.092", 21.0, None, "pitched; at noon"),
            r("fir", "2026-05-01", "1.1", 20.0),
            r("heather-2", "2026-05-04 07:00", "1.07"),
        ],
    ),  # fmt: skip
    Specimen(
        "still-to-come.xlsx",
        "en-GB",
        laid={
            "Sheet1": [["Batch", "Date", "SG"], ["fir", "d:2026-05-01", "n:1.09"], ["fir", "d:2062-05-04", "n:1.08"]]
        },
        refused=[("Sheet1", 3, "still to come")],
    ),  # fmt: skip
    Specimen(
        "gone-wrong.ods",
        "en-GB",
        laid={
            "Sheet1": [
                ["Batch", "Date", "SG", "pH"],
                ["fir", "d:2026-05-01", "f:1/0", "n:3.9"],
                ["fir", "d:2026-05-02", 'f:IF([.D3]=0;0;"")', "n:3.8"],
            ]
        },
        refused=[("Sheet1", 2, "is no number")],
    ),  # fmt: skip
    Specimen(
        "grown-1.csv",
        "en-GB",
        "Batch\tDate\tSG\nfir\t25/04/2026\t1.060\nfir\t25/04/2026\t1.060\n",
        rows=[r("fir", "2026-04-25", "1.06"), r("fir", "2026-04-25", "1.06")],
    ),  # fmt: skip
    Specimen(
        "grown-2.csv",
        "en-GB",
        "Batch\tDate\tSG\nfir\t25/04/2026\t1.060\nfir\t25/04/2026\t1.060\nfir\t28/04/2026\t1.05\n",
        rows=[r("fir", "2026-04-25", "1.06"), r("fir", "2026-04-25", "1.06"), r("fir", "2026-04-28", "1.05")],
    ),  # fmt: skip
]
