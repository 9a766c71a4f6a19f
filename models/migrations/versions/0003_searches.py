"""Searches for a fault: what was seen, tested and tried, and how each ended."""

from alembic import op

revision = "0003"
down_revision = "0002"

STATEMENTS = (
    """CREATE TABLE search (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    machine_id INTEGER NOT NULL,
    fault_id INTEGER,
    symptom_code VARCHAR(64) NOT NULL,
    begun_on DATE NOT NULL,
    paused_on DATE,
    waits_for VARCHAR(200) NOT NULL,
    closed_on DATE,
    ending VARCHAR(64),
    cause_code VARCHAR(64),
    teaches BOOLEAN NOT NULL,
    stop_minutes INTEGER,
    stop_cents INTEGER,
    note VARCHAR(10000) NOT NULL,
    CONSTRAINT uq_search_uid UNIQUE (uid),
    CONSTRAINT fk_search_machine_id FOREIGN KEY(machine_id) REFERENCES machine (id) ON
    DELETE CASCADE,
    CONSTRAINT fk_search_fault_id FOREIGN KEY(fault_id) REFERENCES fault (id) ON DELETE SET
    NULL,
    CONSTRAINT ck_search_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_search_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64
    AND instr(uid, char(0)) = 0),
    CONSTRAINT ck_search_machine_id CHECK (typeof(machine_id) = 'integer' AND machine_id >=
    1),
    CONSTRAINT ck_search_fault_id CHECK (fault_id IS NULL OR (typeof(fault_id) = 'integer'
    AND fault_id >= 1)),
    CONSTRAINT ck_search_symptom_code CHECK (typeof(symptom_code) = 'text' AND
    length(symptom_code) BETWEEN 1 AND 64 AND instr(symptom_code, char(0)) = 0),
    CONSTRAINT ck_search_begun_on CHECK (typeof(begun_on) = 'text' AND begun_on BETWEEN
    '1900-01-01' AND '2199-12-31' AND begun_on IS date(begun_on, '+0 days')),
    CONSTRAINT ck_search_paused_on CHECK (paused_on IS NULL OR (typeof(paused_on) = 'text'
    AND paused_on BETWEEN '1900-01-01' AND '2199-12-31' AND paused_on IS date(paused_on, '+0
    days'))),
    CONSTRAINT ck_search_waits_for CHECK (typeof(waits_for) = 'text' AND length(waits_for)
    BETWEEN 0 AND 200 AND instr(waits_for, char(0)) = 0),
    CONSTRAINT ck_search_closed_on CHECK (closed_on IS NULL OR (typeof(closed_on) = 'text'
    AND closed_on BETWEEN '1900-01-01' AND '2199-12-31' AND closed_on IS date(closed_on, '+0
    days'))),
    CONSTRAINT ck_search_ending CHECK (ending IS NULL OR (typeof(ending) = 'text' AND ending
    IN ('cured', 'works', 'workshop', 'appraise', 'given_up'))),
    CONSTRAINT ck_search_cause_code CHECK (cause_code IS NULL OR (typeof(cause_code) =
    'text' AND length(cause_code) BETWEEN 1 AND 64 AND instr(cause_code, char(0)) = 0)),
    CONSTRAINT ck_search_teaches CHECK (typeof(teaches) = 'integer' AND teaches IN (0, 1)),
    CONSTRAINT ck_search_stop_minutes CHECK (stop_minutes IS NULL OR (typeof(stop_minutes) =
    'integer' AND stop_minutes BETWEEN 0 AND 1000000)),
    CONSTRAINT ck_search_stop_cents CHECK (stop_cents IS NULL OR (typeof(stop_cents) =
    'integer' AND stop_cents BETWEEN 0 AND 100000000000)),
    CONSTRAINT ck_search_note CHECK (typeof(note) = 'text' AND length(note) BETWEEN 0 AND
    10000 AND instr(note, char(0)) = 0),
    CONSTRAINT ck_search_paused_later CHECK (paused_on IS NULL OR paused_on >= begun_on),
    CONSTRAINT ck_search_closed_later CHECK (closed_on IS NULL OR closed_on >= begun_on),
    CONSTRAINT ck_search_closed_somehow CHECK ((closed_on IS NULL) = (ending IS NULL)),
    CONSTRAINT ck_search_teaches_a_cause CHECK (teaches = 0 OR cause_code IS NOT NULL)
    )""",
    """CREATE INDEX ix_search_fault_id ON search (fault_id)""",
    """CREATE INDEX ix_search_machine_id ON search (machine_id)""",
    """CREATE TABLE search_step (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    search_id INTEGER NOT NULL,
    doing VARCHAR(64) NOT NULL,
    done_on DATE NOT NULL,
    subject_code VARCHAR(64),
    answer_code VARCHAR(64),
    place INTEGER NOT NULL,
    minutes INTEGER,
    text VARCHAR(200) NOT NULL,
    withdrawn BOOLEAN NOT NULL,
    CONSTRAINT uq_search_step_uid UNIQUE (uid),
    CONSTRAINT fk_search_step_search_id FOREIGN KEY(search_id) REFERENCES search (id) ON
    DELETE CASCADE,
    CONSTRAINT ck_search_step_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_search_step_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND
    64 AND instr(uid, char(0)) = 0),
    CONSTRAINT ck_search_step_search_id CHECK (typeof(search_id) = 'integer' AND search_id
    >= 1),
    CONSTRAINT ck_search_step_doing CHECK (typeof(doing) = 'text' AND doing IN ('seen',
    'tested', 'tried', 'tried_before', 'cured', 'cannot', 'told', 'left_off', 'shut',
    'over')),
    CONSTRAINT ck_search_step_done_on CHECK (typeof(done_on) = 'text' AND done_on BETWEEN
    '1900-01-01' AND '2199-12-31' AND done_on IS date(done_on, '+0 days')),
    CONSTRAINT ck_search_step_subject_code CHECK (subject_code IS NULL OR
    (typeof(subject_code) = 'text' AND length(subject_code) BETWEEN 1 AND 64 AND
    instr(subject_code, char(0)) = 0)),
    CONSTRAINT ck_search_step_answer_code CHECK (answer_code IS NULL OR (typeof(answer_code)
    = 'text' AND length(answer_code) BETWEEN 1 AND 64 AND instr(answer_code, char(0)) = 0)),
    CONSTRAINT ck_search_step_place CHECK (typeof(place) = 'integer' AND place BETWEEN 0 AND
    100),
    CONSTRAINT ck_search_step_minutes CHECK (minutes IS NULL OR (typeof(minutes) = 'integer'
    AND minutes BETWEEN 0 AND 100000)),
    CONSTRAINT ck_search_step_text CHECK (typeof(text) = 'text' AND length(text) BETWEEN 0
    AND 200 AND instr(text, char(0)) = 0),
    CONSTRAINT ck_search_step_withdrawn CHECK (typeof(withdrawn) = 'integer' AND withdrawn
    IN (0, 1)),
    CONSTRAINT ck_search_step_about_something CHECK (subject_code IS NOT NULL OR doing IN
    ('left_off', 'shut', 'over'))
    )""",
    """CREATE INDEX ix_search_step_search_id ON search_step (search_id)""",
)


def upgrade() -> None:
    """Make the two tables."""
    connection = op.get_bind()
    for statement in STATEMENTS:
        connection.exec_driver_sql(statement)
