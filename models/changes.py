"""What an act changed, told to whoever shows it; and what the act is called."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from schedules.reasons import Value


class Area(StrEnum):
    """A part of the file that screens show. The id beside it is that of its main row.

    An act that touches anything of a machine also names (MACHINES, machine id), so that a room
    that shows one machine need ask only once.
    """

    HOUSEHOLD = "household"
    PLACES = "places"
    MACHINES = "machines"
    UNITS = "units"
    HOURS = "hours"
    USES = "uses"
    WORK = "work"
    READINGS = "readings"
    TRIALS = "trials"
    STORAGE = "storage"
    FUEL = "fuel"
    JOBS = "jobs"
    FAULTS = "faults"
    SEARCHES = "searches"
    ANSWERS = "answers"
    MONEY = "money"
    STORES = "stores"
    SHEETS = "sheets"
    RUNS = "runs"
    PHOTOS = "photos"


class ActCode(StrEnum):
    """What was done, for the words beside undo and redo."""

    CHANGE_SETTINGS = "change_settings"
    ADD_PLACE = "add_place"
    CHANGE_PLACE = "change_place"
    REMOVE_PLACE = "remove_place"
    ADD_MACHINE = "add_machine"
    CHANGE_MACHINE = "change_machine"
    MOVE_MACHINE = "move_machine"
    RETIRE_MACHINE = "retire_machine"
    REMOVE_MACHINE = "remove_machine"
    ADD_UNIT = "add_unit"
    CHANGE_UNIT = "change_unit"
    FIT_UNIT = "fit_unit"
    TAKE_OFF_UNIT = "take_off_unit"
    SET_METER = "set_meter"
    REPLACE_METER = "replace_meter"
    READ_HOURS = "read_hours"
    ACCEPT_HOURS = "accept_hours"
    LOG_USE = "log_use"
    RECORD_WORK = "record_work"
    PASS_OVER = "pass_over"  # noqa: S105  (work left undone, no word to get in by)
    MEASURE = "measure"
    BEGIN_TRIAL = "begin_trial"
    TRIAL_VALUES = "trial_values"
    TRIAL_CONDITIONS = "trial_conditions"
    CLOSE_TRIAL = "close_trial"
    CORRECT_ENTRY = "correct_entry"
    STRIKE_ENTRY = "strike_entry"
    PUT_AWAY = "put_away"
    WAKE = "wake"
    ADD_VESSEL = "add_vessel"
    CHANGE_VESSEL = "change_vessel"
    FUEL = "fuel"
    NOTE_JOB = "note_job"
    CHANGE_JOB = "change_job"
    DROP_JOB = "drop_job"
    NOTE_FAULT = "note_fault"
    CHANGE_FAULT = "change_fault"
    CLOSE_FAULT = "close_fault"
    BEGIN_SEARCH = "begin_search"
    ANSWER_TEST = "answer_test"
    TRY_CURE = "try_cure"
    TAKE_BACK_STEP = "take_back_step"
    PAUSE_SEARCH = "pause_search"
    CLOSE_SEARCH = "close_search"
    ANSWER = "answer"
    SET_FIGURE = "set_figure"
    PAY = "pay"
    STOCK = "stock"
    PRINT_SHEET = "print_sheet"
    ENTER_SHEET = "enter_sheet"
    BEGIN_RUN = "begin_run"
    ANSWER_STEP = "answer_step"
    START_TIMER = "start_timer"
    LEAVE_RUN = "leave_run"
    FINISH_RUN = "finish_run"
    SAY_NOT_YET = "say_not_yet"
    ADD_PHOTO = "add_photo"
    CHANGE_PHOTO = "change_photo"
    REMOVE_PHOTO = "remove_photo"
    IMPORT = "import"


@dataclass(frozen=True, slots=True)
class ActLabel:
    """What was done and to what: a code and its values (names, days) for the sentence."""

    code: ActCode
    values: tuple[tuple[str, Value], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Changes:
    """Which areas an act touched, which rows of them, and its label. Undo returns the same."""

    areas: frozenset[Area]
    ids: frozenset[tuple[Area, int]]
    label: ActLabel
