"""What lies ready on hooks, nails and shelves."""

from __future__ import annotations

from models.words import PaymentSort
from sample_db.chronicle import Chronicle
from sample_db.deeds import paid, stock


def tell(story: Chronicle) -> None:
    """The shelf as it was counted last, and what was bought for it in the year."""
    day = story.last(9, 14)
    bought = (
        ("shear-pin", 1, "6 × 45 mm, soft", "hook 3"),
        ("spark-plug", 2, "four-stroke, 21 mm", "drawer 2"),
        ("tool-spark-plug", 1, "saw and trimmer", "drawer 2"),
        ("auger-belt", 1, "the big thrower", "nail 6"),
        ("engine-oil", 2, "5W-30, 1 L", "shelf"),
        ("fuel-stabiliser", 1, "250 mL", "shelf"),
        ("saw-chain", 1, "40 cm, 60 links", "nail 9"),
        ("bar-oil", 1, "5 L", "floor"),
        ("trimmer-line", 1, "2.4 mm round", "hook 9"),
        ("grease", 1, "cartridge", "drawer 1"),
    )
    for part, quantity, spec, spot in bought:
        story.add(day, stock(part, quantity, spec=spec, spot=spot))
    for month, sort, cents, text in (
        (3, PaymentSort.CONSUMABLE, 2380, "oil and a plug"),
        (9, PaymentSort.CONSUMABLE, 1890, "oil, stabiliser"),
        (10, PaymentSort.PART, 640, "two shear pins"),
    ):
        for when in story.yearly(month, 16):
            story.add(when, paid(when, sort, cents, shop="the mill shop", text=text))
