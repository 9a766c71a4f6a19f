"""What is said when a request makes no sense, and when the world failed.

Three parts each: what happened, what it means, what to do.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from app.wording.languages import msg
from models.errors import RefusedCode, TroubleCode
from schedules.units import UnitRefusal


@dataclass(frozen=True, slots=True)
class Notice:
    """What happened, what it means, what to do; values stand in braces in any of the three."""

    happened: str
    means: str
    act: str

    @property
    def parts(self) -> tuple[str, str, str]:
        return self.happened, self.means, self.act


NOT_ENTERED = msg("Nothing was entered.")
NOT_CHANGED = msg("Nothing was changed.")
NOT_TAKEN_IN = msg("Nothing was taken in from that file.")
UNTOUCHED = msg("Your file is as it was before.")

_ENTRY: dict[RefusedCode, Notice] = {
    RefusedCode.NOTHING_GIVEN: Notice(
        msg("“{field}” is empty."), NOT_ENTERED, msg("Fill it in and try again.")
    ),
    RefusedCode.TOO_LONG: Notice(
        msg("“{field}” is {length} characters long; {most} is the most it can hold."),
        NOT_ENTERED,
        msg("Shorten it."),
    ),
    RefusedCode.NOT_PLAIN_TEXT: Notice(
        msg("“{field}” holds a character that cannot be shown, at place {position}."),
        NOT_ENTERED,
        msg("Type it again rather than pasting it."),
    ),
    RefusedCode.OUT_OF_RANGE: Notice(
        msg("“{field}” cannot be {value}."),
        msg("It lies between {low} and {high}."),
        msg("Check the figure and its unit."),
    ),
    RefusedCode.UNKNOWN_CODE: Notice(
        msg("“{value}” is nothing that “{field}” knows."), NOT_ENTERED, msg("Pick one of the list.")
    ),
    RefusedCode.DAY_OUT_OF_RANGE: Notice(
        msg("{day} is no day for “{field}”."),
        msg("It can lie between {first} and {last}."),
        msg("Check the year."),
    ),
    RefusedCode.DAY_AHEAD: Notice(
        msg("{day} has not come yet; today is {today}."),
        msg("“{field}” asks for something that has happened."),
        msg("Enter the day it happened."),
    ),
    RefusedCode.DAY_TOO_EARLY: Notice(
        msg("{day} is too early for “{field}”."),
        msg("Before {first} it was not here."),
        msg("Enter that day or a later one."),
    ),
}

_SUBJECT: dict[RefusedCode, Notice] = {
    RefusedCode.NOT_THERE: Notice(
        msg("This is no longer here: {what} {id}."),
        NOT_CHANGED,
        msg("It was probably removed; look at the list again."),
    ),
    RefusedCode.ALREADY_THERE: Notice(
        msg("There is already one called “{name}” ({what})."),
        NOT_ENTERED,
        msg("Give this one another name."),
    ),
    RefusedCode.NOTHING_CHANGED: Notice(
        msg("Everything is already as you want it."), NOT_CHANGED, msg("There is nothing to do.")
    ),
    RefusedCode.ALREADY_CORRECTED: Notice(
        msg("This entry was corrected before: {what} {id}."),
        msg("Only the newest version can be changed."),
        msg("Correct the one that stands in its place."),
    ),
    RefusedCode.HAS_RECORDS: Notice(
        msg("“{name}” has work, fuel or hours entered for it."),
        msg("Removing it would take its past away."),
        msg("Mark it as gone instead; its records stay."),
    ),
    RefusedCode.RETIRED: Notice(
        msg("“{name}” has been gone since {day}."),
        NOT_ENTERED,
        msg("Enter something for a day before that, or bring it back first."),
    ),
    RefusedCode.STILL_FITTED: Notice(
        msg("“{name}” is still fitted to “{machine}”."),
        NOT_CHANGED,
        msg("Take it off there first."),
    ),
    RefusedCode.NOT_FITTED: Notice(
        msg("“{name}” is not fitted to “{machine}”."),
        NOT_CHANGED,
        msg("Look up where it is fitted now."),
    ),
    RefusedCode.PUT_AWAY_ALREADY: Notice(
        msg("“{name}” has been put away since {day}."),
        NOT_CHANGED,
        msg("Get it out again first."),
    ),
    RefusedCode.NOT_PUT_AWAY: Notice(
        msg("“{name}” is not put away."), NOT_CHANGED, msg("There is nothing to get out.")
    ),
    RefusedCode.STEPS_LEFT: Notice(
        msg("Steps without an answer: {left}."),
        NOT_CHANGED,
        msg("Answer each of them; what cannot be done now becomes a job."),
    ),
    RefusedCode.CLOSED_ALREADY: Notice(
        msg("This is closed already: {what} {id}."),
        NOT_CHANGED,
        msg("Note a new one if it came back."),
    ),
}

_FIGURES: dict[RefusedCode, Notice] = {
    RefusedCode.LOWER_THAN_BEFORE: Notice(
        msg("{shown} is less than the {before} read on {day}."),
        msg("Hours do not run backwards."),
        msg("Say whether the meter rolled over, was replaced, or one of the two was mistyped."),
    ),
    RefusedCode.HIGHER_THAN_AFTER: Notice(
        msg("{shown} is more than the {after} read later, on {day}."),
        msg("Hours do not run backwards."),
        msg("Say whether the meter rolled over, was replaced, or one of the two was mistyped."),
    ),
    RefusedCode.NO_METER: Notice(
        msg("“{name}” had no hour meter on {day}."),
        NOT_ENTERED,
        msg("Fit a meter to it first, or enter how long it ran."),
    ),
    RefusedCode.MORE_THAN_THE_DAY: Notice(
        msg("Together that would be {ran} on {day}."),
        msg("A day has 24 hours."),
        msg("Check the time, the day, and what is entered for it already."),
    ),
    RefusedCode.MORE_THAN_THE_DAYS: Notice(
        msg("Since {since} that would be {ran}."),
        msg("At 24 hours a day it could be {most} at most."),
        msg("Check the figure, its unit, and the reading before it."),
    ),
    RefusedCode.SEASON_WITHOUT_DAYS: Notice(
        msg("This season would have days in leap years only."),
        NOT_ENTERED,
        msg("Let it begin earlier or end later."),
    ),
    RefusedCode.NO_ROOM: Notice(
        msg("{volume_ul} do not fit into “{vessel}”; there is room for {room_ul}."),
        NOT_ENTERED,
        msg("Check the amount, or the size of the can or tank."),
    ),
    RefusedCode.NOT_SO_MUCH: Notice(
        msg("{volume_ul} cannot come out of “{vessel}”; it holds {held_ul}."),
        NOT_ENTERED,
        msg("Enter first what is really in it."),
    ),
    RefusedCode.SAME_VESSEL: Notice(
        msg("“{vessel}” cannot be poured into itself."), NOT_ENTERED, msg("Pick another one.")
    ),
    RefusedCode.READING_NEEDS_AMOUNT: Notice(
        msg("{limit}: a figure is missing."), NOT_ENTERED, msg("Enter what you measured.")
    ),
    RefusedCode.READING_NEEDS_SEEN: Notice(
        msg("{limit}: this is seen or not seen, not measured."),
        NOT_ENTERED,
        msg("Say whether you saw it."),
    ),
    RefusedCode.READING_TWICE: Notice(
        msg("{limit}: the same was entered for {day} already."),
        NOT_ENTERED,
        msg("If it was measured twice, tick “It is right as it stands”."),
    ),
    RefusedCode.READING_OF_INCHES: Notice(
        msg(
            "{limit}: some 25 times more or less than on {day}. It may be inches where mm is meant."
        ),
        NOT_ENTERED,
        msg("Type the unit behind the figure, or tick “It is right as it stands”."),
    ),
    RefusedCode.READING_TEN_TIMES: Notice(
        msg("{limit}: some ten times more or less than on {day}. The point may have slipped."),
        NOT_ENTERED,
        msg("Look at the figure again, or tick “It is right as it stands”."),
    ),
    RefusedCode.READING_FAR: Notice(
        msg("{limit}: that is many times the figure it is held against."),
        NOT_ENTERED,
        msg("Look at the figure and its unit again, or tick “It is right as it stands”."),
    ),
    RefusedCode.READING_WORN_BEFORE: Notice(
        msg("{limit}: more worn than it was found later, on {day}."),
        NOT_ENTERED,
        msg(
            "Look at the day and at the figure. If the part was renewed in between, enter that "
            "first; or tick “It is right as it stands”."
        ),
    ),
    RefusedCode.READING_WRONG_WAY: Notice(
        msg("{limit}: less worn than on {day}, though nothing was renewed since."),
        NOT_ENTERED,
        msg(
            "If the part is new, enter that first. If you measured at another place, take the "
            "worst one; or tick “It is right as it stands”."
        ),
    ),
}

_RULES: dict[RefusedCode, Notice] = {
    RefusedCode.RULE_SKIPS_YEARS: Notice(
        msg("“{task}” is done at several times of the year."),
        msg("With two years or more between, nobody could say which of them is meant."),
        msg("Enter less than 24 months."),
    ),
    RefusedCode.RULE_ENDS_ONCE_A_YEAR: Notice(
        msg("“{task}” is done at the end of the season, and that comes once a year."),
        msg("Fewer than 12 months between cannot be kept."),
        msg("Enter 12 months or more; what falls due by hours goes into the hours."),
    ),
    RefusedCode.RULE_NEVER: Notice(
        msg("Without this figure “{task}” would never come due."),
        NOT_CHANGED,
        msg("Give it another figure first."),
    ),
    RefusedCode.RULE_BY_FUEL: Notice(
        msg("“{task}” goes by the age of the fuel, not by months."),
        NOT_CHANGED,
        msg("Enter when the fuel was bought; the day follows from that."),
    ),
    RefusedCode.RULE_FIRST_OF_MANY: Notice(
        msg("“{task}” puts a new part in each time."),
        msg("Hours to the first time would begin again with every new part."),
        msg("Enter the hours between instead."),
    ),
}

NOT_KEPT = msg("The photo was not kept; the file you picked is as it was.")
_PHOTOS: dict[RefusedCode, Notice] = {
    RefusedCode.PHOTO_EMPTY: Notice(
        msg("There is nothing in this file."),
        NOT_KEPT,
        msg("Copy it again from the camera or phone; the copy probably broke off."),
    ),
    RefusedCode.PHOTO_NOT_A_PICTURE: Notice(
        msg("This file is no picture that can be read here."),
        NOT_KEPT,
        msg("Pick a photo as JPEG or PNG; phones can send their pictures as JPEG."),
    ),
    RefusedCode.PHOTO_BROKEN: Notice(
        msg("The picture breaks off half way."),
        NOT_KEPT,
        msg("Copy it again from the camera or phone."),
    ),
    RefusedCode.PHOTO_TOO_LARGE: Notice(
        msg("The picture is too large ({bytes}; {most} at most)."),
        NOT_KEPT,
        msg("Send it from the phone in a smaller size."),
    ),
    RefusedCode.PHOTO_TOO_WIDE: Notice(
        msg("The picture has {width} × {height} dots; it could not be opened safely."),
        NOT_KEPT,
        msg("Pick one of at most {most} dots along its longer edge."),
    ),
    RefusedCode.PHOTOS_FULL: Notice(
        msg("With this one all photos together would come to {bytes}."),
        msg("More than {most} could not be taken in again from an export."),
        msg("Take out photos that nobody looks at any more."),
    ),
    RefusedCode.PHOTOS_ON_PAPER: Notice(
        msg("More than {most} photos do not fit on the papers of a machine."),
        NOT_CHANGED,
        msg("Leave another one off the paper first."),
    ),
}

_IMPORT: dict[RefusedCode, Notice] = {
    RefusedCode.IMPORT_NOT_TEXT: Notice(
        msg("The file is not readable text (from byte {position} on)."),
        NOT_TAKEN_IN,
        msg("Choose the file that was written as an export."),
    ),
    RefusedCode.IMPORT_NOT_JSON: Notice(
        msg("The file breaks off or is garbled at line {line}, column {column}."),
        NOT_TAKEN_IN,
        msg("Export it again where it came from."),
    ),
    RefusedCode.IMPORT_TOO_LARGE: Notice(
        msg("The file is larger than can be taken in at once ({bytes}; {most} at most)."),
        NOT_TAKEN_IN,
        msg("Choose a smaller export."),
    ),
    RefusedCode.IMPORT_TOO_DEEP: Notice(
        msg("The file is nested more than {most} deep at line {line}, column {column}."),
        NOT_TAKEN_IN,
        msg("No export looks like that; choose another file."),
    ),
    RefusedCode.IMPORT_NUMBER: Notice(
        msg("The file holds a number that cannot be kept: {number}."),
        NOT_TAKEN_IN,
        msg("Correct it in the file, or export it again."),
    ),
    RefusedCode.IMPORT_KEY_TWICE: Notice(
        msg("The file says “{key}” twice in one place."),
        NOT_TAKEN_IN,
        msg("Correct it in the file, or export it again."),
    ),
    RefusedCode.IMPORT_SCHEMA: Notice(
        msg("The file is of format {found}; this program reads format {known}."),
        NOT_TAKEN_IN,
        msg("Use the program that wrote it, or a newer one of these."),
    ),
    RefusedCode.IMPORT_FIELD: Notice(
        msg("In {where}, “{field}” is missing or is not what belongs there."),
        NOT_TAKEN_IN,
        msg("Correct it in the file."),
    ),
    RefusedCode.IMPORT_LINK: Notice(
        msg("In {where}, “{field}” points to {uid}, which is not in the file."),
        NOT_TAKEN_IN,
        msg("Export the whole household again."),
    ),
    RefusedCode.IMPORT_TWICE: Notice(
        msg("{uid} stands twice in {where}."), NOT_TAKEN_IN, msg("Take one of the two out.")
    ),
    RefusedCode.IMPORT_CONFLICT: Notice(
        msg("{uid} in {where} is already here and says something else."),
        NOT_TAKEN_IN,
        msg("Take it into an empty household, or change it here by hand."),
    ),
}

REFUSALS: Mapping[RefusedCode, Notice] = {
    **_ENTRY,
    **_SUBJECT,
    **_FIGURES,
    **_RULES,
    **_PHOTOS,
    **_IMPORT,
}

_FILE: dict[TroubleCode, Notice] = {
    TroubleCode.NO_FILE: Notice(
        msg("There is no file at {path}."),
        msg("So there is nothing to read."),
        msg("Check its name; a new one is begun by “Begin a new shed…” or with --new."),
    ),
    TroubleCode.FILE_EXISTS: Notice(
        msg("There is already something at {path}."),
        msg("It was not overwritten."),
        msg("Choose another name."),
    ),
    TroubleCode.NO_FOLDER: Notice(
        msg("The folder of {path} is not there."),
        msg("Nothing was written."),
        msg("Make the folder, or plug in the drive it is on."),
    ),
    TroubleCode.NOT_A_FILE: Notice(
        msg("{path} is a folder or a device, not a file."),
        msg("Nothing can be read from it."),
        msg("Choose the household's file itself."),
    ),
    TroubleCode.LINK_LOOP: Notice(
        msg("{path} is a link that leads back to itself."),
        msg("No file lies behind it."),
        msg("Choose the household's file itself."),
    ),
    TroubleCode.EMPTY_FILE: Notice(
        msg("{path} is empty."),
        msg("It was left as it is."),
        msg("Restore a backup, or remove the empty file and begin anew."),
    ),
    TroubleCode.NOT_A_DATABASE: Notice(
        msg("{path} is not a household."),
        msg("It was left as it is."),
        msg("Choose another file; if it should be one, restore a backup."),
    ),
    TroubleCode.NOT_OURS: Notice(
        msg("{path} belongs to another program."),
        msg("It was left as it is."),
        msg("Choose another file."),
    ),
    TroubleCode.NEWER: Notice(
        msg("{path} was written by a newer version (format {found}; this one reads {known})."),
        msg("It was left as it is, so that nothing in it is lost."),
        msg("Update the program and open it again."),
    ),
    TroubleCode.OLDER_NOT_WRITABLE: Notice(
        msg("{path} is of an older format ({found}; now {known}) and cannot be written to."),
        msg("It has to be brought up to date before it can be read."),
        msg("Copy it to a place where you may write, and open the copy."),
    ),
    TroubleCode.STRANGE_SCHEMA: Notice(
        msg("{path} has something in it that no version put there: {name}."),
        msg("It was left as it is."),
        msg("Restore a backup."),
    ),
    TroubleCode.DAMAGED: Notice(
        msg("{path} is damaged."),
        msg("What is left in it may be wrong."),
        msg("Keep a copy of it, and restore the newest backup."),
    ),
    TroubleCode.SWAPPED: Notice(
        msg("{path} was replaced by another file while it was open."),
        msg("Nothing more is written, so that neither is spoilt."),
        msg("Close it and open it again."),
    ),
}

_DISK: dict[TroubleCode, Notice] = {
    TroubleCode.IN_USE: Notice(
        msg("{path} is open elsewhere: on the computer “{host}”, since {since}."),
        msg("It can be read here, but not changed."),
        msg(
            "Close it there first. If that is another computer and it no longer has the file open, "
            "take it over: firstpull --take-over."
        ),
    ),
    TroubleCode.IN_USE_SOMEWHERE: Notice(
        msg("{path} is open elsewhere; by whom is not known."),
        msg("It can be read here, but not changed."),
        msg(
            "Close it there first. If no computer has it open any more, "
            "take it over: firstpull --take-over."
        ),
    ),
    TroubleCode.READ_ONLY: Notice(
        msg("{path} may be read but not written to."),
        UNTOUCHED,
        msg("Move it to a folder where you may write, or ask for the right to."),
    ),
    TroubleCode.NO_PERMISSION: Notice(
        msg("You are not allowed to open {path}."),
        msg("Nothing can be read."),
        msg("Ask whoever owns it, or choose another file."),
    ),
    TroubleCode.NOT_TO_BE_WRITTEN: Notice(
        msg("You are not allowed to write {path}."),
        msg("Nothing was written."),
        msg("Choose another folder, or ask whoever owns this one."),
    ),
    TroubleCode.DISK_FULL: Notice(
        msg("The disk that holds {path} is full."),
        UNTOUCHED,
        msg("Make room on it and try again."),
    ),
    TroubleCode.DISK_FAILED: Notice(
        msg("The disk that holds {path} did not answer as it should."),
        UNTOUCHED,
        msg("Copy the file to another disk as soon as you can."),
    ),
    TroubleCode.BUSY: Notice(
        msg("Another program is holding on to {path}."),
        UNTOUCHED,
        msg("Wait a moment and try again; a program that syncs folders may be the reason."),
    ),
    TroubleCode.MIGRATION_LOST_ROWS: Notice(
        msg(
            "Bringing {path} up to date would have lost entries: {table}, {before} before, {after} "
            "after."
        ),
        UNTOUCHED,
        msg("Keep using the older version, and report this."),
    ),
    TroubleCode.MIGRATION_BROKE_LINKS: Notice(
        msg("Bringing {path} up to date would have broken links in it: {table}."),
        UNTOUCHED,
        msg("Keep using the older version, and report this."),
    ),
    TroubleCode.BACKUP_DIFFERS: Notice(
        msg("The backup {path} does not hold what was put into it."),
        msg("It cannot be relied on."),
        msg("Take another backup, or restore an older one."),
    ),
    TroubleCode.NO_DIGEST: Notice(
        msg("The backup {path} has lost the note that proves it whole."),
        msg("Nobody can tell whether it is complete."),
        msg("Restore another one, if there is another."),
    ),
    TroubleCode.UNDO_FAILED: Notice(
        msg("This could not be taken back: something else hangs on it by now."),
        UNTOUCHED,
        msg("Correct the entry by hand."),
    ),
    TroubleCode.CHANGED_ELSEWHERE: Notice(
        msg("{path} was changed by another program in the meantime."),
        msg("Everything was read anew; what was done before cannot be taken back any more."),
        msg("Look whether it is still as you want it, and correct entries by hand."),
    ),
    TroubleCode.LOOKING_AHEAD: Notice(
        msg("{day} has not come yet: you are looking ahead."),
        msg("Everything can be read as it will stand then, but nothing is entered or kept."),
        msg("To enter something, start the program without --on."),
    ),
}

TROUBLES: Mapping[TroubleCode, Notice] = {**_FILE, **_DISK}

# Why an amount that was typed is not taken; said beside its field, with an example to follow.
AMOUNTS: Mapping[UnitRefusal, str] = {
    UnitRefusal.EMPTY: msg("Nothing is typed here yet."),
    UnitRefusal.TOO_LONG: msg("That is too long for an amount; type the figure and its unit."),
    UnitRefusal.NOT_A_NUMBER: msg("“{text}” is no amount; type a figure and its unit."),
    UnitRefusal.SEPARATOR_UNCLEAR: msg(
        "“{text}” can be read in two ways; type it with a point, like 12.6, and without marks "
        "between thousands."
    ),
    UnitRefusal.UNKNOWN_UNIT: msg("The unit in “{text}” is not known here."),
    UnitRefusal.WRONG_DIMENSION: msg("The unit in “{text}” measures something else."),
    UnitRefusal.UNIT_UNCLEAR: msg(
        "“{text}”: the US size or the imperial one? Type US or imp first."
    ),
    UnitRefusal.OUNCE_UNCLEAR: msg("“{text}”: type fl oz for a volume; by weight type grams."),
    UnitRefusal.FRACTION_NOT_HERE: msg(
        "“{text}”: this unit takes decimals, not fractions. Inches are typed like 1/16 in."
    ),
    UnitRefusal.FRACTION_WRONG: msg(
        "“{text}” is no fraction anybody measures; type it like 1-1/4."
    ),
    UnitRefusal.NEGATIVE: msg("“{text}” is below zero, and this cannot be."),
    UnitRefusal.MINUTES_WRONG: msg("“{text}”: minutes go up to 59."),
    UnitRefusal.INCHES_WRONG: msg("“{text}”: inches go up to 11 beside feet."),
    UnitRefusal.NOT_WHOLE: msg("“{text}”: only whole numbers here."),
    UnitRefusal.TOO_FINE: msg("“{text}” is smaller than can be kept."),
    UnitRefusal.OUT_OF_RANGE: msg("“{text}” is more than can be kept."),
}
