"""A PDF read back by a program that did not write it."""

import io
import re

from pypdf import PdfReader


def reader_of(data: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(data), strict=True)


def text_of(data: bytes) -> str:
    """All words of all pages, each run of blanks (line ends too) as one."""
    pages = (page.extract_text() for page in reader_of(data).pages)
    return re.sub(r"[\s\u00a0]+", " ", " ".join(pages))
