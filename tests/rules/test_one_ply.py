"""A specification of one ply with welded seams: what it must hold, and what it need not."""

import re
from pathlib import Path

import pytest

from trainer.rules.contradictions import FROM_MAKER_OF_ONE_PLY, REQUIRED_OF_ONE_PLY
from trainer.rules.specification import ContentError, parse_specification

FILE = Path(__file__).parents[2] / "lessons" / "specifications" / "single-ply-welded" / "2026.toml"
TEXT = FILE.read_text(encoding="utf-8")


def _without(key: str) -> str:
    return re.sub(rf"\[{re.escape(key)}\]\n.*?(?=\n\[|\n#|\Z)", "", TEXT, count=1, flags=re.DOTALL)


def test_it_needs_no_values_of_a_second_ply() -> None:
    """One sheet has no base sheet, no cap sheet and no offset between plies."""
    read = parse_specification(TEXT, FILE.as_posix())

    assert not [key for key in read.values if key.startswith(("base.", "cap.", "plies."))]


@pytest.mark.parametrize("key", [*REQUIRED_OF_ONE_PLY, *FROM_MAKER_OF_ONE_PLY])
def test_it_refuses_a_file_that_lacks_what_every_seam_needs(key: str) -> None:
    """Roll, lap, weld and least temperature are named when they are missing."""
    with pytest.raises(ContentError) as refused:
        parse_specification(_without(key), FILE.as_posix())

    assert f"{key} is missing" in str(refused.value)


def test_it_takes_a_welds_width_from_the_maker_alone() -> None:
    """A weld's width out of common practice is none."""
    own = TEXT.replace('value = "1 1/2 in"\nlimit = "minimum"\ntolerance = "1/16 in"\nmaker = true\n',
                       'value = "1 1/2 in"\nlimit = "minimum"\ntolerance = "1/16 in"\n')  # fmt: skip
    assert own != TEXT

    with pytest.raises(ContentError, match=r"sheet\.weld_width can only come from the maker"):
        parse_specification(own, FILE.as_posix())


def test_it_refuses_a_weld_wider_than_its_lap() -> None:
    """The weld lies in the lap, and may fill it."""
    full = TEXT.replace('[sheet.weld_width]\nvalue = "1 1/2 in"', '[sheet.weld_width]\nvalue = "3 in"')
    assert parse_specification(full, FILE.as_posix()).give("weld_width") == 3
    wide = TEXT.replace('[sheet.weld_width]\nvalue = "1 1/2 in"', '[sheet.weld_width]\nvalue = "3 1/4 in"')

    with pytest.raises(ContentError, match="the weld can't be wider than the lap"):
        parse_specification(wide, FILE.as_posix())
