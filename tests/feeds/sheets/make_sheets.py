"""Makes the spreadsheets under `made/` as people write them: typed into LibreOffice Calc in a locale, saved by it.

Run by hand where soffice is installed: python tests/feeds/sheets/make_sheets.py. `typed` rows go in through Calc's
text import, which reads them as if a person of that language had typed them: it turns them into numbers, dates and
text after that language's habits. `laid` sheets are written as flat OpenDocument, for several sheets, formulas and
cells whose kind is known. What each must come to stands in `specimens.py`.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from pathlib import Path
from xml.sax.saxutils import escape, quoteattr

sys.path.insert(0, str(Path(__file__).parent))
from specimens import SPECIMENS, Specimen

MADE = Path(__file__).parent / "made"
LANGUAGES = {"en-US": 1033, "en-GB": 2057, "de-DE": 1031, "fr-FR": 1036}
CHARSETS = {"utf-8": 76, "windows-1252": 1, "utf-16": 65535}
QUOTES = {'"': "&quot;"}
CSV = "Text - txt - csv (StarCalc)"
HEAD = (
    '<?xml version="1.0" encoding="UTF-8"?><office:document office:version="1.2"'
    ' office:mimetype="application/vnd.oasis.opendocument.spreadsheet"'
    ' xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0"'
    ' xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0"'
    ' xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"'
    ' xmlns:of="urn:oasis:names:tc:opendocument:xmlns:of:1.2"'
    ' xmlns:style="urn:oasis:names:tc:opendocument:xmlns:style:1.0"'
    ' xmlns:number="urn:oasis:names:tc:opendocument:xmlns:datastyle:1.0"><office:automatic-styles>'
    '<number:date-style style:name="N1"><number:year number:style="long"/><number:text>-</number:text>'
    '<number:month number:style="long"/><number:text>-</number:text><number:day number:style="long"/>'
    "</number:date-style>"
    '<number:date-style style:name="N2"><number:day/><number:text>/</number:text><number:month/>'
    "<number:text>/</number:text><number:year/><number:text> </number:text><number:hours/><number:text>:</number:text>"
    "<number:minutes/></number:date-style>"
    '<number:time-style style:name="N3"><number:hours/><number:text>:</number:text><number:minutes/>'
    "</number:time-style>"
    '<style:style style:name="day" style:family="table-cell" style:data-style-name="N1"/>'
    '<style:style style:name="moment" style:family="table-cell" style:data-style-name="N2"/>'
    '<style:style style:name="clock" style:family="table-cell" style:data-style-name="N3"/>'
    "</office:automatic-styles><office:body><office:spreadsheet>"
)
FOOT = "</office:spreadsheet></office:body></office:document>"


def office(folder: Path, locale: str, source: Path, target: str, infilter: str | None = None) -> None:
    """Has Calc open a file and save it in another form, with the habits of a locale."""
    profile = folder / f"profile-{locale}"
    if not profile.exists():
        (profile / "user").mkdir(parents=True)
        (profile / "user" / "registrymodifications.xcu").write_text(
            '<?xml version="1.0" encoding="UTF-8"?><oor:items xmlns:oor="http://openoffice.org/2001/registry">'
            '<item oor:path="/org.openoffice.Setup/L10N"><prop oor:name="ooSetupSystemLocale" oor:op="fuse">'
            f"<value>{locale}</value></prop></item></oor:items>"
        )
    words = ["soffice", "--headless", "--norestore", f"-env:UserInstallation={profile.as_uri()}"]
    words += [f"--infilter={infilter}"] if infilter else []
    words += ["--convert-to", target, "--outdir", str(folder / "out"), str(source)]
    subprocess.run(words, check=True, capture_output=True, timeout=120)


def flat(sheets: dict[str, list[list[str]]]) -> str:
    """Sheets as flat OpenDocument: d: a day or moment, t: a time, n: a number, f: a formula = its value, else text."""
    return HEAD + "".join(_table(name, rows) for name, rows in sheets.items()) + FOOT


def _table(name: str, rows: list[list[str]]) -> str:
    inner = "".join(f"<table:table-row>{''.join(map(_cell, row))}</table:table-row>" for row in rows)
    return f"<table:table table:name={quoteattr(name)}>{inner}</table:table>"


def _cell(text: str) -> str:
    kind, _, value = text.partition(":")
    if text == "":
        return "<table:table-cell/>"
    if kind == "n":
        return f'<table:table-cell office:value-type="float" office:value="{value}"/>'
    if kind == "d":
        style = "moment" if "T" in value else "day"
        return f'<table:table-cell table:style-name="{style}" office:value-type="date" office:date-value="{value}"/>'
    if kind == "t":
        hour, minute = value.split(":")
        long = f"PT{hour}H{minute}M00S"
        return f'<table:table-cell table:style-name="clock" office:value-type="time" office:time-value="{long}"/>'
    if kind == "f":
        formula, _, result = value.partition(" = ")
        known = f' office:value-type="float" office:value="{result}"' if result else ""
        return f'<table:table-cell table:formula="of:={escape(formula, QUOTES)}"{known}/>'
    return f'<table:table-cell office:value-type="string"><text:p>{escape(text)}</text:p></table:table-cell>'


def make(one: Specimen, folder: Path) -> None:
    """Makes one file."""
    stem, _, ending = one.file.rpartition(".")
    infilter = None
    if one.laid:
        source = folder / f"{stem}.fods"
        source.write_text(flat(one.laid), encoding="utf-8")
    else:
        source = folder / f"{stem}.txt"
        source.write_text(one.typed, encoding="utf-8")
        infilter = f"{CSV}:9,34,76,1,,{LANGUAGES[one.locale]},false,true"
    target = ending
    if ending == "csv":
        shown = f"{CSV}:{ord(one.separator)},34,{CHARSETS[one.encoding]},1,,{LANGUAGES[one.locale]},false,true,false"
        target = f"csv:{shown}"
    office(folder, one.locale, source, target, infilter)
    shutil.copy(folder / "out" / f"{stem}.{ending}", MADE / one.file)


if __name__ == "__main__":
    MADE.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as place:
        for specimen in SPECIMENS:
            if len(sys.argv) < 2 or specimen.file in sys.argv[1:]:
                make(specimen, Path(place))
                print("made", specimen.file)
