"""File names that every system takes."""

import re
import unicodedata


def file_name(name: str, part: str, ending: str) -> str:
    """`lantern-row-patio-owner.pdf`: small Latin letters and digits of `name`, then part and ending."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    slug = re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")[:60].strip("-") or "job"
    return f"{slug}-{part}.{ending}"
