"""The documents that rules cite: their names and clauses, to the letter."""

import pytest

from trainer.rules import COMMON_PRACTICE, DEFINITION, REGISTRY, Source, get_rule
from trainer.rules.sources import GEOMETRY, HANDBOOK_44, IBC_RAIN, osha, osha_letter, ufgs_membrane, ufgs_metal


def test_it_cites_documents_by_name_clause_and_jurisdiction() -> None:
    """Federal guides are for federal work; safety rules are federal, and states differ."""
    membrane = "UFGS 07 52 00 Modified Bituminous Membrane Roofing"
    metal = "UFGS 07 60 00 Flashing and Sheet Metal"

    construction = "29 CFR 1926 Safety and Health Regulations for Construction"
    assert ufgs_membrane("3.3.6") == Source(membrane, "3.3.6", "07550 / 07 52 00", "US federal work")
    assert ufgs_metal("3.1.15") == Source(metal, "3.1.15", "07600 / 07 60 00", "US federal work")
    assert osha("1926.500(b)") == Source(construction, "1926.500(b)", "2007", "US federal; state plans differ")
    assert [osha(f"1926.{section}(b)").edition for section in (501, 502, 1053, 150)] == ["2007", "2007", "2003", "2017"]
    assert str(osha("1926.500(b)")) == f"{construction}, 1926.500(b), 2007, US federal; state plans differ"
    assert str(osha_letter("August 1, 2000", "1926.501(b)(10)")) == (
        "OSHA letter of interpretation, 29 CFR 1926.501(b)(10), August 1, 2000, US federal; state plans differ"
    )
    assert (str(HANDBOOK_44), str(IBC_RAIN)) == (
        "NIST Handbook 44, Appendix C, 2012, US", "International Building Code, 1611.1, 2009, US model code",
    )  # fmt: skip
    assert (str(GEOMETRY), str(DEFINITION), str(COMMON_PRACTICE)) == (
        "definition, geometry", "definition", "common practice",
    )  # fmt: skip


def test_it_cites_the_clause_that_a_rule_works_by() -> None:
    """A look at some of them in the registry."""
    assert str(get_rule("course_count").source).startswith("UFGS 07 52 00")
    assert get_rule("nails_two_rows").source.clause == "3.1.15"
    assert get_rule("ladder_foot_out").source.clause == "1926.1053(b)(5)(i)"


# the gauge is a convention that every table prints alike, no text with editions
NO_EDITION = {"Manufacturers' Standard Gage for sheet steel"}


@pytest.mark.parametrize("name", REGISTRY)
def test_it_says_where_each_rule_stands(name: str) -> None:
    """A rule of one jurisdiction names document, clause and edition; a law of nature or of counting, its formula.

    What is common practice or a definition says so and claims no document.
    """
    source = get_rule(name).source

    if source.jurisdiction:
        assert source.document
        assert source.clause
        assert source.edition or source.document in NO_EDITION
    else:
        assert source in {COMMON_PRACTICE, DEFINITION, GEOMETRY} or source.clause
