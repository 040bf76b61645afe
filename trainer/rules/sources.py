"""The documents that several rules cite, each with clause and edition."""

from trainer.rules.registry import Source


def ufgs_membrane(clause: str) -> Source:
    """Cite the government guide specification for modified bituminous membrane roofing."""
    return Source("UFGS 07 52 00 Modified Bituminous Membrane Roofing", clause, "", "US federal work")


def ufgs_metal(clause: str) -> Source:
    """Cite the government guide specification for flashing and sheet metal."""
    return Source("UFGS 07 60 00 Flashing and Sheet Metal", clause, "", "US federal work")


HANDBOOK_44 = Source("NIST Handbook 44", "Appendix C", "", "US")
IBC_RAIN = Source("International Building Code", "1611.1", "", "US model code")


def osha(clause: str) -> Source:
    """Cite the federal construction safety rules; states may ask for more."""
    return Source(f"29 CFR {clause}", "", "", "US federal; state plans differ")


GEOMETRY = Source("definition", "geometry")
