"""Totals of hours taken for true for several machines at once, after months away."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy.orm import Session

from models.acts.hours import AcceptHours
from models.acts.report import report
from models.acts.rows import machine_of
from models.changes import ActCode, Changes
from models.errors import Refused, RefusedCode
from models.moment import Moment

MOST_NAMED = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class CatchUp:
    """What ran meanwhile, in one step of undo; all of it or nothing."""

    hours: tuple[AcceptHours, ...]

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused; NOTHING_GIVEN without any."""
        if not self.hours:
            raise Refused(RefusedCode.NOTHING_GIVEN, field="hours")
        touched = [one for each in self.hours for one in each.run(session, moment).ids]
        names = [machine_of(session, each.machine_id).name for each in self.hours]
        more = len(names) - MOST_NAMED
        said = ", ".join(names[:MOST_NAMED]) + (f" +{more}" if more > 0 else "")
        return report(ActCode.ACCEPT_HOURS, *touched, name=said, day=self.hours[0].day)
