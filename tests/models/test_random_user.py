"""A random user before the writer: whatever is done, undone and done again, the file keeps pace.

The dump of the file is taken after every act. Undo must lead back through the same dumps, redo
forward, a refusal nowhere, and a stranger's write must cost the steps and nothing else.
"""

import shutil
import tempfile
from collections.abc import Callable
from contextlib import closing
from datetime import timedelta
from pathlib import Path

from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)
from sqlalchemy.exc import IntegrityError

from models.changes import Area, Changes
from models.dump import digest
from models.engines import FOR_WRITING, GUARDS, connect
from models.errors import Refused, Trouble, TroubleCode
from models.file import open_household
from models.moment import Moment
from models.writer import Act
from tests.models.small_acts import (
    AddMachine,
    AddPlace,
    AddThenFail,
    LogUse,
    RemoveMachine,
    Rename,
    RenameAll,
    StrikeUse,
)

NUMBERS = st.integers(0, 5)
TEXT = st.text(
    st.characters(blacklist_categories=("Cs", "Cc")) | st.sampled_from("'\"%?:;\\"), max_size=8
)
NOTES = st.text(st.characters(blacklist_categories=("Cs", "Cc")) | st.just("\n"), max_size=20)
SMALL_ACTS: st.SearchStrategy[Act] = st.one_of(
    st.builds(AddPlace, name=TEXT),
    st.builds(AddMachine, name=TEXT),
    st.builds(AddMachine, name=TEXT),
    st.builds(LogUse, number=NUMBERS, run_seconds=st.none() | st.integers(0, 9), note=NOTES),
    st.builds(StrikeUse),
    st.builds(Rename, number=NUMBERS, name=TEXT),
    st.builds(RenameAll, note=NOTES),
    st.builds(RemoveMachine, number=NUMBERS),
    st.builds(AddThenFail),
)


SHORT_RUN = 50
SHORT = (Phase.explicit, Phase.reuse, Phase.generate)
LONG = (*SHORT, Phase.shrink)


class User(RuleBasedStateMachine):
    """Acts, undoes, redoes, closes the program now and then; `acts` are drawn from outside."""

    acts: st.SearchStrategy[Act] = SMALL_ACTS
    answers: tuple[type[Exception], ...] = (Refused, IntegrityError)
    empty: Path
    moment: Moment

    @initialize()
    def open(self) -> None:
        self.folder = Path(tempfile.mkdtemp())
        self.path = self.folder / "shed.firstpull"
        shutil.copyfile(self.empty, self.path)
        self.household = open_household(self.path, moment=self.moment)
        self.writer = self.household.need_writer()
        self.reader = connect(self.path, mode="ro", pragmas=GUARDS)
        self.past: list[str] = []
        self.future: list[str] = []
        self.now = self.dump()
        self.count = 0

    def dump(self) -> str:
        assert self.reader.execute("PRAGMA foreign_key_check").fetchall() == []
        return digest(self.reader)

    def look(self, changes: Changes) -> None:
        """More to be looked at after an act."""

    def later(self) -> Moment:
        self.count += 1
        return Moment(self.moment.today, self.moment.now + timedelta(seconds=self.count // 3))

    @rule(data=st.data())
    def act(self, data: st.DataObject) -> None:
        self.do(data.draw(self.acts))

    @rule(data=st.data(), times=st.integers(2, 6))
    def act_on(self, data: st.DataObject, times: int) -> None:
        for _ in range(times):
            self.do(data.draw(self.acts))

    def do(self, act: Act) -> None:
        try:
            changes = self.writer.run(act, moment=self.later())
        except self.answers:
            assert self.dump() == self.now
            return
        found = self.dump()
        assert changes.areas <= set(Area)
        self.look(changes)
        if found != self.now:
            self.past.append(self.now)
            self.future.clear()
            self.now = found

    @rule()
    def undo(self) -> None:
        undone = self.writer.undo(moment=self.later())
        assert (undone is not None) == bool(self.past)
        if self.past:
            self.future.append(self.now)
            self.now = self.past.pop()

    @rule()
    def redo(self) -> None:
        redone = self.writer.redo(moment=self.later())
        assert (redone is not None) == bool(self.future)
        if self.future:
            self.past.append(self.now)
            self.now = self.future.pop()

    @precondition(lambda self: self.count > 3)
    @rule()
    def undo_all_and_redo_all(self) -> None:
        last, first = self.now, (self.past or [self.now])[0]
        steps = len(self.past)
        for _ in range(steps):
            self.writer.undo(moment=self.later())
        assert self.dump() == first
        assert self.writer.undo_label is None
        for _ in range(steps):
            self.writer.redo(moment=self.later())
        assert self.dump() == last

    @precondition(lambda self: self.count > 6)
    @rule()
    def open_again(self) -> None:
        self.household.close()
        self.household = open_household(self.path, moment=self.later())
        self.writer = self.household.need_writer()
        self.past.clear()
        self.future.clear()

    @precondition(lambda self: self.count > 6)
    @rule()
    def stranger_writes(self) -> None:
        with closing(connect(self.path, mode="rw", pragmas=FOR_WRITING)) as raw:
            raw.execute("UPDATE item SET note = note || '!' WHERE length(note) < 100")
            raw.execute("UPDATE household SET person = ?", (f"stranger {self.count}",))
        self.now = self.dump()
        steps = bool(self.past or self.future)  # only where one was left is there one to lose
        self.past.clear()
        self.future.clear()
        told = sum(self.is_told(step) for step in (self.writer.undo, self.writer.redo))
        assert told == steps

    def is_told(self, step: Callable[..., Changes | None]) -> bool:
        """Whether undo or redo says that somebody else wrote to the file."""
        try:
            assert step(moment=self.later()) is None
        except Trouble as trouble:
            return trouble.code is TroubleCode.CHANGED_ELSEWHERE
        return False

    @invariant()
    def the_file_is_where_it_should_be(self) -> None:
        if not hasattr(self, "now"):
            return
        assert self.dump() == self.now
        assert (self.writer.undo_label is not None) == bool(self.past)
        assert (self.writer.redo_label is not None) == bool(self.future)

    def teardown(self) -> None:
        if hasattr(self, "household"):
            self.household.close()
            self.reader.close()
            left = [p.name for p in self.folder.iterdir()]
            assert left == [self.path.name]
            shutil.rmtree(self.folder)


def run_users(user: type[User], start: Path, moment: Moment, *, examples: int, steps: int) -> None:
    """Let so many random users do so many things each. What fails is made smaller only in the
    long runs: each try opens a file anew."""
    machine: Callable[[], User] = type("Some", (user,), {"empty": start, "moment": moment})
    run_state_machine_as_test(
        machine,
        settings=settings(
            max_examples=examples,
            stateful_step_count=steps,
            deadline=None,
            phases=LONG if examples > SHORT_RUN else SHORT,
            suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
        ),
    )


def test_a_random_user_before_the_writer(empty_household: Path, moment: Moment):
    run_users(User, empty_household, moment, examples=8, steps=15)
