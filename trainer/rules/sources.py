"""The documents that several rules cite, each with clause and edition: the edition is the one that was read."""

from trainer.rules.registry import Source


def ufgs_membrane(clause: str) -> Source:
    """Cite the government guide specification for modified bituminous membrane roofing."""
    return Source("UFGS 07 52 00 Modified Bituminous Membrane Roofing", clause, "07550 / 07 52 00", "US federal work")


def ufgs_metal(clause: str) -> Source:
    """Cite the government guide specification for flashing and sheet metal."""
    return Source("UFGS 07 60 00 Flashing and Sheet Metal", clause, "07600 / 07 60 00", "US federal work")


HANDBOOK_44 = Source("NIST Handbook 44", "Appendix C", "2012", "US")
IBC_RAIN = Source("International Building Code", "1611.1", "2009", "US model code")


_OSHA = "29 CFR 1926 Safety and Health Regulations for Construction"
# the printing read: of July 1 for falls and ladders, and a quotation of that year for fire
_PRINTED = {"500": "2007", "501": "2007", "502": "2007", "1053": "2003", "150": "2017"}


def osha(clause: str) -> Source:
    """Cite the federal construction safety rules by paragraph, such as 1926.502(f)(1); states may ask for more."""
    section = clause.partition(".")[2].partition("(")[0]
    return Source(_OSHA, clause, _PRINTED[section], "US federal; state plans differ")


def osha_letter(day: str, clause: str) -> Source:
    """Cite a letter in which the federal regulator says how it reads a clause; a letter binds less than the clause."""
    return Source("OSHA letter of interpretation", f"29 CFR {clause}", day, "US federal; state plans differ")


GEOMETRY = Source("definition", "geometry")
