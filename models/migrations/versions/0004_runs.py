"""Runs: machines put away, got out or gone over, step by step, and what was left off or open."""

from alembic import op

revision = "0004"
down_revision = "0003"

STATEMENTS = (
    """CREATE TABLE run (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    sort VARCHAR(64) NOT NULL,
    begun_on DATE NOT NULL,
    begun_by VARCHAR(200) NOT NULL,
    left_on DATE,
    waits_for VARCHAR(200) NOT NULL,
    finished_on DATE,
    note VARCHAR(10000) NOT NULL,
    CONSTRAINT uq_run_uid UNIQUE (uid),
    CONSTRAINT ck_run_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_run_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64 AND
    instr(uid, char(0)) = 0),
    CONSTRAINT ck_run_sort CHECK (typeof(sort) = 'text' AND sort IN ('putting_away',
    'getting_out', 'going_over')),
    CONSTRAINT ck_run_begun_on CHECK (typeof(begun_on) = 'text' AND begun_on BETWEEN
    '1900-01-01' AND '2199-12-31' AND begun_on IS date(begun_on, '+0 days')),
    CONSTRAINT ck_run_begun_by CHECK (typeof(begun_by) = 'text' AND length(begun_by) BETWEEN 0
    AND 200 AND instr(begun_by, char(0)) = 0),
    CONSTRAINT ck_run_left_on CHECK (left_on IS NULL OR (typeof(left_on) = 'text' AND left_on
    BETWEEN '1900-01-01' AND '2199-12-31' AND left_on IS date(left_on, '+0 days'))),
    CONSTRAINT ck_run_waits_for CHECK (typeof(waits_for) = 'text' AND length(waits_for) BETWEEN
    0 AND 200 AND instr(waits_for, char(0)) = 0),
    CONSTRAINT ck_run_finished_on CHECK (finished_on IS NULL OR (typeof(finished_on) = 'text'
    AND finished_on BETWEEN '1900-01-01' AND '2199-12-31' AND finished_on IS date(finished_on,
    '+0 days'))),
    CONSTRAINT ck_run_note CHECK (typeof(note) = 'text' AND length(note) BETWEEN 0 AND 10000 AND
    instr(note, char(0)) = 0),
    CONSTRAINT ck_run_finished_later CHECK (finished_on IS NULL OR finished_on >= begun_on),
    CONSTRAINT ck_run_left_later CHECK (left_on IS NULL OR left_on >= begun_on)
    )""",
    """CREATE TABLE run_timer (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    run_id INTEGER NOT NULL,
    place INTEGER NOT NULL,
    started_at DATETIME NOT NULL,
    minutes INTEGER NOT NULL,
    CONSTRAINT uq_run_timer_run_id_place UNIQUE (run_id, place),
    CONSTRAINT uq_run_timer_uid UNIQUE (uid),
    CONSTRAINT fk_run_timer_run_id FOREIGN KEY(run_id) REFERENCES run (id) ON DELETE CASCADE,
    CONSTRAINT ck_run_timer_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_run_timer_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64 AND
    instr(uid, char(0)) = 0),
    CONSTRAINT ck_run_timer_run_id CHECK (typeof(run_id) = 'integer' AND run_id >= 1),
    CONSTRAINT ck_run_timer_place CHECK (typeof(place) = 'integer' AND place BETWEEN 0 AND
    10000),
    CONSTRAINT ck_run_timer_started_at CHECK (typeof(started_at) = 'text' AND started_at LIKE
    '____-__-__ __:__:__.______'),
    CONSTRAINT ck_run_timer_minutes CHECK (typeof(minutes) = 'integer' AND minutes BETWEEN 1 AND
    1440)
    )""",
    """CREATE INDEX ix_run_timer_run_id ON run_timer (run_id)""",
    """CREATE TABLE run_machine (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    run_id INTEGER NOT NULL,
    machine_id INTEGER NOT NULL,
    route VARCHAR(64) NOT NULL,
    sleep_last DATE,
    CONSTRAINT uq_run_machine_run_id_machine_id UNIQUE (run_id, machine_id),
    CONSTRAINT uq_run_machine_uid UNIQUE (uid),
    CONSTRAINT fk_run_machine_run_id FOREIGN KEY(run_id) REFERENCES run (id) ON DELETE CASCADE,
    CONSTRAINT fk_run_machine_machine_id FOREIGN KEY(machine_id) REFERENCES machine (id) ON
    DELETE CASCADE,
    CONSTRAINT ck_run_machine_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_run_machine_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64
    AND instr(uid, char(0)) = 0),
    CONSTRAINT ck_run_machine_run_id CHECK (typeof(run_id) = 'integer' AND run_id >= 1),
    CONSTRAINT ck_run_machine_machine_id CHECK (typeof(machine_id) = 'integer' AND machine_id >=
    1),
    CONSTRAINT ck_run_machine_route CHECK (typeof(route) = 'text' AND route IN ('full_treated',
    'run_empty', 'alkylate_wet', 'keep_ready', 'none')),
    CONSTRAINT ck_run_machine_sleep_last CHECK (sleep_last IS NULL OR (typeof(sleep_last) =
    'text' AND sleep_last BETWEEN '1900-01-01' AND '2199-12-31' AND sleep_last IS
    date(sleep_last, '+0 days')))
    )""",
    """CREATE INDEX ix_run_machine_run_id ON run_machine (run_id)""",
    """CREATE INDEX ix_run_machine_machine_id ON run_machine (machine_id)""",
    """CREATE TABLE left_off (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    machine_id INTEGER NOT NULL,
    run_id INTEGER,
    left_code VARCHAR(64) NOT NULL,
    since_on DATE NOT NULL,
    kept VARCHAR(200) NOT NULL,
    back_on DATE,
    CONSTRAINT uq_left_off_uid UNIQUE (uid),
    CONSTRAINT fk_left_off_machine_id FOREIGN KEY(machine_id) REFERENCES machine (id) ON DELETE
    CASCADE,
    CONSTRAINT fk_left_off_run_id FOREIGN KEY(run_id) REFERENCES run (id) ON DELETE SET NULL,
    CONSTRAINT ck_left_off_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_left_off_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64 AND
    instr(uid, char(0)) = 0),
    CONSTRAINT ck_left_off_machine_id CHECK (typeof(machine_id) = 'integer' AND machine_id >=
    1),
    CONSTRAINT ck_left_off_run_id CHECK (run_id IS NULL OR (typeof(run_id) = 'integer' AND
    run_id >= 1)),
    CONSTRAINT ck_left_off_left_code CHECK (typeof(left_code) = 'text' AND length(left_code)
    BETWEEN 1 AND 64 AND instr(left_code, char(0)) = 0),
    CONSTRAINT ck_left_off_since_on CHECK (typeof(since_on) = 'text' AND since_on BETWEEN
    '1900-01-01' AND '2199-12-31' AND since_on IS date(since_on, '+0 days')),
    CONSTRAINT ck_left_off_kept CHECK (typeof(kept) = 'text' AND length(kept) BETWEEN 0 AND 200
    AND instr(kept, char(0)) = 0),
    CONSTRAINT ck_left_off_back_on CHECK (back_on IS NULL OR (typeof(back_on) = 'text' AND
    back_on BETWEEN '1900-01-01' AND '2199-12-31' AND back_on IS date(back_on, '+0 days'))),
    CONSTRAINT ck_left_off_back_later CHECK (back_on IS NULL OR back_on >= since_on)
    )""",
    """CREATE INDEX ix_left_off_run_id ON left_off (run_id)""",
    """CREATE INDEX ix_left_off_machine_id ON left_off (machine_id)""",
    """CREATE TABLE not_yet (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    machine_id INTEGER NOT NULL,
    said_on DATE NOT NULL,
    CONSTRAINT uq_not_yet_machine_id_said_on UNIQUE (machine_id, said_on),
    CONSTRAINT uq_not_yet_uid UNIQUE (uid),
    CONSTRAINT fk_not_yet_machine_id FOREIGN KEY(machine_id) REFERENCES machine (id) ON DELETE
    CASCADE,
    CONSTRAINT ck_not_yet_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_not_yet_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64 AND
    instr(uid, char(0)) = 0),
    CONSTRAINT ck_not_yet_machine_id CHECK (typeof(machine_id) = 'integer' AND machine_id >= 1),
    CONSTRAINT ck_not_yet_said_on CHECK (typeof(said_on) = 'text' AND said_on BETWEEN
    '1900-01-01' AND '2199-12-31' AND said_on IS date(said_on, '+0 days'))
    )""",
    """CREATE INDEX ix_not_yet_machine_id ON not_yet (machine_id)""",
    """CREATE TABLE run_step (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    run_id INTEGER NOT NULL,
    machine_id INTEGER NOT NULL,
    place INTEGER NOT NULL,
    step_code VARCHAR(64) NOT NULL,
    minutes INTEGER NOT NULL,
    wait_minutes INTEGER NOT NULL,
    tasks VARCHAR(200) NOT NULL,
    passes VARCHAR(200) NOT NULL,
    leaves VARCHAR(200) NOT NULL,
    puts_back VARCHAR(200) NOT NULL,
    fuel VARCHAR(64),
    answer VARCHAR(64),
    answered_on DATE,
    answered_by VARCHAR(200) NOT NULL,
    why VARCHAR(200) NOT NULL,
    job_id INTEGER,
    fault_id INTEGER,
    CONSTRAINT uq_run_step_run_id_place_machine_id UNIQUE (run_id, place, machine_id),
    CONSTRAINT uq_run_step_uid UNIQUE (uid),
    CONSTRAINT fk_run_step_run_id FOREIGN KEY(run_id) REFERENCES run (id) ON DELETE CASCADE,
    CONSTRAINT fk_run_step_machine_id FOREIGN KEY(machine_id) REFERENCES machine (id) ON DELETE
    CASCADE,
    CONSTRAINT fk_run_step_job_id FOREIGN KEY(job_id) REFERENCES job (id) ON DELETE SET NULL,
    CONSTRAINT fk_run_step_fault_id FOREIGN KEY(fault_id) REFERENCES fault (id) ON DELETE SET
    NULL,
    CONSTRAINT ck_run_step_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_run_step_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64 AND
    instr(uid, char(0)) = 0),
    CONSTRAINT ck_run_step_run_id CHECK (typeof(run_id) = 'integer' AND run_id >= 1),
    CONSTRAINT ck_run_step_machine_id CHECK (typeof(machine_id) = 'integer' AND machine_id >=
    1),
    CONSTRAINT ck_run_step_place CHECK (typeof(place) = 'integer' AND place BETWEEN 0 AND
    10000),
    CONSTRAINT ck_run_step_step_code CHECK (typeof(step_code) = 'text' AND length(step_code)
    BETWEEN 1 AND 64 AND instr(step_code, char(0)) = 0),
    CONSTRAINT ck_run_step_minutes CHECK (typeof(minutes) = 'integer' AND minutes BETWEEN 0 AND
    1440),
    CONSTRAINT ck_run_step_wait_minutes CHECK (typeof(wait_minutes) = 'integer' AND wait_minutes
    BETWEEN 0 AND 1440),
    CONSTRAINT ck_run_step_tasks CHECK (typeof(tasks) = 'text' AND length(tasks) BETWEEN 0 AND
    200 AND instr(tasks, char(0)) = 0),
    CONSTRAINT ck_run_step_passes CHECK (typeof(passes) = 'text' AND length(passes) BETWEEN 0
    AND 200 AND instr(passes, char(0)) = 0),
    CONSTRAINT ck_run_step_leaves CHECK (typeof(leaves) = 'text' AND length(leaves) BETWEEN 0
    AND 200 AND instr(leaves, char(0)) = 0),
    CONSTRAINT ck_run_step_puts_back CHECK (typeof(puts_back) = 'text' AND length(puts_back)
    BETWEEN 0 AND 200 AND instr(puts_back, char(0)) = 0),
    CONSTRAINT ck_run_step_fuel CHECK (fuel IS NULL OR (typeof(fuel) = 'text' AND fuel IN
    ('lowered', 'taken_out', 'filled_treated', 'fresh_cup', 'filled_alkylate', 'run_dry',
    'filled_fresh'))),
    CONSTRAINT ck_run_step_answer CHECK (answer IS NULL OR (typeof(answer) = 'text' AND answer
    IN ('done', 'not_applicable', 'cannot', 'fault'))),
    CONSTRAINT ck_run_step_answered_on CHECK (answered_on IS NULL OR (typeof(answered_on) =
    'text' AND answered_on BETWEEN '1900-01-01' AND '2199-12-31' AND answered_on IS
    date(answered_on, '+0 days'))),
    CONSTRAINT ck_run_step_answered_by CHECK (typeof(answered_by) = 'text' AND
    length(answered_by) BETWEEN 0 AND 200 AND instr(answered_by, char(0)) = 0),
    CONSTRAINT ck_run_step_why CHECK (typeof(why) = 'text' AND length(why) BETWEEN 0 AND 200 AND
    instr(why, char(0)) = 0),
    CONSTRAINT ck_run_step_job_id CHECK (job_id IS NULL OR (typeof(job_id) = 'integer' AND
    job_id >= 1)),
    CONSTRAINT ck_run_step_fault_id CHECK (fault_id IS NULL OR (typeof(fault_id) = 'integer' AND
    fault_id >= 1)),
    CONSTRAINT ck_run_step_answered_whole CHECK ((answer IS NULL) = (answered_on IS NULL)),
    CONSTRAINT ck_run_step_cannot_for_a_reason CHECK (answer IS NOT 'cannot' OR length(why) > 0)
    )""",
    """CREATE INDEX ix_run_step_fault_id ON run_step (fault_id)""",
    """CREATE INDEX ix_run_step_run_id ON run_step (run_id)""",
    """CREATE INDEX ix_run_step_machine_id ON run_step (machine_id)""",
    """CREATE INDEX ix_run_step_job_id ON run_step (job_id)""",
)


def upgrade() -> None:
    """Make the six tables."""
    connection = op.get_bind()
    for statement in STATEMENTS:
        connection.exec_driver_sql(statement)
