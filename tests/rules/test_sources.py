"""The documents that rules cite: their names and clauses, to the letter."""

from trainer.rules import COMMON_PRACTICE, DEFINITION, Source, get_rule
from trainer.rules.sources import GEOMETRY, HANDBOOK_44, IBC_RAIN, osha, ufgs_membrane, ufgs_metal


def test_it_cites_documents_by_name_clause_and_jurisdiction() -> None:
    """Federal guides are for federal work; safety rules are federal, and states differ."""
    membrane = "UFGS 07 52 00 Modified Bituminous Membrane Roofing"
    metal = "UFGS 07 60 00 Flashing and Sheet Metal"

    assert ufgs_membrane("3.3.6") == Source(membrane, "3.3.6", "", "US federal work")
    assert ufgs_metal("3.1.15") == Source(metal, "3.1.15", "", "US federal work")
    assert osha("1926.500(b)") == Source("29 CFR 1926.500(b)", "", "", "US federal; state plans differ")
    assert str(osha("1926.500(b)")) == "29 CFR 1926.500(b), US federal; state plans differ"
    assert (str(HANDBOOK_44), str(IBC_RAIN)) == (
        "NIST Handbook 44, Appendix C, US", "International Building Code, 1611.1, US model code",
    )  # fmt: skip
    assert (str(GEOMETRY), str(DEFINITION), str(COMMON_PRACTICE)) == (
        "definition, geometry", "definition", "common practice",
    )  # fmt: skip


def test_it_cites_the_clause_that_a_rule_works_by() -> None:
    """A look at some of them in the registry."""
    assert str(get_rule("course_count").source).startswith("UFGS 07 52 00")
    assert get_rule("nails_two_rows").source.clause == "3.1.15"
    assert get_rule("ladder_foot_out").source.document == "29 CFR 1926.1053(b)(5)(i)"
