"""Texts that people type, as they are kept."""

import unicodedata


def one_line(text: str) -> str:
    """Give a text on one line with single spaces, without what nobody sees: control, zero-width, direction marks.

    Such marks come with copied text; kept, they make two names that look the same differ, turn a record's words
    around, and stop the files and the database that cannot hold them.
    """
    seen = (letter for letter in text if letter.isspace() or not unicodedata.category(letter).startswith("C"))
    return " ".join("".join(seen).split())
