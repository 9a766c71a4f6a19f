"""Forms for the jobs and faults of a machine that stand open: changed, put off, dropped."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from app.entry.questions import Made, Questions, Step, Wish
from app.pieces.asked import Said, choice, text, whole_number
from app.pieces.form import FieldSort
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.faults import ChangeFault, PutOffFault
from models.acts.jobs import ChangeJob, DropJob
from schedules.facts import FaultFacts, JobFacts
from schedules.plan import Judging


class Noted:
    """Makes these forms, and the acts of their answers."""

    def __init__(self, *, words: Wording) -> None:
        self.words = words
        self.ask = Questions(words)

    def noted(self, judging: Judging) -> Wish | Said:
        """Which of the jobs and faults that stand open: ways onward."""
        words, facts = self.words, judging.facts
        ways = [(f"noted-job-{job.job_id}", job.text) for job in facts.jobs]
        ways += [(f"noted-fault-{fault.fault_id}", fault.text) for fault in facts.faults]
        if not ways:
            said = msg("{machine}: no job and no fault is noted.")
            return Said(words.text(said, machine=facts.name), "")
        page = self.ask.ways("noted", msg("What is noted of it"), tuple(ways))

        def make(answers: Mapping[str, object]) -> Made:
            return Step(choice(answers, "way"), facts.machine_id)

        return Wish(page, make)

    def one_noted(self, wanted: str, judging: Judging, today: date) -> Wish | None:
        """One of them, as its name says it."""
        what, _, number = wanted.removeprefix("noted-").partition("-")
        if what == "job":
            jobs = {str(job.job_id): job for job in judging.facts.jobs}
            return self._job(jobs[number], today) if number in jobs else None
        faults = {str(fault.fault_id): fault for fault in judging.facts.faults}
        return self._fault(faults[number], today) if number in faults else None

    def _job(self, job: JobFacts, today: date) -> Wish:
        words = self.words
        page = self.ask.page(
            "noted-job",
            msg("A job that is noted"),
            (
                self.ask.field("text", msg("What is to be done"), FieldSort.TEXT, default=job.text),
                self.ask.field(
                    "waits_for", msg("What it waits for"), FieldSort.TEXT, default=job.waits_for
                ),
                self.ask.field(
                    "minutes",
                    msg("Minutes it will take"),
                    FieldSort.TEXT,
                    default=str(job.minutes),
                ),
                self.ask.field("part", msg("A part it needs"), FieldSort.TEXT, default=job.part),
                self.ask.field(
                    "why",
                    msg("It will not be done, because"),
                    FieldSort.TEXT,
                    hint=words.text(msg("Leave it empty when it still is to be done.")),
                ),
            ),
            lead=words.text(msg("Noted on {day}."), day=words.day(job.noted_on)),
        )

        def make(answers: Mapping[str, object]) -> Made:
            if text(answers, "why"):
                return DropJob(job_id=job.job_id, on=today, why=text(answers, "why"))
            minutes = whole_number(answers, "minutes", words)
            if isinstance(minutes, Said):
                return minutes
            return ChangeJob(
                job_id=job.job_id,
                text=text(answers, "text"),
                waits_for=text(answers, "waits_for"),
                minutes=minutes,
                part=text(answers, "part"),
            )

        return Wish(page, make)

    def _fault(self, fault: FaultFacts, today: date) -> Wish:
        words = self.words
        put_off = msg("Take it up again") if fault.put_off else msg("Put its repair off")
        page = self.ask.page(
            "noted-fault",
            msg("A fault that is noted"),
            (
                self.ask.field("text", msg("What it does"), FieldSort.TEXT, default=fault.text),
                self.ask.field(
                    "stops_use",
                    msg("It must not be used like this"),
                    FieldSort.YES,
                    default=fault.stops_use,
                ),
                self.ask.field("put_off", put_off, FieldSort.YES),
            ),
            lead=words.text(msg("Noted on {day}."), day=words.day(fault.since)),
        )

        def make(answers: Mapping[str, object]) -> Made:
            said, stops = text(answers, "text"), bool(answers["stops_use"])
            same = said == fault.text and stops == fault.stops_use
            if answers["put_off"]:
                if not same:
                    one_thing = msg("Save what is changed first, then put it off.")
                    return Said(words.text(one_thing), "put_off")
                return PutOffFault(fault_id=fault.fault_id, on=None if fault.put_off else today)
            return ChangeFault(fault_id=fault.fault_id, text=said, stops_use=stops)

        return Wish(page, make)
