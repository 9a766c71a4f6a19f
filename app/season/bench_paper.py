"""The tag of a machine that stands half done on the bench, from the file to lines."""

from __future__ import annotations

from collections.abc import Sequence

from app.fleet.names import plain_name
from app.services import Services
from app.sheets import stored_tag
from app.sheets.stored_tag import StoredTag
from app.sheets.surface import Paper as PaperSize
from app.wording.benches import loose_said, sitting_words, stopped
from app.wording.languages import msg
from app.wording.sittings import SittingWords
from models.facts.benches import BenchFacts, read_benches
from models.facts.runs import RunFacts, read_runs
from models.moment import Moment
from models.words import Paper
from schedules.facts import MachineId
from schedules.plan import Judging

NEXT_NAMED = 6
"""Steps to go on with that a tag has room for."""


def bench_pdf(
    services: Services, *, paper: Paper, only: frozenset[MachineId] | None, moment: Moment
) -> bytes | None:
    """A tag for each of these machines that stands on the bench; None: there is none. Raises
    Trouble."""
    on = moment.today
    with services.household.read() as session:
        benches = read_benches(session, machines=only)
        runs = {run.run_id: run for run in read_runs(session)}
    waiting = services.fleet(on=on, only=only)
    said = sitting_words(services.wording)
    tags: list[StoredTag] = []
    for judging in waiting:
        number = int(judging.facts.machine_id)
        bench = benches.get(number)
        jobs = [job for job in judging.facts.jobs if job.waits_for]
        if bench is None and jobs:
            since = max(job.noted_on for job in jobs)
            for_what = "; ".join(dict.fromkeys(job.waits_for for job in jobs))
            bench = BenchFacts(machine_id=number, since=since, waits_for=for_what, loose=())
        if bench is not None:
            run = runs.get(bench.run_id)
            tags.append(_tag(services, judging, bench, run, said, moment))
    if not tags:
        return None
    words, size = services.wording, PaperSize(paper.value)
    return stored_tag.draw(tags, paper=size, language=words.language, words=words.text)


def _tag(
    services: Services,
    judging: Judging,
    bench: BenchFacts,
    run: RunFacts | None,
    said: SittingWords,
    moment: Moment,
) -> StoredTag:
    words, facts = services.wording, judging.facts
    to_do = [fault.text for fault in facts.faults] + [job.text for job in facts.jobs]
    return StoredTag(
        machine=plain_name(facts.name),
        icon=facts.kind.icon,
        stored=words.hours_now(judging.verdict.hours),
        state=stopped(bench, said) or words.text(msg("Not all is back on it")),
        off=tuple(loose_said(one, said) for one in bench.loose),
        first=_next(run, facts.machine_id, said),
        to_do=tuple(dict.fromkeys(to_do)),
        foot=" · ".join(
            (services.settings.name, words.text(msg("printed {day}"), day=words.day(moment.today)))
        ),
        on_bench=True,
    )


def _next(run: RunFacts | None, number: MachineId, said: SittingWords) -> tuple[str, ...]:
    """The steps to go on with."""
    if run is None:
        return ()
    own: Sequence[str] = [
        found.name
        for step in run.remaining
        if number in step.machine_ids and (found := said.step(step.code)) is not None
    ]
    return tuple(own[:NEXT_NAMED])
