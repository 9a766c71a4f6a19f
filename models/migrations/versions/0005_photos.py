"""Photos: what is said of each, and the pictures apart."""

from alembic import op

revision = "0005"
down_revision = "0004"

STATEMENTS = (
    """CREATE TABLE photo (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    machine_id INTEGER NOT NULL,
    work_id INTEGER,
    limit_reading_id INTEGER,
    fault_id INTEGER,
    taken_on DATE NOT NULL,
    text VARCHAR(200) NOT NULL,
    on_paper BOOLEAN NOT NULL,
    added_at DATETIME NOT NULL,
    added_by VARCHAR(200) NOT NULL,
    CONSTRAINT uq_photo_uid UNIQUE (uid),
    CONSTRAINT fk_photo_machine_id FOREIGN KEY(machine_id) REFERENCES machine (id) ON DELETE
    RESTRICT,
    CONSTRAINT fk_photo_work_id FOREIGN KEY(work_id) REFERENCES work (id) ON DELETE RESTRICT,
    CONSTRAINT fk_photo_limit_reading_id FOREIGN KEY(limit_reading_id) REFERENCES limit_reading
    (id) ON DELETE RESTRICT,
    CONSTRAINT fk_photo_fault_id FOREIGN KEY(fault_id) REFERENCES fault (id) ON DELETE RESTRICT,
    CONSTRAINT ck_photo_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_photo_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64 AND
    instr(uid, char(0)) = 0),
    CONSTRAINT ck_photo_machine_id CHECK (typeof(machine_id) = 'integer' AND machine_id >= 1),
    CONSTRAINT ck_photo_work_id CHECK (work_id IS NULL OR (typeof(work_id) = 'integer' AND
    work_id >= 1)),
    CONSTRAINT ck_photo_limit_reading_id CHECK (limit_reading_id IS NULL OR
    (typeof(limit_reading_id) = 'integer' AND limit_reading_id >= 1)),
    CONSTRAINT ck_photo_fault_id CHECK (fault_id IS NULL OR (typeof(fault_id) = 'integer' AND
    fault_id >= 1)),
    CONSTRAINT ck_photo_taken_on CHECK (typeof(taken_on) = 'text' AND taken_on BETWEEN
    '1900-01-01' AND '2199-12-31' AND taken_on IS date(taken_on, '+0 days')),
    CONSTRAINT ck_photo_text CHECK (typeof(text) = 'text' AND length(text) BETWEEN 0 AND 200 AND
    instr(text, char(0)) = 0),
    CONSTRAINT ck_photo_on_paper CHECK (typeof(on_paper) = 'integer' AND on_paper IN (0, 1)),
    CONSTRAINT ck_photo_added_at CHECK (typeof(added_at) = 'text' AND added_at LIKE
    '____-__-__ __:__:__.______'),
    CONSTRAINT ck_photo_added_by CHECK (typeof(added_by) = 'text' AND length(added_by) BETWEEN 0
    AND 200 AND instr(added_by, char(0)) = 0),
    CONSTRAINT ck_photo_of_one CHECK ((work_id IS NOT NULL) + (limit_reading_id IS NOT NULL) +
    (fault_id IS NOT NULL) <= 1)
    )""",
    """CREATE INDEX ix_photo_fault_id ON photo (fault_id)""",
    """CREATE INDEX ix_photo_limit_reading_id ON photo (limit_reading_id)""",
    """CREATE INDEX ix_photo_machine_id ON photo (machine_id)""",
    """CREATE INDEX ix_photo_work_id ON photo (work_id)""",
    """CREATE TABLE photo_picture (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    photo_id INTEGER NOT NULL,
    jpeg BLOB NOT NULL,
    CONSTRAINT uq_photo_picture_uid UNIQUE (uid),
    CONSTRAINT uq_photo_picture_photo_id UNIQUE (photo_id),
    CONSTRAINT fk_photo_picture_photo_id FOREIGN KEY(photo_id) REFERENCES photo (id) ON DELETE
    CASCADE,
    CONSTRAINT ck_photo_picture_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_photo_picture_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64
    AND instr(uid, char(0)) = 0),
    CONSTRAINT ck_photo_picture_photo_id CHECK (typeof(photo_id) = 'integer' AND photo_id >= 1),
    CONSTRAINT ck_photo_picture_jpeg CHECK (typeof(jpeg) = 'blob' AND length(jpeg) BETWEEN 100
    AND 2097152 AND substr(jpeg, 1, 3) = X'FFD8FF')
    )""",
)


def upgrade() -> None:
    """Make the two tables."""
    connection = op.get_bind()
    for statement in STATEMENTS:
        connection.exec_driver_sql(statement)
