"""`report`: as text to paste, as a page to print; both tell what the cellar tells."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from pathlib import Path

import pytest
from test_sample_cellar import EXPECTED, SAMPLE


@pytest.fixture
def sample(run):
    """The sample cellar, looked at with one command."""
    return lambda *words: run("--cellar", str(SAMPLE), *words)


def test_the_text_holds_what_helpers_ask_for_first(sample) -> None:
    """Recipe, start gravity, temperature, yeast, and what was done since."""
    out = sample("report", "heather-2").out
    for words in ("1.62 kg heather honey", "start gravity    1.118", "must 14 °C", "white-wine", "Story", "stalled"):
        assert words in out
    assert all(len(line) <= 79 for line in out.splitlines())


def test_json_holds_the_parts_that_the_text_shows(sample) -> None:
    """As every command that prints facts."""
    found = sample("report", "heather-2", "--json").json
    heads = [part["head"] for part in found["sections"] if part["rows"]]
    assert heads == ["Recipe", "Where it stands", "Findings", "Outlook", "Story"] and found["batch"] == "heather-2"
    assert ["start gravity", "1.118"] in found["sections"][0]["rows"]


@pytest.mark.parametrize("tag", EXPECTED)
def test_the_page_and_the_text_tell_the_same(sample, home: Path, tag: str) -> None:
    """Word for word, but for tags and line ends."""
    path = home / "page.html"
    assert sample("report", tag, "--html", str(path)).status == 0
    body = re.sub(r"<style>.*?</style>|<svg.*?</svg>", "", path.read_text("utf-8"), flags=re.DOTALL)
    from html import unescape

    page = " ".join(unescape(re.sub(r"<[^>]*>", " ", body)).split())
    for words in sample("report", tag).out.split():
        assert words in page


def test_what_is_there_and_not_ours_is_not_written_over(fir, home: Path) -> None:
    """Our own page is brought up to date."""
    mine, ours = home / "mine.html", home / "ours.html"
    mine.write_text("<p>dear diary", "utf-8")
    ran = fir("report", "fir", "--html", str(mine))
    assert ran.status == 2 and len(ran.err.splitlines()) == 1 and mine.read_text("utf-8") == "<p>dear diary"
    assert [fir("report", "fir", "--html", str(ours)).status for _ in range(2)] == [0, 0]


def test_a_note_of_several_lines_and_hostile_signs_stays_a_note(fir, home: Path) -> None:
    """On the terminal and on the page."""
    fir("note", "fir", "one\n<b>two</b> \x1b[2J")
    fir("report", "fir", "--html", str(home / "page.html"))
    page, out = (home / "page.html").read_text("utf-8"), fir("report", "fir").out
    assert "&lt;b&gt;two&lt;/b&gt; &lt;1b&gt;[2J" in page and "<b>" not in page
    assert "\x1b" not in out and "<b>two</b> <1b>[2J" in out


CHROMIUM = shutil.which("chromium")


@pytest.mark.skipif(CHROMIUM is None, reason="chromium is not installed")
def test_a_browser_prints_the_page_on_two_sheets_without_a_complaint(sample, home: Path) -> None:
    """The longest of the sample, in a real browser: nothing on its console, no request, two pages at most."""
    path, printed = home / "page.html", home / "page.pdf"
    sample("report", "heather-2", "--html", str(path))
    words = [
        CHROMIUM, "--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--no-first-run",
        f"--user-data-dir={home / 'profile'}", "--enable-logging=stderr", f"--print-to-pdf={printed}", path.as_uri(),
    ]  # fmt: skip
    ran = subprocess.run(words, capture_output=True, text=True, timeout=100, env={**os.environ, "HOME": str(home)})
    assert printed.is_file(), ran.stderr
    assert "CONSOLE" not in ran.stderr
    pages = len(re.findall(rb"/Type\s*/Page\b", printed.read_bytes()))
    assert 1 <= pages <= 2
