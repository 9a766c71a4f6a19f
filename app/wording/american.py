"""British words and what an American owner says instead: the first draft of the American catalogue.

Decision: word for word by rule, so that a sentence added to the catalogue later is covered at the
next extraction; the result lies in the .po to be read and, where a rule is too plain, corrected
there by hand. A correction is kept by later extractions.
"""

import re
from collections.abc import Mapping

# What no rule of spelling can say: how a day is written, and whose gallon is the plain one.
_WHOLE: Mapping[str, str] = {
    "d MMM y": "MMM d, y",
    "EEE d MMM y": "EEE, MMM d, y",
    "d MMM": "MMM d",
    "US fl oz": "fl oz",
    "US pt": "pt",
    "US qt": "qt",
    "US gal": "gal",
    "fl oz": "imp fl oz",
    "pt": "imp pt",
    "qt": "imp qt",
    "gal": "imp gal",
}

# Longer before shorter: the first that fits is taken. A rule is a pattern without its word edges.
_PHRASES: tuple[tuple[str, str], ...] = (
    (r"(?:petrol can|jerry ?can)(s?)", r"gas can\1"),
    (r"mains (?:starter )?(?:cord|lead|cable)", "power cord"),
    (r"mains starter", "plug-in electric starter"),
    (r"mains socket", "wall outlet"),
    (r"mains plug", "power plug"),
    (r"mains water|water mains", "tap water"),
    (r"the mains is (?:out|gone|off)", "the power is out"),
    (r"mains (?:electricity|power|voltage)|the mains", "household current"),
    (r"mains", "household current"),
    (r"wall socket(s?)", r"wall outlet\1"),
    (r"an earth[- ]fault", "a ground-fault"),
    (r"earth[- ]fault", "ground-fault"),
    (r"residual[- ]current device", "ground-fault interrupter"),
    (r"RCD", "GFCI"),
    (r"RCDs", "GFCIs"),
    (r"earth (?=lead|wire|strap|terminal|clip|cable)", "ground "),
    (r"earthed", "grounded"),
    (r"earthing", "grounding"),
    (r"ring spanner", "box-end wrench"),
    (r"open-ended spanner", "open-end wrench"),
    (r"fuel tap", "fuel valve"),
    (r"fuel taps", "fuel valves"),
    (r"petrol tap", "fuel valve"),
    (r"jubilee clip|hose clip", "hose clamp"),
    (r"jubilee clips|hose clips", "hose clamps"),
    (r"split pin", "cotter pin"),
    (r"split pins", "cotter pins"),
    (r"grub screw", "set screw"),
    (r"grease nipple", "grease fitting"),
    (r"grease nipples", "grease fittings"),
    (r"allen key", "hex key"),
    (r"wire wool", "steel wool"),
    (r"methylated spirits?", "denatured alcohol"),
    (r"white spirit", "mineral spirits"),
    (r"bench vice", "bench vise"),
    (r"hedge ?cutter", "hedge trimmer"),
    (r"fizzy drink", "soda"),
)

_WORDS: tuple[tuple[str, str], ...] = (
    (r"petrol", "gas"),
    (r"paraffin", "kerosene"),
    (r"spanner", "wrench"),
    (r"spanners", "wrenches"),
    (r"(?<!blow)(?<!blow )(?<!like a )torch", "flashlight"),
    (r"(?<!blow)(?<!blow )torches", "flashlights"),
    (r"silencer(s?)", r"muffler\1"),
    (r"strimmer(s?)", r"string trimmer\1"),
    (r"rotavator(s?)", r"tiller\1"),
    (r"carburettor(s?)", r"carburetor\1"),
    (r"tyre(s?)", r"tire\1"),
    (r"kerb(s?)", r"curb\1"),
    (r"in (?:the )?autumn", "in the fall"),
    (r"autumn", "fall"),
    (r"aluminium", "aluminum"),
    (r"grey(s|ish|er)?", r"gray\1"),
    (r"plough(s|ed|ing)?", r"plow\1"),
    (r"mould(s|ed|ing|y)?", r"mold\1"),
    (r"smoulder(s|ed|ing)?", r"smolder\1"),
    (r"vice(?! versa)(?!-)", "vise"),
    (r"calliper(s?)", r"caliper\1"),
    (r"draught(s|y)?", r"draft\1"),
    (r"circlip(s?)", r"snap ring\1"),
    (r"gudgeon pin", "wrist pin"),
    (r"anticlockwise", "counterclockwise"),
    (r"rubbish", "trash"),
    (r"dustbin", "trash can"),
    (r"hosepipe", "garden hose"),
    (r"fortnight", "two weeks"),
    (r"whilst", "while"),
    (r"towards", "toward"),
    (r"backwards", "backward"),
    (r"forwards", "forward"),
    (r"afterwards", "afterward"),
    (r"upwards", "upward"),
    (r"downwards", "downward"),
    (r"smelt", "smelled"),
    (r"learnt", "learned"),
    (r"burnt", "burned"),
    (r"spoilt", "spoiled"),
    (r"spelt", "spelled"),
    (r"leant", "leaned"),
    (r"programme(s?)", r"program\1"),
    (r"licence(s?)", r"license\1"),
    (r"catalogue(s?)", r"catalog\1"),
    (r"judgement(s?)", r"judgment\1"),
    (r"ageing", "aging"),
    (r"defence", "defense"),
    (r"practise(s?)", r"practice\1"),
    (r"practised", "practiced"),
    (r"storey(s?)", r"story\1"),
    (r"cheque(s?)", r"check\1"),
    (r"manoeuvre(s?)", r"maneuver\1"),
    (r"sulphur", "sulfur"),
    (r"analyse(d|s)?", r"analyze\1"),
    (r"skilful(ly)?", r"skillful\1"),
    (r"fulfil(s?)", r"fulfill\1"),
    (r"jewellery", "jewelry"),
    (r"woollen", "woolen"),
    (r"tonne(s?)", r"metric ton\1"),
)

# Endings that change in every word of a family; the stems are listed, since others keep theirs.
_OUR = "col|fav|lab|neighb|od|vap|rum|hon|behavi|flav|harb|arm|endeav|rig|vig"
_RE = "cent|fib|lit|met|calib|lust|meag|theat|sab"
_ISE = (
    "recogn|organ|neutral|vapor|stabil|pressur|oxid|winter|minim|maxim|util|galvan|synchron"
    "|standard|special|emphas|summar|normal|prior|apolog|character|crystall|mobil|immobil|sensit"
    "|familiar|real|critic|custom|final|general|memor|vulcan|carbon|magnet|steril|harmon|optim"
    "|categor|civil|author|random"
)
_DOUBLED = (
    "label|cancel|travel|level|fuel|model|signal|channel|dial|tunnel|funnel|panel|shovel|swivel"
    "|pedal"
)
_FAMILIES: tuple[tuple[str, str], ...] = (
    (rf"({_OUR})our(s|ed|ing|less|ful|able|hood)?", r"\1or\2"),
    (rf"((?:milli|centi|kilo)?(?:{_RE}))re(s|glass)?", r"\1er\2"),
    (rf"({_RE})r(ed|ing)", r"\1er\2"),
    (rf"((?:re|un|de)?(?:{_ISE}))is(e|ed|es|er|ers|ing|ation)", r"\1iz\2"),
    (rf"((?:re|un)?(?:{_DOUBLED}))l(ed|ing|er|ers)", r"\1\2"),
)

_RULES = tuple(
    (re.compile(rf"\b(?:{pattern})\b", re.IGNORECASE), said)
    for pattern, said in (*_PHRASES, *_WORDS, *_FAMILIES)
)
_THROWER = re.compile(r"\bsnow thrower\b", re.IGNORECASE)
_PLACE = re.compile(r"(\{[a-z_]+\})")


def american(text: str) -> str:
    """The text in American words and spelling; places for values are left alone."""
    if text in _WHOLE:
        return _WHOLE[text]
    parts = _PLACE.split(text)
    return "".join(part if part.startswith("{") else _americanised(part) for part in parts)


def american_kind(name: str) -> str:
    """The name of a type of machine. *Snow blower* stands beside *snow thrower*: both are said."""
    return american(_THROWER.sub(r"\g<0> (snow blower)", name))


def _americanised(text: str) -> str:
    for pattern, said in _RULES:
        text = pattern.sub(lambda match, said=said: _like(match[0], match.expand(said)), text)
    return text


def _like(before: str, after: str) -> str:
    """The new word with the capitals of the old one."""
    if before.isupper() and len(before) > 1:
        return after.upper()
    if before[:1].isupper() and not after[:1].isupper():
        return after[:1].upper() + after[1:]
    return after
