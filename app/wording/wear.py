"""Forecasts of wear and comparisons before and after, said in plain sentences."""

from collections.abc import Mapping
from fractions import Fraction

from app.wording.languages import msg
from app.wording.tongue import Tongue
from schedules.lives import Life, Lives
from schedules.trials import Verdict
from schedules.wear import NoForecast, WearMethod

METHODS: Mapping[WearMethod, str] = {
    WearMethod.LINE: msg("from {n} measurements of this part, on a straight line"),
    WearMethod.KNOWN_RATE: msg("from one measurement, and how fast such parts wear as a rule"),
    WearMethod.KNOWN_RATE_AND_READINGS: msg(
        "from {n} measurements, and how fast such parts wear as a rule (its share {share})"
    ),
}

OWN_PARTS: Mapping[WearMethod, str] = {
    WearMethod.KNOWN_RATE: msg(
        "from one measurement, and how fast the {before} parts before it wore here"
    ),
    WearMethod.KNOWN_RATE_AND_READINGS: msg(
        "from {n} measurements, and how fast the {before} parts before it wore here (share of "
        "those {share})"
    ),
}


def lives_said(words: Tongue, lives: Lives) -> str:
    """How long the parts before lasted, with no more certainty than their number carries."""

    def said(life: Life) -> str:
        months = max(1, round(Fraction(life.days * 12, 365)))
        return words.text(
            msg("{hours} in {months}"),
            hours=words.run_time(life.seconds),
            months=words.months(months),
        )

    if lives.count == 1:
        return words.text(
            msg("The part before it lasted {one}. That was one only: a hint, no more."),
            one=said(lives.most),
        )
    span = {
        "least": words.run_time(lives.least.seconds),
        "most": words.run_time(lives.most.seconds),
    }
    if lives.count == 2:
        return words.text(
            msg(
                "The two parts before it lasted {least} and {most}. Only two: the next may differ."
            ),
            **span,
        )
    return words.text(
        msg("The {n} parts before it lasted from {least} to {most}, in the middle {middle}."),
        n=lives.count,
        middle=said(lives.middle),
        **span,
    )


NO_FORECASTS: Mapping[NoForecast, str] = {
    NoForecast.NO_FIGURE: msg(
        "No day: there is no figure at which this part is worn. Your manual may have one; enter it "
        "and the day follows."
    ),
    NoForecast.NO_READING: msg("No day: nothing has been measured since the part was fitted."),
    NoForecast.TOO_FEW: msg(
        "No day yet: three measurements, some hours of work apart, are the least that tell how "
        "fast it wears."
    ),
    NoForecast.SAME_HOURS: msg(
        "No day: every measurement was taken at the same hours. Measure again after some work."
    ),
    NoForecast.TOO_NOISY: msg(
        "No day: the measurements lie too far apart to show how it wears. Take the next ones at "
        "the same place, and twice."
    ),
    NoForecast.WORN: msg("It was past its limit at its first measurement."),
    NoForecast.WRONG_WAY: msg(
        "No day: the part seems to get better with work. Was it renewed? Then enter that. Or was "
        "one measurement taken at another place?"
    ),
}

VERDICTS: Mapping[Verdict, str] = {
    Verdict.BETTER: msg("It helped."),
    Verdict.WORSE: msg("It got worse."),
    Verdict.NO_TELLING: msg("It cannot be told from chance."),
    Verdict.CONDITIONS_DIFFER: msg("The conditions differ: no verdict."),
    Verdict.TOO_FEW: msg("Too few measurements for a verdict."),
}

# What is told by a class, in the order of its figures: nought first.
CLASSES: Mapping[str, tuple[str, ...]] = {
    "L52": (
        msg("dry"),
        msg("wet, no drops"),
        msg("drops that hang"),
        msg("drops that fall"),
    ),
}
