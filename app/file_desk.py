"""The files themselves: which one is opened or begun, copies that go out, come in, are put back."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Protocol

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QFileDialog

from app.hub import Hub
from app.window import MainWindow
from app.wording.languages import msg
from app.wording.tongue import Tongue
from app.wording.wording import Wording
from app.worker import Worker
from models.disk import told_of, trouble_of_writing
from models.errors import Refused, Trouble, TroubleCode
from models.file import Household, create_household
from models.header import real_path
from models.moment import Moment
from models.words import Language, Paper
from resources.loader import load_catalogue
from schedules.units import UnitSystem

TAKE_OVER = msg(
    "{path} is still marked as open on another computer. If somebody enters something there now, "
    "one of the two loses what was entered. Close it there first; if no computer has it open any "
    "more, choose the same line of the menu once more."
)
HELD = (TroubleCode.IN_USE, TroubleCode.IN_USE_SOMEWHERE)


class Opener(Protocol):
    """Whoever holds the file that is open."""

    @property
    def hub(self) -> Hub | None:
        """The seam to it; None when no file is open."""
        ...

    def open(self, path: Path) -> None:
        """Open another one, or say why not."""
        ...

    def close(self) -> None:
        """Let go of it."""
        ...


class FileDesk(QObject):
    """What the File menu does."""

    def __init__(
        self,
        *,
        window: MainWindow,
        clock: Callable[[], Moment],
        state: Path,
        opener: Opener,
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._window = window
        self._clock = clock
        self._state = state
        self._opener = opener
        self._making: Worker | None = None
        self._backing_up: Worker | None = None
        self._after_backup: Callable[[], None] | None = None
        self._held: Path | None = None  # what another computer was found to hold
        self._warned = False  # of what taking it over may cost

    def ways(self) -> dict[str, Callable[[], object]]:
        """The entries of the menus that are done here."""
        return {
            "open": self.open_wanted,
            "new": self.new_wanted,
            "sample": self.open_sample,
            "backup": self.backup_wanted,
            "restore": self.restore_wanted,
            "export": self.export_wanted,
            "import": self.import_wanted,
            "take_over": self.take_over_wanted,
        }

    # -- which file ----------------------------------------------------------------------------

    def open_wanted(self) -> None:
        """Ask which file to open."""
        path = self._window.ask_file(new=False)
        if path is not None:
            self._opener.open(path)

    def new_wanted(self) -> None:
        """Ask where a new shed is to lie, begin and open it."""
        path = self._window.ask_file(new=True)
        if path is None:
            return
        if path.suffix != ".firstpull":
            path = path.with_name(f"{path.name}.firstpull")
        try:
            begin(path, self._clock(), self._window.tongue).close()
        except (Trouble, OSError) as trouble:
            self.say(trouble, path)
            return
        self._opener.open(path)

    def take_over_wanted(self) -> None:
        """Break the lock that another computer left on the file last asked for, and open that;
        asked twice."""
        from models.lock import take_over

        path = self._held
        if path is None:
            return
        if not self._warned:  # it may be at work there this very minute
            self._warned = True
            self._window.view.say(self._words().text(TAKE_OVER, path=str(path)))
            return
        try:
            take_over(real_path(path), moment=self._clock())
        except Trouble as trouble:
            self.say(trouble, path)
            return
        self._opener.open(path)

    def opened(self, household: Household) -> None:
        """A file is open, perhaps only to be read because another computer holds it."""
        notice = household.notice
        self._hold(household.path if notice is not None and notice.code in HELD else None)

    def _hold(self, path: Path | None) -> None:
        self._held = path
        self._warned = False
        self._window.actions_by_name["take_over"].setEnabled(path is not None)

    # -- the made-up shed ----------------------------------------------------------------------

    @property
    def sample_folder(self) -> Path:
        """Where the made-up shed lies."""
        return self._state / "made-up"

    def open_sample(self) -> None:
        """A copy of the made-up shed, made anew for today, while the window says so."""
        if self._making is not None:
            return
        from sample_db.build import build_sample

        path = self.sample_folder / "shed.firstpull"
        made = path.with_name("shed-new.firstpull")
        on = self._clock().today
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            made.unlink(missing_ok=True)
        except OSError as trouble:
            self.say(trouble, path)
            return

        def make() -> None:
            with told_of(path, made):
                build_sample(made, on=on)

        def done(raised: BaseException | None) -> None:
            self._making = None
            self._window.view.wait("")
            if isinstance(raised, Trouble | OSError):
                self.say(raised, path)
            elif raised is not None:
                raise raised
            else:
                self._open_made(made, path)

        self._window.view.wait(self._window.tongue.text(msg("Setting up a made-up shed…")))
        self._making = Worker(make, done, self)

    def _open_made(self, made: Path, path: Path) -> None:
        household = self._household()
        before = None if household is None else household.path
        self._opener.close()
        try:
            # What an interrupted run left beside the old file must not be played into the new one.
            path.with_name(f"{path.name}-journal").unlink(missing_ok=True)
            made.replace(path)
        except OSError as trouble:
            if before is not None:
                self._opener.open(before)
            self.say(trouble, path)
            return
        self._opener.open(path)

    # -- copies --------------------------------------------------------------------------------

    def backup_wanted(self) -> None:
        """Make a backup now."""
        household = self._household()
        if household is None:
            return
        try:
            made = household.back_up(moment=self._clock())
        except Trouble as trouble:
            self.say(trouble, household.path)
            return
        self._tell(msg("A backup lies at {path}."), path=str(made))

    def back_up_daily(self) -> None:
        """The day's backup, once the window has settled, in a thread of its own: it opens the file
        for itself. Trouble is said, and nothing stops."""
        from models.backup import back_up_daily

        household = self._household()
        if household is None or self._backing_up is not None:
            return
        path, moment = household.path, self._clock()

        def done(raised: BaseException | None) -> None:
            self._backing_up = None
            then, self._after_backup = self._after_backup, None
            if then is not None:
                then()
            now = self._household()
            if now is not None and now.path != path:  # another file was opened meanwhile
                self.back_up_daily()
            if isinstance(raised, Trouble):
                self.say(raised, path)
            elif raised is not None:
                raise raised

        def make() -> None:
            back_up_daily(path, moment=moment)

        self._backing_up = Worker(make, done, self)

    def restore_wanted(self) -> None:
        """Put a backup back, asked twice; what stood in its place is kept as a backup too."""
        from app.file_leaf import PutBackLeaf
        from models.backup import backup_folder, machines_in

        household = self._household()
        if household is None:
            return
        path = household.path
        chosen = self._ask_backup(backup_folder(path))
        if chosen is None:
            return
        leaf = PutBackLeaf(
            self._window.tongue,
            self._window,
            backup=chosen,
            held=machines_in(chosen),
            here=machines_in(path),
        )
        leaf.agreed.connect(partial(self._put_back_agreed, path, chosen))
        leaf.open()

    def _put_back_agreed(self, path: Path, chosen: Path) -> None:
        if self._backing_up is None:
            self._put_back(path, chosen)
        else:  # which may clear old copies away: one after the other
            self._after_backup = partial(self._put_back, path, chosen)

    def _put_back(self, path: Path, chosen: Path) -> None:
        from models.backup import restore

        household = self._household()
        if household is None or household.path != path:
            return
        self._opener.close()
        try:
            kept = restore(path, chosen, moment=self._clock())
        except Trouble as trouble:
            self._opener.open(path)
            self.say(trouble, path)
            return
        self._opener.open(path)
        if self._opener.hub is None:
            return  # why it does not open was said
        if kept is None:
            self._tell(msg("{backup} stands again."), backup=chosen.name)
            return
        stands = msg("{backup} stands again. What stood there until now is kept as {kept}.")
        self._tell(stands, backup=chosen.name, kept=str(kept))

    def export_wanted(self) -> None:
        """Write everything into a folder, for another program or another shed."""
        from models.exchange.fleet import write_fleet

        household = self._household()
        folder = None if household is None else self._ask_folder()
        if household is None or folder is None:
            return
        try:
            with household.read() as session:
                written = write_fleet(session, folder)
        except (Trouble, OSError) as trouble:
            self.say(trouble, folder)
            return
        self._tell(msg("Everything is written to {path}."), path=str(written))

    def import_wanted(self) -> None:
        """Take in what another shed wrote. A backup is made before, and it can be undone."""
        from models.exchange.fleet import read_fleet

        hub, household = self._opener.hub, self._household()
        source = None if household is None else self._ask_export()
        if hub is None or household is None or source is None:
            return
        words = self._words()
        try:
            act = read_fleet(source, kinds=load_catalogue().kinds)
        except Trouble as trouble:
            self.say(trouble, source)
            return
        except Refused as refused:
            self._window.view.say(words.refused(refused))
            return
        try:
            household.need_writer()
            kept = household.back_up(moment=self._clock())
        except Trouble as trouble:  # of our own file, which may be taken over; never of the source
            self.say(trouble, household.path)
            return
        outcome = hub.perform(act)
        if isinstance(outcome, Refused):
            self._window.view.say(words.refused(outcome))
        elif isinstance(outcome, Trouble):
            self.say(outcome, household.path)
        else:
            taken = words.count(
                msg("{n} machine taken in."), msg("{n} machines taken in."), act.machines
            )
            before = words.text(msg("What stood there is kept as {path}."), path=str(kept))
            self._window.view.say(f"{taken} {before}", calm=True)

    # -- asking and saying ---------------------------------------------------------------------

    def _ask_backup(self, folder: Path) -> Path | None:
        kind = self._window.tongue.text(msg("Sheds (*.firstpull)"))
        title = self._window.tongue.text(msg("Put a backup back…"))
        name, _ = QFileDialog.getOpenFileName(self._window, title, str(folder), kind)
        return Path(name) if name else None

    def _ask_folder(self) -> Path | None:
        title = self._window.tongue.text(msg("Write everything out…"))
        name = QFileDialog.getExistingDirectory(self._window, title)
        return Path(name) if name else None

    def _ask_export(self) -> Path | None:
        title = self._window.tongue.text(msg("Take in another shed…"))
        name, _ = QFileDialog.getOpenFileName(self._window, title, "", "JSON (*.json)")
        return Path(name) if name else None

    def _household(self) -> Household | None:
        hub = self._opener.hub
        return None if hub is None else hub.household

    def _words(self) -> Wording:
        tongue = self._window.tongue
        return Wording(tongue.language, tongue.units, load_catalogue())

    def _tell(self, text: str, **values: object) -> None:
        self._window.view.say(self._words().text(text, **values), calm=True)

    def say(self, trouble: Trouble | OSError, path: Path) -> None:
        """Say what went wrong with a file, and what can be done."""
        if isinstance(trouble, OSError):
            trouble = trouble_of_writing(trouble, path)
        if trouble.code in HELD:
            self._hold(path)
        absent = trouble.code is TroubleCode.NO_FILE
        self._window.view.say(self._words().trouble(trouble), calm=absent)


def begin(path: Path, moment: Moment, tongue: Tongue) -> Household:
    """A household's first file, with one place so that a machine can stand somewhere. Country and
    units are guessed by the language. Raises Trouble, OSError."""
    from models.acts.places import AddPlace

    american = tongue.language == str(Language.AMERICAN)
    return create_household(
        path,
        name=tongue.text(msg("Our shed")),
        moment=moment,
        language=Language.AMERICAN if american else Language.BRITISH,
        paper=Paper.LETTER if american else Paper.A4,
        unit_system=UnitSystem.US if american else UnitSystem.METRIC,
        currency="USD" if american else "GBP",
        first=AddPlace(name=tongue.text(msg("The shed"))),
    )
