import re
from collections.abc import Sequence
from io import BytesIO

import pytest
from babel.messages.catalog import Catalog
from babel.messages.mofile import read_mo

from app.wording.american import american, american_kind
from app.wording.extract import (
    Msgid,
    all_texts,
    compiled,
    kind_names,
    read_catalogue,
    updated,
)
from app.wording.languages import AMERICAN, catalogue_path, fields, translations
from resources.loader import load_catalogue

# Written apart from the rules that draft the translation: what must not be left in it.
BRITISH = re.compile(
    r"""\b(
      petrol | paraffin | carburettors? | tyres? | \w*colour\w* | centre[ds]? | grey(ish)?
    | (milli|centi|kilo)?(litre|metre)s? | spanners? | (?<!like\ a\ )torch(es)? | mains | kerbs?
    | silencers? | strimmers? | aluminium | mould(s|ed|ing|y)? | plough(s|ed|ing)? | jerry\ ?cans?
    | fibre\w* | vapours? | odours? | labour | neighbours? | favour\w* | behaviour | rubbish
    | autumn | callipers? | draughty? | whilst | towards | ageing | judgements? | licen[c]es?
    | programmes? | sulphur | earth-fault | earthed | RCD | methylated | white\ spirit
    | grease\ nipples? | split\ pins? | circlips? | jubilee | smelt | spoilt | burnt | learnt
    | vice | catalogues? | tonnes? | backwards | forwards | afterwards | upwards | downwards
    | anticlockwise | (re)?(fuel|label|cancel|travel|level|model|swivel|shovel)l(ed|ing)
    )\b""",
    re.IGNORECASE | re.VERBOSE,
)


ISE = re.compile(r"\b\w+is(?:e|ed|es|er|ers|ing|ation|ations)\b", re.IGNORECASE)
# Spelt with an s on either side of the ocean.
WITH_S = re.compile(
    r"""\b(
      \w*(wise|rais|nois|pois|prais|cruis|bruis|advis|devis|revis|supervis|exercis|promis)\w*
    | \w*(precise|concise|premise|surpris|disguis|rise|rising|risen|improvis|advertis|likewise)\w*
    | this | vise | dishes | wishes | mis(t|s)\w* | lis\w+ | cris\w+ | his\w*
    )\b""",
    re.IGNORECASE | re.VERBOSE,
)


def british_in(text: str) -> list[str]:
    """The British words in a text, places for values aside."""
    bare = re.sub(r"\{[a-z_]+\}", "", text)
    found = [match[0] for match in BRITISH.finditer(bare)]
    found += [word for word in ISE.findall(bare) if not WITH_S.fullmatch(word)]
    return found


def flat(msgid: str | Sequence[str] | None) -> tuple[str, ...]:
    return (msgid,) if isinstance(msgid, str) else tuple(msgid or ())


@pytest.fixture(scope="module")
def shipped() -> Catalog:
    return read_catalogue(catalogue_path(AMERICAN, "po"))


@pytest.fixture(scope="module")
def texts() -> tuple[Msgid, ...]:
    return all_texts(load_catalogue())


def said(shipped: Catalog, msgid: Msgid) -> tuple[str, ...]:
    entry = shipped.get(msgid)
    if entry is None or not entry.string:
        return flat(msgid)
    return flat(entry.string)


def test_nothing_british_is_left_for_an_american_reader(shipped: Catalog, texts: tuple[Msgid, ...]):
    left = [
        (british_in(text), text)
        for msgid in texts
        for text in said(shipped, msgid)
        if british_in(text)
    ]
    assert not left, (
        "read and, where they can be used as drafted, take: python -m app.wording.extract"
    )


def test_every_british_sentence_that_is_shown_has_its_translation(
    shipped: Catalog, texts: tuple[Msgid, ...]
):
    british = [m for m in texts if any(british_in(text) for text in flat(m))]
    assert len(british) > 50
    missing = [m for m in british if shipped.get(m) is None]
    assert not missing, "run: python -m app.wording.extract"


def test_the_catalogue_is_as_the_extraction_leaves_it(shipped: Catalog):
    again = updated(shipped, load_catalogue())
    assert {e.id: e.string for e in again if e.id} == {e.id: e.string for e in shipped if e.id}


def test_what_was_compiled_is_what_is_written(shipped: Catalog):
    def messages(data: bytes) -> dict[object, object]:
        return {entry.id: entry.string for entry in read_mo(BytesIO(data)) if entry.id}

    assert messages(catalogue_path(AMERICAN, "mo").read_bytes()) == messages(compiled(shipped))


def test_values_have_the_same_places_in_both(shipped: Catalog):
    for entry in shipped:
        if entry.id:
            pairs = zip(flat(entry.id), flat(entry.string), strict=True)
            assert all(fields(one) == fields(other) for one, other in pairs)
            assert all(other for other in flat(entry.string))
            assert entry.string != entry.id


def test_types_of_machine_are_called_by_both_names():
    names = [name for name in kind_names(load_catalogue()) if "snow thrower" in name]
    assert names
    for name in names:
        assert "snow thrower (snow blower)" in translations(AMERICAN).gettext(name)


@pytest.mark.parametrize(
    ("british", "us"),
    [
        ("a can of petrol", "a can of gas"),
        ("Petrol can by the kerb", "Gas can by the curb"),
        ("jerrycans", "gas cans"),
        ("The carburettor bowl, 5 millimetres", "The carburetor bowl, 5 millimeters"),
        ("centred, centre, centring", "centered, center, centering"),
        ("An aluminium silencer, grey mould", "An aluminum muffler, gray mold"),
        ("the mains starter and its mains lead", "the plug-in electric starter and its power cord"),
        (
            "pull it in the vice, on advice; vice versa",
            "pull it in the vise, on advice; vice versa",
        ),
        ("behind an earth-fault device", "behind a ground-fault device"),
        ("in autumn", "in the fall"),
        ("stabiliser, stabilised, recognise", "stabilizer, stabilized, recognize"),
        ("exercise, otherwise, premises, raised", "exercise, otherwise, premises, raised"),
        ("refuelled, levelling", "refueled, leveling"),
        ("a spanner, two SPANNERS, torches", "a wrench, two WRENCHES, flashlights"),
        ("a blow torch", "a blow torch"),
        ("{colour} paint", "{colour} paint"),
        ("d MMM y", "MMM d, y"),
    ],
)
def test_the_rules(british: str, us: str):
    assert american(british) == us


def test_snow_blower_stands_beside_snow_thrower():
    assert american_kind("two-stage snow thrower") == "two-stage snow thrower (snow blower)"
    assert american("the snow thrower") == "the snow thrower"


def test_a_correction_by_hand_is_kept(shipped: Catalog):
    msgid = "Is there a fuel valve between tank and carburettor?"
    corrected = Catalog(locale=AMERICAN)
    corrected.add(msgid, "Does it have a fuel shut-off?")
    corrected.add("nobody says this any more, with petrol", "gone")
    after = updated(corrected, load_catalogue())
    assert after[msgid].string == "Does it have a fuel shut-off?"
    assert after.get("nobody says this any more, with petrol") is None
