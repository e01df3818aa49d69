"""Figures large enough to be read from the grill: our own five-row letters in half blocks."""

GLYPH_ROWS = 5
GAP = 1

# Rows from the top, "#" is ink; drawn for this board.
_DRAWN = {
    "0": " ## |#  #|#  #|#  #| ## ",
    "1": " # |## | # | # |###",
    "2": "### |   #| ## |#   |####",
    "3": "### |   #| ## |   #|### ",
    "4": "#  #|#  #|####|   #|   #",
    "5": "####|#   |### |   #|### ",
    "6": " ## |#   |### |#  #| ## ",
    "7": "####|   #|  # | #  | #  ",
    "8": " ## |#  #| ## |#  #| ## ",
    "9": " ## |#  #| ###|   #| ## ",
    "A": " ## |#  #|####|#  #|#  #",
    "B": "### |#  #|### |#  #|### ",
    "C": " ###|#   |#   |#   | ###",
    "D": "### |#  #|#  #|#  #|### ",
    "E": "####|#   |### |#   |####",
    "F": "####|#   |### |#   |#   ",
    "G": " ###|#   |# ##|#  #| ###",
    "H": "#  #|#  #|####|#  #|#  #",
    "I": "###| # | # | # |###",
    "J": "  ##|   #|   #|#  #| ## ",
    "K": "#  #|# # |##  |# # |#  #",
    "L": "#   |#   |#   |#   |####",
    "M": "#   #|## ##|# # #|#   #|#   #",
    "N": "#   #|##  #|# # #|#  ##|#   #",
    "O": " ## |#  #|#  #|#  #| ## ",
    "P": "### |#  #|### |#   |#   ",
    "Q": " ## |#  #|#  #|# # | # #",
    "R": "### |#  #|### |# # |#  #",
    "S": " ###|#   | ## |   #|### ",
    "T": "###| # | # | # | # ",
    "U": "#  #|#  #|#  #|#  #| ## ",
    "V": "#   #|#   #|#   #| # # |  #  ",
    "W": "#   #|#   #|# # #|## ##|#   #",
    "X": "#   #| # # |  #  | # # |#   #",
    "Y": "#   #| # # |  #  |  #  |  #  ",
    "Z": "####|  # | #  |#   |####",
    ":": " |#| |#| ",
    ".": " | | | |#",
    "-": "   |   |###|   |   ",
    "?": "### |   #| ## |    | #  ",
    ",": "  |  |  | #|# ",
    "+": "   | # |###| # |   ",
    "/": "   #|  # | #  |#   |#   ",
    "'": "#|#| | | ",
    " ": "  |  |  |  |  ",
}
GLYPHS = {letter: tuple(rows.split("|")) for letter, rows in _DRAWN.items()}
_HALVES = {(False, False): " ", (True, False): "▀", (False, True): "▄", (True, True): "█"}


def draw(text: str, scale: int) -> tuple[str, ...]:
    """`text` as rows of half blocks, `scale` cells to a pixel across and half as many
    rows down; all rows are equally wide. Letters without a drawing become "?"."""
    glyphs = [GLYPHS.get(letter, GLYPHS["?"]) for letter in text.upper()]
    pixels = [
        "".join(
            cell * scale
            for cell in (" " * GAP).join(glyph[row] for glyph in glyphs)
        )
        for row in range(GLYPH_ROWS)
        for _ in range(scale)
    ]  # fmt: skip
    if len(pixels) % 2:
        pixels.append(" " * len(pixels[0]))
    return tuple(
        "".join(
            _HALVES[upper == "#", lower == "#"] for upper, lower in zip(top, below, strict=True)
        )
        for top, below in zip(pixels[::2], pixels[1::2], strict=True)
    )


def rows_needed(scale: int) -> int:
    """Rows of the terminal that a text drawn at `scale` takes."""
    return (GLYPH_ROWS * scale + 1) // 2


def fitting_scale(text: str, width: int, rows: int) -> int:
    """The largest scale at which `text` fits `width` columns and `rows` rows; 0: none."""
    for scale in range(max(1, 2 * rows // GLYPH_ROWS), 0, -1):
        if rows_needed(scale) <= rows and len(draw(text, scale)[0]) <= width:
            return scale
    return 0
