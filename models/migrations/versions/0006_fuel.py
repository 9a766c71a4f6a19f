"""Fuel that was spilled or taken to a collection point, oil added, and where what was missing went.

The list of what can happen to fuel stands in a CHECK, so the table is made anew; its numbers go on
where they were, for a number is never given twice.
"""

from alembic import op

revision = "0006"
down_revision = "0005"

STATEMENTS = (
    """CREATE TABLE fuel_event_new (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    vessel_id INTEGER NOT NULL,
    to_vessel_id INTEGER,
    work_id INTEGER,
    doing VARCHAR(64) NOT NULL,
    volume_ul INTEGER,
    to_brim BOOLEAN NOT NULL,
    fuel_sort VARCHAR(64),
    bought_on DATE,
    ethanol_permille INTEGER,
    oil_ratio INTEGER,
    stabilised_on DATE,
    dose_ul INTEGER,
    look VARCHAR(64),
    gone VARCHAR(64),
    cents INTEGER,
    note VARCHAR(10000) NOT NULL,
    happened_on DATE NOT NULL,
    entered_at DATETIME NOT NULL,
    entered_by VARCHAR(200) NOT NULL,
    struck BOOLEAN NOT NULL,
    corrects_id INTEGER,
    typed_text VARCHAR(40) NOT NULL,
    typed_amount VARCHAR(100) NOT NULL,
    typed_unit VARCHAR(40) NOT NULL,
    CONSTRAINT uq_fuel_event_uid UNIQUE (uid),
    CONSTRAINT fk_fuel_event_vessel_id FOREIGN KEY(vessel_id) REFERENCES vessel (id) ON DELETE
    RESTRICT,
    CONSTRAINT fk_fuel_event_to_vessel_id FOREIGN KEY(to_vessel_id) REFERENCES vessel (id) ON
    DELETE RESTRICT,
    CONSTRAINT fk_fuel_event_work_id FOREIGN KEY(work_id) REFERENCES work (id) ON DELETE
    RESTRICT,
    CONSTRAINT uq_fuel_event_corrects_id UNIQUE (corrects_id),
    CONSTRAINT fk_fuel_event_corrects_id FOREIGN KEY(corrects_id) REFERENCES fuel_event (id) ON
    DELETE RESTRICT,
    CONSTRAINT ck_fuel_event_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_fuel_event_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64
    AND instr(uid, char(0)) = 0),
    CONSTRAINT ck_fuel_event_vessel_id CHECK (typeof(vessel_id) = 'integer' AND vessel_id >= 1),
    CONSTRAINT ck_fuel_event_to_vessel_id CHECK (to_vessel_id IS NULL OR (typeof(to_vessel_id) =
    'integer' AND to_vessel_id >= 1)),
    CONSTRAINT ck_fuel_event_work_id CHECK (work_id IS NULL OR (typeof(work_id) = 'integer' AND
    work_id >= 1)),
    CONSTRAINT ck_fuel_event_doing CHECK (typeof(doing) = 'text' AND doing IN ('bought',
    'found', 'poured', 'filled', 'burnt', 'drained', 'level', 'treated', 'looked', 'spilled',
    'disposed', 'oiled')),
    CONSTRAINT ck_fuel_event_volume_ul CHECK (volume_ul IS NULL OR (typeof(volume_ul) =
    'integer' AND volume_ul BETWEEN 0 AND 10000000000)),
    CONSTRAINT ck_fuel_event_to_brim CHECK (typeof(to_brim) = 'integer' AND to_brim IN (0, 1)),
    CONSTRAINT ck_fuel_event_fuel_sort CHECK (fuel_sort IS NULL OR (typeof(fuel_sort) = 'text'
    AND fuel_sort IN ('e0', 'e5', 'e10', 'e15', 'alkylate', 'premix', 'premix_alkylate',
    'diesel', 'unknown'))),
    CONSTRAINT ck_fuel_event_bought_on CHECK (bought_on IS NULL OR (typeof(bought_on) = 'text'
    AND bought_on BETWEEN '1900-01-01' AND '2199-12-31' AND bought_on IS date(bought_on, '+0
    days'))),
    CONSTRAINT ck_fuel_event_ethanol_permille CHECK (ethanol_permille IS NULL OR
    (typeof(ethanol_permille) = 'integer' AND ethanol_permille BETWEEN 0 AND 1000)),
    CONSTRAINT ck_fuel_event_oil_ratio CHECK (oil_ratio IS NULL OR (typeof(oil_ratio) =
    'integer' AND oil_ratio BETWEEN 1 AND 1000)),
    CONSTRAINT ck_fuel_event_stabilised_on CHECK (stabilised_on IS NULL OR
    (typeof(stabilised_on) = 'text' AND stabilised_on BETWEEN '1900-01-01' AND '2199-12-31' AND
    stabilised_on IS date(stabilised_on, '+0 days'))),
    CONSTRAINT ck_fuel_event_dose_ul CHECK (dose_ul IS NULL OR (typeof(dose_ul) = 'integer' AND
    dose_ul BETWEEN 0 AND 10000000000)),
    CONSTRAINT ck_fuel_event_look CHECK (look IS NULL OR (typeof(look) = 'text' AND look IN
    ('sharp_clear', 'sour_or_dark', 'layers'))),
    CONSTRAINT ck_fuel_event_gone CHECK (gone IS NULL OR (typeof(gone) = 'text' AND gone IN
    ('burnt', 'drained', 'spilled', 'disposed', 'lost'))),
    CONSTRAINT ck_fuel_event_cents CHECK (cents IS NULL OR (typeof(cents) = 'integer' AND cents
    BETWEEN 0 AND 100000000000)),
    CONSTRAINT ck_fuel_event_note CHECK (typeof(note) = 'text' AND length(note) BETWEEN 0 AND
    10000 AND instr(note, char(0)) = 0),
    CONSTRAINT ck_fuel_event_happened_on CHECK (typeof(happened_on) = 'text' AND happened_on
    BETWEEN '1900-01-01' AND '2199-12-31' AND happened_on IS date(happened_on, '+0 days')),
    CONSTRAINT ck_fuel_event_entered_at CHECK (typeof(entered_at) = 'text' AND entered_at LIKE
    '____-__-__ __:__:__.______'),
    CONSTRAINT ck_fuel_event_entered_by CHECK (typeof(entered_by) = 'text' AND
    length(entered_by) BETWEEN 0 AND 200 AND instr(entered_by, char(0)) = 0),
    CONSTRAINT ck_fuel_event_struck CHECK (typeof(struck) = 'integer' AND struck IN (0, 1)),
    CONSTRAINT ck_fuel_event_corrects_id CHECK (corrects_id IS NULL OR (typeof(corrects_id) =
    'integer' AND corrects_id >= 1)),
    CONSTRAINT ck_fuel_event_typed_text CHECK (typeof(typed_text) = 'text' AND
    length(typed_text) BETWEEN 0 AND 40 AND instr(typed_text, char(0)) = 0),
    CONSTRAINT ck_fuel_event_typed_amount CHECK (typeof(typed_amount) = 'text' AND
    length(typed_amount) BETWEEN 0 AND 100 AND instr(typed_amount, char(0)) = 0),
    CONSTRAINT ck_fuel_event_typed_unit CHECK (typeof(typed_unit) = 'text' AND
    length(typed_unit) BETWEEN 0 AND 40 AND instr(typed_unit, char(0)) = 0),
    CONSTRAINT ck_fuel_event_pours_elsewhere CHECK (to_vessel_id IS NULL OR to_vessel_id <>
    vessel_id),
    CONSTRAINT ck_fuel_event_pours_somewhere CHECK ((doing = 'poured') = (to_vessel_id IS NOT
    NULL)),
    CONSTRAINT ck_fuel_event_looks CHECK ((doing = 'looked') = (look IS NOT NULL)),
    CONSTRAINT ck_fuel_event_comes_in_known CHECK (doing NOT IN ('bought', 'found') OR fuel_sort
    IS NOT NULL),
    CONSTRAINT ck_fuel_event_oil_measured CHECK (doing <> 'oiled' OR volume_ul IS NOT NULL),
    CONSTRAINT ck_fuel_event_gone_of_a_level CHECK (gone IS NULL OR doing = 'level'),
    CONSTRAINT ck_fuel_event_strikes CHECK (struck = 0 OR corrects_id IS NOT NULL),
    CONSTRAINT ck_fuel_event_corrects_earlier CHECK (corrects_id IS NULL OR corrects_id < id)
    )""",
    """INSERT INTO fuel_event_new (
    id, uid, vessel_id, to_vessel_id, work_id, doing, volume_ul, to_brim, fuel_sort,
    bought_on, ethanol_permille, oil_ratio, stabilised_on, dose_ul, look, cents, note,
    happened_on, entered_at, entered_by, struck, corrects_id, typed_text, typed_amount,
    typed_unit
    ) SELECT
    id, uid, vessel_id, to_vessel_id, work_id, doing, volume_ul, to_brim, fuel_sort,
    bought_on, ethanol_permille, oil_ratio, stabilised_on, dose_ul, look, cents, note,
    happened_on, entered_at, entered_by, struck, corrects_id, typed_text, typed_amount,
    typed_unit
    FROM fuel_event ORDER BY id""",
    "DELETE FROM sqlite_sequence WHERE name = 'fuel_event_new'",
    """INSERT INTO sqlite_sequence (name, seq)
    SELECT 'fuel_event_new', seq FROM sqlite_sequence WHERE name = 'fuel_event'""",
    "DROP TABLE fuel_event",
    "ALTER TABLE fuel_event_new RENAME TO fuel_event",
    "CREATE INDEX ix_fuel_event_to_vessel_id ON fuel_event (to_vessel_id)",
    "CREATE INDEX ix_fuel_event_vessel_id ON fuel_event (vessel_id)",
    "CREATE INDEX ix_fuel_event_work_id ON fuel_event (work_id)",
)


def upgrade() -> None:
    """Make the table anew."""
    connection = op.get_bind()
    for statement in STATEMENTS:
        connection.exec_driver_sql(statement)
