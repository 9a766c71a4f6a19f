"""Trials before and after: what was measured on both sides, and how it was."""

from alembic import op

revision = "0002"
down_revision = "0001"

STATEMENTS = (
    """CREATE TABLE trial (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    machine_id INTEGER NOT NULL,
    job_id INTEGER,
    protocol_code VARCHAR(64) NOT NULL,
    begun_on DATE NOT NULL,
    rough BOOLEAN NOT NULL,
    work VARCHAR(200) NOT NULL,
    reference VARCHAR(200) NOT NULL,
    closed_on DATE,
    note VARCHAR(10000) NOT NULL,
    CONSTRAINT uq_trial_uid UNIQUE (uid),
    CONSTRAINT fk_trial_machine_id FOREIGN KEY(machine_id) REFERENCES machine (id) ON DELETE
    CASCADE,
    CONSTRAINT fk_trial_job_id FOREIGN KEY(job_id) REFERENCES job (id) ON DELETE SET NULL,
    CONSTRAINT ck_trial_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_trial_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64 AND
    instr(uid, char(0)) = 0),
    CONSTRAINT ck_trial_machine_id CHECK (typeof(machine_id) = 'integer' AND machine_id >=
    1),
    CONSTRAINT ck_trial_job_id CHECK (job_id IS NULL OR (typeof(job_id) = 'integer' AND
    job_id >= 1)),
    CONSTRAINT ck_trial_protocol_code CHECK (typeof(protocol_code) = 'text' AND
    length(protocol_code) BETWEEN 1 AND 64 AND instr(protocol_code, char(0)) = 0),
    CONSTRAINT ck_trial_begun_on CHECK (typeof(begun_on) = 'text' AND begun_on BETWEEN
    '1900-01-01' AND '2199-12-31' AND begun_on IS date(begun_on, '+0 days')),
    CONSTRAINT ck_trial_rough CHECK (typeof(rough) = 'integer' AND rough IN (0, 1)),
    CONSTRAINT ck_trial_work CHECK (typeof(work) = 'text' AND length(work) BETWEEN 0 AND 200
    AND instr(work, char(0)) = 0),
    CONSTRAINT ck_trial_reference CHECK (typeof(reference) = 'text' AND length(reference)
    BETWEEN 0 AND 200 AND instr(reference, char(0)) = 0),
    CONSTRAINT ck_trial_closed_on CHECK (closed_on IS NULL OR (typeof(closed_on) = 'text'
    AND closed_on BETWEEN '1900-01-01' AND '2199-12-31' AND closed_on IS date(closed_on, '+0
    days'))),
    CONSTRAINT ck_trial_note CHECK (typeof(note) = 'text' AND length(note) BETWEEN 0 AND
    10000 AND instr(note, char(0)) = 0),
    CONSTRAINT ck_trial_closed_later CHECK (closed_on IS NULL OR closed_on >= begun_on)
    )""",
    """CREATE INDEX ix_trial_job_id ON trial (job_id)""",
    """CREATE INDEX ix_trial_machine_id ON trial (machine_id)""",
    """CREATE TABLE trial_condition (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    trial_id INTEGER NOT NULL,
    side VARCHAR(64) NOT NULL,
    condition_code VARCHAR(64) NOT NULL,
    answer VARCHAR(64) NOT NULL,
    CONSTRAINT uq_trial_condition_trial_id_side_condition_code UNIQUE (trial_id, side,
    condition_code),
    CONSTRAINT uq_trial_condition_uid UNIQUE (uid),
    CONSTRAINT fk_trial_condition_trial_id FOREIGN KEY(trial_id) REFERENCES trial (id) ON
    DELETE CASCADE,
    CONSTRAINT ck_trial_condition_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_trial_condition_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1
    AND 64 AND instr(uid, char(0)) = 0),
    CONSTRAINT ck_trial_condition_trial_id CHECK (typeof(trial_id) = 'integer' AND trial_id
    >= 1),
    CONSTRAINT ck_trial_condition_side CHECK (typeof(side) = 'text' AND side IN ('before',
    'after')),
    CONSTRAINT ck_trial_condition_condition_code CHECK (typeof(condition_code) = 'text' AND
    length(condition_code) BETWEEN 1 AND 64 AND instr(condition_code, char(0)) = 0),
    CONSTRAINT ck_trial_condition_answer CHECK (typeof(answer) = 'text' AND length(answer)
    BETWEEN 1 AND 64 AND instr(answer, char(0)) = 0)
    )""",
    """CREATE INDEX ix_trial_condition_trial_id ON trial_condition (trial_id)""",
    """CREATE TABLE trial_value (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    trial_id INTEGER NOT NULL,
    side VARCHAR(64) NOT NULL,
    of_reference BOOLEAN NOT NULL,
    amount INTEGER NOT NULL,
    note VARCHAR(10000) NOT NULL,
    happened_on DATE NOT NULL,
    entered_at DATETIME NOT NULL,
    entered_by VARCHAR(200) NOT NULL,
    struck BOOLEAN NOT NULL,
    corrects_id INTEGER,
    typed_text VARCHAR(40) NOT NULL,
    typed_amount VARCHAR(100) NOT NULL,
    typed_unit VARCHAR(40) NOT NULL,
    CONSTRAINT uq_trial_value_uid UNIQUE (uid),
    CONSTRAINT fk_trial_value_trial_id FOREIGN KEY(trial_id) REFERENCES trial (id) ON DELETE
    RESTRICT,
    CONSTRAINT uq_trial_value_corrects_id UNIQUE (corrects_id),
    CONSTRAINT fk_trial_value_corrects_id FOREIGN KEY(corrects_id) REFERENCES trial_value
    (id) ON DELETE RESTRICT,
    CONSTRAINT ck_trial_value_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_trial_value_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND
    64 AND instr(uid, char(0)) = 0),
    CONSTRAINT ck_trial_value_trial_id CHECK (typeof(trial_id) = 'integer' AND trial_id >=
    1),
    CONSTRAINT ck_trial_value_side CHECK (typeof(side) = 'text' AND side IN ('before',
    'after')),
    CONSTRAINT ck_trial_value_of_reference CHECK (typeof(of_reference) = 'integer' AND
    of_reference IN (0, 1)),
    CONSTRAINT ck_trial_value_amount CHECK (typeof(amount) = 'integer' AND amount BETWEEN 1
    AND 1000000000000000),
    CONSTRAINT ck_trial_value_note CHECK (typeof(note) = 'text' AND length(note) BETWEEN 0
    AND 10000 AND instr(note, char(0)) = 0),
    CONSTRAINT ck_trial_value_happened_on CHECK (typeof(happened_on) = 'text' AND
    happened_on BETWEEN '1900-01-01' AND '2199-12-31' AND happened_on IS date(happened_on,
    '+0 days')),
    CONSTRAINT ck_trial_value_entered_at CHECK (typeof(entered_at) = 'text' AND entered_at
    LIKE '____-__-__ __:__:__.______'),
    CONSTRAINT ck_trial_value_entered_by CHECK (typeof(entered_by) = 'text' AND
    length(entered_by) BETWEEN 0 AND 200 AND instr(entered_by, char(0)) = 0),
    CONSTRAINT ck_trial_value_struck CHECK (typeof(struck) = 'integer' AND struck IN (0,
    1)),
    CONSTRAINT ck_trial_value_corrects_id CHECK (corrects_id IS NULL OR (typeof(corrects_id)
    = 'integer' AND corrects_id >= 1)),
    CONSTRAINT ck_trial_value_typed_text CHECK (typeof(typed_text) = 'text' AND
    length(typed_text) BETWEEN 0 AND 40 AND instr(typed_text, char(0)) = 0),
    CONSTRAINT ck_trial_value_typed_amount CHECK (typeof(typed_amount) = 'text' AND
    length(typed_amount) BETWEEN 0 AND 100 AND instr(typed_amount, char(0)) = 0),
    CONSTRAINT ck_trial_value_typed_unit CHECK (typeof(typed_unit) = 'text' AND
    length(typed_unit) BETWEEN 0 AND 40 AND instr(typed_unit, char(0)) = 0),
    CONSTRAINT ck_trial_value_strikes CHECK (struck = 0 OR corrects_id IS NOT NULL),
    CONSTRAINT ck_trial_value_corrects_earlier CHECK (corrects_id IS NULL OR corrects_id <
    id)
    )""",
    """CREATE INDEX ix_trial_value_trial_id ON trial_value (trial_id)""",
)


def upgrade() -> None:
    """Make the three tables."""
    connection = op.get_bind()
    for statement in STATEMENTS:
        connection.exec_driver_sql(statement)
