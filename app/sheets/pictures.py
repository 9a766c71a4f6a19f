"""Pictures made as small as paper shows them: a photo on a page adds a few dozen kilobytes."""

from __future__ import annotations

from io import BytesIO
from math import ceil

# Two hundred dots an inch: what a printer shows of a photo.
DOTS = 8
QUALITY = 75


def for_paper(jpeg: bytes, width: float, height: float) -> bytes | None:
    """The picture with as many dots as a rectangle of so many millimetres shows, never more than
    it has; None when it cannot be read.

    Law: the same picture gives the same bytes.
    """
    from PIL import Image  # it takes long, and few pages have pictures

    try:
        with Image.open(BytesIO(jpeg)) as opened:
            opened.draft("RGB", (ceil(width * DOTS), ceil(height * DOTS)))
            picture = opened.convert("RGB")
    except (OSError, ValueError, Image.DecompressionBombError):
        return None
    picture.thumbnail((ceil(width * DOTS), ceil(height * DOTS)))
    made = BytesIO()
    picture.save(made, "JPEG", quality=QUALITY, optimize=True)
    return made.getvalue()
