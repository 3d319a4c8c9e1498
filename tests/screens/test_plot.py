"""The small plotter: dots where they belong, in braille and in ASCII."""

from mustwatch.screens.plot import Canvas, scaled


def text(canvas):
    """The rows of a canvas as text."""
    return ["".join(piece for piece, _ in row) for row in canvas.rows()]


def test_a_falling_line_goes_from_the_upper_left_to_the_lower_right():
    """As gravity does."""
    canvas = Canvas(4, 2)
    canvas.line((0, 1), (1, 0))
    assert text(canvas) == ["⠑⢄  ", "  ⠑⢄"]


def test_ascii_has_two_dots_to_a_cell():
    """Upper, lower and both."""
    canvas = Canvas(3, 1, ascii_only=True)
    canvas.dot(0, 1)
    canvas.dot(0.5, 0)
    canvas.dot(1, 0)
    canvas.dot(1, 1)
    assert text(canvas) == ["'.:"]


def test_signs_lie_above_dots_and_outside_nothing_is_drawn():
    """A reading is an o, whatever line runs through it."""
    canvas = Canvas(3, 1)
    canvas.line((0, 0.5), (1, 0.5))
    canvas.sign(0.5, 0.5, "o", "reading")
    canvas.dot(2, 2)
    canvas.sign(-1, 0, "x")
    assert text(canvas)[0][1] == "o"
    assert ("o", "reading") in canvas.rows()[0]


def test_a_flat_course_is_drawn_in_the_middle():
    """Two equal readings have no range."""
    assert scaled(1.0, 1.0, 1.0) == 0.5
    assert scaled(15, 10, 20) == 0.5


def test_a_band_is_lightly_shaded_between_its_lines():
    """One dot in four inside, none outside."""
    canvas = Canvas(8, 4)
    canvas.band([(0, 0.25), (1, 0.25)], [(0, 0.75), (1, 0.75)], "fan")
    rows = text(canvas)
    assert rows[0].strip() == rows[3].strip() == ""
    dots = sum(bin(ord(char) - 0x2800).count("1") for row in rows for char in row if char != " ")
    assert 8 * 2 * 8 / 4 * 0.8 <= dots <= 8 * 2 * 8 / 4 * 1.3


def test_a_band_whose_ends_lie_outside_is_cut_there():
    """A forecast may reach below the drawing."""
    canvas = Canvas(4, 2)
    canvas.band([(-0.5, -1), (2, -1)], [(-0.5, 3), (2, 3)])
    assert all(char != " " for row in text(canvas) for char in row)
