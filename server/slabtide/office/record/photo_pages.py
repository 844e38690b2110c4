"""The photos with their captions, as many as the form takes; what is left out is said."""

from slabtide.office.record.pages import Writing, some
from slabtide.office.record.paper import SOFT
from slabtide.office.record.pictures import Shot, photo_grid


def photo_pages(page: Writing, most: int, abreast: int, high_mm: float) -> None:
    """Draw up to `most` photos of the job."""
    words = page.words
    page.paper.heading(words("photos.title"), keep_mm=high_mm if page.source.photos else 8)
    shots = [Shot(photo, _caption(page, photo, number)) for photo, number in page.photo_numbers.items()]
    if not shots:
        page.paper.paragraph(words("photos.none"), colour=SOFT)
        return
    held = [shot for shot in shots if shot.photo in page.source.photos]
    damaged = photo_grid(page.paper, held[:most], page.source.photos, abreast, high_mm)
    if len(held) > most:
        page.paper.paragraph(words("photos.more", shown=most, count=len(held)), colour=SOFT)
    missing = len(shots) - len(held) + damaged
    if missing:
        page.paper.paragraph(words("photos.missing", count=missing), colour=SOFT)


def _caption(page: Writing, photo: str, number: int) -> str:
    """Number, time and what it shows, from the photo's own entry or its pin's."""
    view, words = page.view, page.words
    taken = next((one for one in view.photos if one.photo == photo), None)
    pin = next((one for one in view.pins if one.photo == photo or (taken and taken.pin == one.id)), None)
    at = taken.at if taken else pin.at if pin else ""
    pin_words = f"{words(f'pin.{pin.what}')} {page.pin_numbers[pin.id]}" if pin else ""
    bay = page.bay((taken.bay if taken else None) or (pin.bay if pin else None))
    what = some(taken.caption if taken else (pin.note if pin else None), pin_words, bay)
    head = words("photo", number=number)
    return f"{head}, {page.moments.stamp(at)}" + (f": {what}" if what else "")
