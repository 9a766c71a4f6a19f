"""Two families: the request makes no sense (`Refused`), or the world failed (`Trouble`).

Both carry a code and named values; sentences are made elsewhere. `REFUSED_VALUES` and
`TROUBLE_VALUES` declare the values of each code, and raising one with others is a ValueError.
Anything else that is raised is a fault of the program. A `detail` is in the system's own words: it
is for whoever mends things and is never shown.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum

from schedules.reasons import Value


class RefusedCode(StrEnum):
    """Why a request was not carried out."""

    # single fields
    NOTHING_GIVEN = "nothing_given"
    TOO_LONG = "too_long"
    NOT_PLAIN_TEXT = "not_plain_text"
    OUT_OF_RANGE = "out_of_range"
    UNKNOWN_CODE = "unknown_code"
    DAY_OUT_OF_RANGE = "day_out_of_range"
    DAY_AHEAD = "day_ahead"
    DAY_TOO_EARLY = "day_too_early"
    # what the request is about
    NOT_THERE = "not_there"
    ALREADY_THERE = "already_there"
    NOTHING_CHANGED = "nothing_changed"
    ALREADY_CORRECTED = "already_corrected"
    HAS_RECORDS = "has_records"
    RETIRED = "retired"
    # hours
    LOWER_THAN_BEFORE = "lower_than_before"
    HIGHER_THAN_AFTER = "higher_than_after"
    NO_METER = "no_meter"
    MORE_THAN_THE_DAY = "more_than_the_day"
    MORE_THAN_THE_DAYS = "more_than_the_days"
    # places
    SEASON_WITHOUT_DAYS = "season_without_days"
    # units and storage
    STILL_FITTED = "still_fitted"
    NOT_FITTED = "not_fitted"
    PUT_AWAY_ALREADY = "put_away_already"
    NOT_PUT_AWAY = "not_put_away"
    # fuel
    NO_ROOM = "no_room"
    NOT_SO_MUCH = "not_so_much"
    SAME_VESSEL = "same_vessel"
    # readings and jobs
    READING_NEEDS_AMOUNT = "reading_needs_amount"
    READING_NEEDS_SEEN = "reading_needs_seen"
    READING_TWICE = "reading_twice"
    READING_OF_INCHES = "reading_of_inches"
    READING_TEN_TIMES = "reading_ten_times"
    READING_WRONG_WAY = "reading_wrong_way"
    READING_FAR = "reading_far"
    READING_WORN_BEFORE = "reading_worn_before"
    CLOSED_ALREADY = "closed_already"
    STEPS_LEFT = "steps_left"
    # photos
    PHOTO_EMPTY = "photo_empty"
    PHOTO_NOT_A_PICTURE = "photo_not_a_picture"
    PHOTO_BROKEN = "photo_broken"
    PHOTO_TOO_LARGE = "photo_too_large"
    PHOTO_TOO_WIDE = "photo_too_wide"
    PHOTOS_FULL = "photos_full"
    PHOTOS_ON_PAPER = "photos_on_paper"
    # figures of the owner's manual
    RULE_SKIPS_YEARS = "rule_skips_years"
    RULE_ENDS_ONCE_A_YEAR = "rule_ends_once_a_year"
    RULE_NEVER = "rule_never"
    RULE_BY_FUEL = "rule_by_fuel"
    RULE_FIRST_OF_MANY = "rule_first_of_many"
    # a file to take in
    IMPORT_NOT_TEXT = "import_not_text"
    IMPORT_NOT_JSON = "import_not_json"
    IMPORT_TOO_LARGE = "import_too_large"
    IMPORT_TOO_DEEP = "import_too_deep"
    IMPORT_NUMBER = "import_number"
    IMPORT_KEY_TWICE = "import_key_twice"
    IMPORT_SCHEMA = "import_schema"
    IMPORT_FIELD = "import_field"
    IMPORT_LINK = "import_link"
    IMPORT_TWICE = "import_twice"
    IMPORT_CONFLICT = "import_conflict"


REFUSED_VALUES: Mapping[RefusedCode, tuple[str, ...]] = {
    RefusedCode.NOTHING_GIVEN: ("field",),
    RefusedCode.TOO_LONG: ("field", "length", "most"),
    RefusedCode.NOT_PLAIN_TEXT: ("field", "position"),
    RefusedCode.OUT_OF_RANGE: ("field", "value", "low", "high"),
    RefusedCode.UNKNOWN_CODE: ("field", "value"),
    RefusedCode.DAY_OUT_OF_RANGE: ("field", "day", "first", "last"),
    RefusedCode.DAY_AHEAD: ("field", "day", "today"),
    RefusedCode.DAY_TOO_EARLY: ("field", "day", "first"),
    RefusedCode.NOT_THERE: ("what", "id"),
    RefusedCode.ALREADY_THERE: ("what", "name"),
    RefusedCode.NOTHING_CHANGED: (),
    RefusedCode.ALREADY_CORRECTED: ("what", "id"),
    RefusedCode.HAS_RECORDS: ("name",),
    RefusedCode.RETIRED: ("name", "day"),
    RefusedCode.LOWER_THAN_BEFORE: ("shown", "before", "day"),
    RefusedCode.HIGHER_THAN_AFTER: ("shown", "after", "day"),
    RefusedCode.NO_METER: ("name", "day"),
    RefusedCode.MORE_THAN_THE_DAY: ("ran", "day"),
    RefusedCode.MORE_THAN_THE_DAYS: ("ran", "most", "since"),
    RefusedCode.SEASON_WITHOUT_DAYS: (),
    RefusedCode.STILL_FITTED: ("name", "machine"),
    RefusedCode.NOT_FITTED: ("name", "machine"),
    RefusedCode.PUT_AWAY_ALREADY: ("name", "day"),
    RefusedCode.NOT_PUT_AWAY: ("name",),
    RefusedCode.NO_ROOM: ("vessel", "volume_ul", "room_ul"),
    RefusedCode.NOT_SO_MUCH: ("vessel", "volume_ul", "held_ul"),
    RefusedCode.SAME_VESSEL: ("vessel",),
    RefusedCode.READING_NEEDS_AMOUNT: ("limit",),
    RefusedCode.READING_NEEDS_SEEN: ("limit",),
    RefusedCode.READING_TWICE: ("limit", "day"),
    RefusedCode.READING_OF_INCHES: ("limit", "day"),
    RefusedCode.READING_TEN_TIMES: ("limit", "day"),
    RefusedCode.READING_WRONG_WAY: ("limit", "day"),
    RefusedCode.READING_FAR: ("limit",),
    RefusedCode.READING_WORN_BEFORE: ("limit", "day"),
    RefusedCode.CLOSED_ALREADY: ("what", "id"),
    RefusedCode.STEPS_LEFT: ("left",),
    RefusedCode.PHOTO_EMPTY: (),
    RefusedCode.PHOTO_NOT_A_PICTURE: (),
    RefusedCode.PHOTO_BROKEN: (),
    RefusedCode.PHOTO_TOO_LARGE: ("bytes", "most"),
    RefusedCode.PHOTO_TOO_WIDE: ("width", "height", "most"),
    RefusedCode.PHOTOS_FULL: ("bytes", "most"),
    RefusedCode.PHOTOS_ON_PAPER: ("most",),
    RefusedCode.RULE_SKIPS_YEARS: ("task",),
    RefusedCode.RULE_ENDS_ONCE_A_YEAR: ("task",),
    RefusedCode.RULE_NEVER: ("task",),
    RefusedCode.RULE_BY_FUEL: ("task",),
    RefusedCode.RULE_FIRST_OF_MANY: ("task",),
    RefusedCode.IMPORT_NOT_TEXT: ("position",),
    RefusedCode.IMPORT_NOT_JSON: ("line", "column"),
    RefusedCode.IMPORT_TOO_LARGE: ("bytes", "most"),
    RefusedCode.IMPORT_TOO_DEEP: ("line", "column", "most"),
    RefusedCode.IMPORT_NUMBER: ("number",),
    RefusedCode.IMPORT_KEY_TWICE: ("key",),
    RefusedCode.IMPORT_SCHEMA: ("found", "known"),
    RefusedCode.IMPORT_FIELD: ("where", "field"),
    RefusedCode.IMPORT_LINK: ("where", "field", "uid"),
    RefusedCode.IMPORT_TWICE: ("where", "uid"),
    RefusedCode.IMPORT_CONFLICT: ("where", "uid"),
}


class TroubleCode(StrEnum):
    """How the world failed."""

    NO_FILE = "no_file"
    FILE_EXISTS = "file_exists"
    NO_FOLDER = "no_folder"
    NOT_A_FILE = "not_a_file"
    LINK_LOOP = "link_loop"
    EMPTY_FILE = "empty_file"
    NOT_A_DATABASE = "not_a_database"
    NOT_OURS = "not_ours"
    NEWER = "newer"
    OLDER_NOT_WRITABLE = "older_not_writable"
    STRANGE_SCHEMA = "strange_schema"
    DAMAGED = "damaged"
    IN_USE = "in_use"
    IN_USE_SOMEWHERE = "in_use_somewhere"
    READ_ONLY = "read_only"
    NO_PERMISSION = "no_permission"
    NOT_TO_BE_WRITTEN = "not_to_be_written"
    DISK_FULL = "disk_full"
    DISK_FAILED = "disk_failed"
    BUSY = "busy"
    SWAPPED = "swapped"
    MIGRATION_LOST_ROWS = "migration_lost_rows"
    MIGRATION_BROKE_LINKS = "migration_broke_links"
    BACKUP_DIFFERS = "backup_differs"
    NO_DIGEST = "no_digest"
    UNDO_FAILED = "undo_failed"
    CHANGED_ELSEWHERE = "changed_elsewhere"
    LOOKING_AHEAD = "looking_ahead"


TROUBLE_VALUES: Mapping[TroubleCode, tuple[str, ...]] = {
    TroubleCode.NO_FILE: ("path",),
    TroubleCode.FILE_EXISTS: ("path",),
    TroubleCode.NO_FOLDER: ("path",),
    TroubleCode.NOT_A_FILE: ("path",),
    TroubleCode.LINK_LOOP: ("path",),
    TroubleCode.EMPTY_FILE: ("path",),
    TroubleCode.NOT_A_DATABASE: ("path",),
    TroubleCode.NOT_OURS: ("path",),
    TroubleCode.NEWER: ("path", "found", "known"),
    TroubleCode.OLDER_NOT_WRITABLE: ("path", "found", "known"),
    TroubleCode.STRANGE_SCHEMA: ("path", "name"),
    TroubleCode.DAMAGED: ("path", "detail"),
    TroubleCode.IN_USE: ("path", "host", "since"),
    TroubleCode.IN_USE_SOMEWHERE: ("path",),
    TroubleCode.READ_ONLY: ("path",),
    TroubleCode.NO_PERMISSION: ("path",),
    TroubleCode.NOT_TO_BE_WRITTEN: ("path",),
    TroubleCode.DISK_FULL: ("path",),
    TroubleCode.DISK_FAILED: ("path", "detail"),
    TroubleCode.BUSY: ("path",),
    TroubleCode.SWAPPED: ("path",),
    TroubleCode.MIGRATION_LOST_ROWS: ("path", "table", "before", "after"),
    TroubleCode.MIGRATION_BROKE_LINKS: ("path", "table"),
    TroubleCode.BACKUP_DIFFERS: ("path",),
    TroubleCode.NO_DIGEST: ("path",),
    TroubleCode.UNDO_FAILED: ("detail",),
    TroubleCode.CHANGED_ELSEWHERE: ("path",),
    TroubleCode.LOOKING_AHEAD: ("day",),
}


class Refused(Exception):  # noqa: N818  (a word of the house: an answer, not a fault)
    """The request makes no sense now: a code and its values, in the order declared."""

    def __init__(self, code: RefusedCode, **values: Value) -> None:
        self.code = code
        self.values = _in_order(code, REFUSED_VALUES[code], values)
        super().__init__(str(code), self.values)


class Trouble(Exception):  # noqa: N818  (a word of the house)
    """The world failed: a code and its values, in the order declared. Nothing was changed."""

    def __init__(self, code: TroubleCode, **values: Value) -> None:
        self.code = code
        self.values = _in_order(code, TROUBLE_VALUES[code], values)
        super().__init__(str(code), self.values)


def _in_order(
    code: StrEnum, declared: tuple[str, ...], values: Mapping[str, Value]
) -> tuple[tuple[str, Value], ...]:
    if set(declared) != set(values):
        raise ValueError(f"{code}: values {sorted(values)} are not {sorted(declared)}")
    return tuple((name, values[name]) for name in declared)
