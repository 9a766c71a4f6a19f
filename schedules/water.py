"""Water in petrol with ethanol: how much it carries before it parts into layers.

An alarm, not an age: rain, condensation or a dirty can bring it, and it freezes or is drawn first.
"""

from __future__ import annotations

from fractions import Fraction

# Published, as quoted by pages on fuel: petrol with a tenth of ethanol carries 0.3 % at 10 F and
# 0.5 % at 60 F. The straight line through both is our judgement.
_COLD_MC, _WARM_MC = Fraction(-110_000, 9), Fraction(140_000, 9)
_COLD_SHARE, _WARM_SHARE = Fraction(3, 1000), Fraction(5, 1000)
_TENTH = Fraction(1, 10)
ALARM = Fraction(1, 2)  # of what it carries in the coldest month


def water_carried(mean_mc: int, *, ethanol: Fraction = _TENTH) -> Fraction:
    """Share of water that petrol carries in itself at so many thousandths of a degree Celsius.

    Nought without ethanol, and in proportion to it: our judgement. Never below nought.
    """
    along = (mean_mc - _COLD_MC) / (_WARM_MC - _COLD_MC)
    share = _COLD_SHARE + (_WARM_SHARE - _COLD_SHARE) * along
    return max(Fraction(0), share) * ethanol / _TENTH


def water_carried_ul(petrol_ul: int, mean_mc: int, *, ethanol: Fraction = _TENTH) -> Fraction:
    """Microlitres of water until so much petrol is saturated."""
    return petrol_ul * water_carried(mean_mc, ethanol=ethanol)


def water_alarm(water_ul: int, petrol_ul: int, *, ethanol: Fraction, coldest_mc: int) -> bool:
    """Whether water found in the petrol is more than half of what it carries in the coldest month;
    without ethanol all water lies below, so any is too much."""
    carried = water_carried_ul(petrol_ul, coldest_mc, ethanol=ethanol)
    return water_ul > 0 and water_ul > carried * ALARM
