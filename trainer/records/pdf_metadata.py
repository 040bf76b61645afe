"""The metadata packet of a PDF/A-3B file (XMP), with one date, so that the same record gives the same bytes."""

from datetime import UTC, datetime
from xml.sax.saxutils import escape

PACKET = """<x:xmpmeta xmlns:x="adobe:ns:meta/">
  <rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"
    xmlns:dc="http://purl.org/dc/elements/1.1/"
    xmlns:xmp="http://ns.adobe.com/xap/1.0/"
    xmlns:pdf="http://ns.adobe.com/pdf/1.3/"
    xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/">
    <rdf:Description rdf:about="">
      <xmp:CreateDate>{at}</xmp:CreateDate>
      <xmp:ModifyDate>{at}</xmp:ModifyDate>
      <xmp:MetadataDate>{at}</xmp:MetadataDate>
      <pdf:Producer>{producer}</pdf:Producer>
      <pdfaid:part>3</pdfaid:part>
      <pdfaid:conformance>B</pdfaid:conformance>
      <dc:title><rdf:Alt><rdf:li xml:lang="x-default">{title}</rdf:li></rdf:Alt></dc:title>
      <dc:description><rdf:Alt><rdf:li xml:lang="x-default">{subject}</rdf:li></rdf:Alt></dc:description>
      <dc:creator><rdf:Seq><rdf:li>{author}</rdf:li></rdf:Seq></dc:creator>
    </rdf:Description>
  </rdf:RDF>
</x:xmpmeta>"""


def packet(*, title: str, subject: str, author: str, producer: str, at: datetime) -> str:
    """Give the packet; the texts must be those of the document's information dictionary."""
    return PACKET.format(
        at=at.astimezone(UTC).isoformat(timespec="seconds"),
        producer=escape(producer),
        title=escape(title),
        subject=escape(subject),
        author=escape(author),
    )
