"""The first format of the file."""

from alembic import op

revision = "0001"
down_revision = None

STATEMENTS = (
    """CREATE TABLE household (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    name VARCHAR(200) NOT NULL,
    language VARCHAR(64) NOT NULL,
    paper VARCHAR(64) NOT NULL,
    unit_system VARCHAR(64) NOT NULL,
    currency VARCHAR(3) NOT NULL,
    person VARCHAR(200) NOT NULL,
    rate_cents INTEGER,
    CONSTRAINT uq_household_uid UNIQUE (uid),
    CONSTRAINT ck_household_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_household_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64
    AND instr(uid, char(0)) = 0),
    CONSTRAINT ck_household_name CHECK (typeof(name) = 'text' AND length(name) BETWEEN 1 AND
    200 AND instr(name, char(0)) = 0),
    CONSTRAINT ck_household_language CHECK (typeof(language) = 'text' AND language IN ('en_GB',
    'en_US')),
    CONSTRAINT ck_household_paper CHECK (typeof(paper) = 'text' AND paper IN ('a4', 'letter')),
    CONSTRAINT ck_household_unit_system CHECK (typeof(unit_system) = 'text' AND unit_system IN
    ('metric', 'uk', 'us')),
    CONSTRAINT ck_household_currency CHECK (typeof(currency) = 'text' AND length(currency)
    BETWEEN 3 AND 3 AND instr(currency, char(0)) = 0),
    CONSTRAINT ck_household_person CHECK (typeof(person) = 'text' AND length(person) BETWEEN 0
    AND 200 AND instr(person, char(0)) = 0),
    CONSTRAINT ck_household_rate_cents CHECK (rate_cents IS NULL OR (typeof(rate_cents) =
    'integer' AND rate_cents BETWEEN 0 AND 1000000000)),
    CONSTRAINT ck_household_one CHECK (id = 1),
    CONSTRAINT ck_household_currency_letters CHECK (length(currency) = 3)
    )""",
    """CREATE TABLE item (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    sort VARCHAR(64) NOT NULL,
    name VARCHAR(200) NOT NULL,
    came_on DATE NOT NULL,
    past VARCHAR(64) NOT NULL,
    start_seconds INTEGER,
    retired_on DATE,
    retired_why VARCHAR(200) NOT NULL,
    note VARCHAR(10000) NOT NULL,
    plate_maker VARCHAR(200) NOT NULL,
    plate_model VARCHAR(200) NOT NULL,
    plate_type VARCHAR(200) NOT NULL,
    plate_serial VARCHAR(200) NOT NULL,
    plate_code VARCHAR(200) NOT NULL,
    plate_built VARCHAR(200) NOT NULL,
    CONSTRAINT uq_item_uid UNIQUE (uid),
    CONSTRAINT ck_item_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_item_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64 AND
    instr(uid, char(0)) = 0),
    CONSTRAINT ck_item_sort CHECK (typeof(sort) = 'text' AND sort IN ('machine', 'engine',
    'starter_battery', 'pack', 'gear_case')),
    CONSTRAINT ck_item_name CHECK (typeof(name) = 'text' AND length(name) BETWEEN 1 AND 200 AND
    instr(name, char(0)) = 0),
    CONSTRAINT ck_item_came_on CHECK (typeof(came_on) = 'text' AND came_on BETWEEN '1900-01-01'
    AND '2199-12-31' AND came_on IS date(came_on, '+0 days')),
    CONSTRAINT ck_item_past CHECK (typeof(past) = 'text' AND past IN ('new', 'unknown')),
    CONSTRAINT ck_item_start_seconds CHECK (start_seconds IS NULL OR (typeof(start_seconds) =
    'integer' AND start_seconds BETWEEN 0 AND 1000000000000000)),
    CONSTRAINT ck_item_retired_on CHECK (retired_on IS NULL OR (typeof(retired_on) = 'text' AND
    retired_on BETWEEN '1900-01-01' AND '2199-12-31' AND retired_on IS date(retired_on, '+0
    days'))),
    CONSTRAINT ck_item_retired_why CHECK (typeof(retired_why) = 'text' AND length(retired_why)
    BETWEEN 0 AND 200 AND instr(retired_why, char(0)) = 0),
    CONSTRAINT ck_item_note CHECK (typeof(note) = 'text' AND length(note) BETWEEN 0 AND 10000
    AND instr(note, char(0)) = 0),
    CONSTRAINT ck_item_plate_maker CHECK (typeof(plate_maker) = 'text' AND length(plate_maker)
    BETWEEN 0 AND 200 AND instr(plate_maker, char(0)) = 0),
    CONSTRAINT ck_item_plate_model CHECK (typeof(plate_model) = 'text' AND length(plate_model)
    BETWEEN 0 AND 200 AND instr(plate_model, char(0)) = 0),
    CONSTRAINT ck_item_plate_type CHECK (typeof(plate_type) = 'text' AND length(plate_type)
    BETWEEN 0 AND 200 AND instr(plate_type, char(0)) = 0),
    CONSTRAINT ck_item_plate_serial CHECK (typeof(plate_serial) = 'text' AND
    length(plate_serial) BETWEEN 0 AND 200 AND instr(plate_serial, char(0)) = 0),
    CONSTRAINT ck_item_plate_code CHECK (typeof(plate_code) = 'text' AND length(plate_code)
    BETWEEN 0 AND 200 AND instr(plate_code, char(0)) = 0),
    CONSTRAINT ck_item_plate_built CHECK (typeof(plate_built) = 'text' AND length(plate_built)
    BETWEEN 0 AND 200 AND instr(plate_built, char(0)) = 0),
    CONSTRAINT ck_item_retired_later CHECK (retired_on IS NULL OR retired_on >= came_on)
    )""",
    """CREATE TABLE place (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    name VARCHAR(200) NOT NULL,
    south BOOLEAN NOT NULL,
    climate VARCHAR(64) NOT NULL,
    region VARCHAR(64) NOT NULL,
    shelter VARCHAR(64) NOT NULL,
    note VARCHAR(10000) NOT NULL,
    CONSTRAINT uq_place_name UNIQUE (name),
    CONSTRAINT uq_place_uid UNIQUE (uid),
    CONSTRAINT ck_place_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_place_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64 AND
    instr(uid, char(0)) = 0),
    CONSTRAINT ck_place_name CHECK (typeof(name) = 'text' AND length(name) BETWEEN 1 AND 200
    AND instr(name, char(0)) = 0),
    CONSTRAINT ck_place_south CHECK (typeof(south) = 'integer' AND south IN (0, 1)),
    CONSTRAINT ck_place_climate CHECK (typeof(climate) = 'text' AND length(climate) BETWEEN 0
    AND 64 AND instr(climate, char(0)) = 0),
    CONSTRAINT ck_place_region CHECK (typeof(region) = 'text' AND length(region) BETWEEN 0 AND
    64 AND instr(region, char(0)) = 0),
    CONSTRAINT ck_place_shelter CHECK (typeof(shelter) = 'text' AND shelter IN ('indoor',
    'garage', 'shed')),
    CONSTRAINT ck_place_note CHECK (typeof(note) = 'text' AND length(note) BETWEEN 0 AND 10000
    AND instr(note, char(0)) = 0)
    )""",
    """CREATE TABLE policy_figure (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    name VARCHAR(64) NOT NULL,
    value INTEGER NOT NULL,
    CONSTRAINT uq_policy_figure_name UNIQUE (name),
    CONSTRAINT uq_policy_figure_uid UNIQUE (uid),
    CONSTRAINT ck_policy_figure_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_policy_figure_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND
    64 AND instr(uid, char(0)) = 0),
    CONSTRAINT ck_policy_figure_name CHECK (typeof(name) = 'text' AND length(name) BETWEEN 1
    AND 64 AND instr(name, char(0)) = 0),
    CONSTRAINT ck_policy_figure_value CHECK (typeof(value) = 'integer' AND value BETWEEN 0 AND
    100000)
    )""",
    """CREATE TABLE sheet (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    number INTEGER NOT NULL,
    sort VARCHAR(64) NOT NULL,
    paper VARCHAR(64) NOT NULL,
    printed_on DATE NOT NULL,
    entered_on DATE,
    lines VARCHAR(1000000) NOT NULL,
    CONSTRAINT uq_sheet_uid UNIQUE (uid),
    CONSTRAINT ck_sheet_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_sheet_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64 AND
    instr(uid, char(0)) = 0),
    CONSTRAINT ck_sheet_number CHECK (typeof(number) = 'integer' AND number BETWEEN 1000 AND
    9999),
    CONSTRAINT ck_sheet_sort CHECK (typeof(sort) = 'text' AND sort IN ('preseason', 'card',
    'storage', 'tags', 'faults', 'work', 'buyer', 'shopping')),
    CONSTRAINT ck_sheet_paper CHECK (typeof(paper) = 'text' AND paper IN ('a4', 'letter')),
    CONSTRAINT ck_sheet_printed_on CHECK (typeof(printed_on) = 'text' AND printed_on BETWEEN
    '1900-01-01' AND '2199-12-31' AND printed_on IS date(printed_on, '+0 days')),
    CONSTRAINT ck_sheet_entered_on CHECK (entered_on IS NULL OR (typeof(entered_on) = 'text'
    AND entered_on BETWEEN '1900-01-01' AND '2199-12-31' AND entered_on IS date(entered_on, '+0
    days'))),
    CONSTRAINT ck_sheet_lines CHECK (typeof(lines) = 'text' AND length(lines) BETWEEN 2 AND
    1000000 AND instr(lines, char(0)) = 0),
    CONSTRAINT ck_sheet_entered_later CHECK (entered_on IS NULL OR entered_on >= printed_on)
    )""",
    """CREATE TABLE shelf_part (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    part_code VARCHAR(64) NOT NULL,
    name VARCHAR(200) NOT NULL,
    spec VARCHAR(200) NOT NULL,
    quantity INTEGER NOT NULL,
    spot VARCHAR(200) NOT NULL,
    note VARCHAR(10000) NOT NULL,
    CONSTRAINT uq_shelf_part_part_code_spec UNIQUE (part_code, spec),
    CONSTRAINT uq_shelf_part_uid UNIQUE (uid),
    CONSTRAINT ck_shelf_part_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_shelf_part_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64
    AND instr(uid, char(0)) = 0),
    CONSTRAINT ck_shelf_part_part_code CHECK (typeof(part_code) = 'text' AND length(part_code)
    BETWEEN 1 AND 64 AND instr(part_code, char(0)) = 0),
    CONSTRAINT ck_shelf_part_name CHECK (typeof(name) = 'text' AND length(name) BETWEEN 1 AND
    200 AND instr(name, char(0)) = 0),
    CONSTRAINT ck_shelf_part_spec CHECK (typeof(spec) = 'text' AND length(spec) BETWEEN 0 AND
    200 AND instr(spec, char(0)) = 0),
    CONSTRAINT ck_shelf_part_quantity CHECK (typeof(quantity) = 'integer' AND quantity BETWEEN
    0 AND 100000),
    CONSTRAINT ck_shelf_part_spot CHECK (typeof(spot) = 'text' AND length(spot) BETWEEN 0 AND
    200 AND instr(spot, char(0)) = 0),
    CONSTRAINT ck_shelf_part_note CHECK (typeof(note) = 'text' AND length(note) BETWEEN 0 AND
    10000 AND instr(note, char(0)) = 0)
    )""",
    """CREATE TABLE unit_choice (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    dimension VARCHAR(64) NOT NULL,
    unit VARCHAR(64) NOT NULL,
    CONSTRAINT uq_unit_choice_dimension UNIQUE (dimension),
    CONSTRAINT uq_unit_choice_uid UNIQUE (uid),
    CONSTRAINT ck_unit_choice_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_unit_choice_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64
    AND instr(uid, char(0)) = 0),
    CONSTRAINT ck_unit_choice_dimension CHECK (typeof(dimension) = 'text' AND dimension IN
    ('time', 'days', 'months', 'volume', 'length', 'pressure', 'voltage', 'force', 'torque',
    'temperature', 'mass', 'share', 'money', 'count', 'plain')),
    CONSTRAINT ck_unit_choice_unit CHECK (typeof(unit) = 'text' AND unit IN ('s', 'd', 'month',
    'ul', 'um', 'Pa', 'mV', 'mN', 'mN.m', 'mC', 'mg', 'permille', 'cent', 'count', 'none',
    'min', 'h', 'mL', 'L', 'us_fl_oz', 'us_pt', 'us_qt', 'us_gal', 'imp_fl_oz', 'imp_pt',
    'imp_qt', 'imp_gal', 'mm', 'cm', 'm', 'thou', 'in', 'ft', 'kPa', 'bar', 'psi', 'V', 'N',
    'lbf', 'N.m', 'lbf.ft', 'lbf.in', 'degC', 'degF', 'g', 'kg', 'lb', 'percent'))
    )""",
    """CREATE TABLE inferred_point (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    item_id INTEGER NOT NULL,
    total_seconds INTEGER NOT NULL,
    spread_seconds INTEGER NOT NULL,
    inferred_from VARCHAR(64) NOT NULL,
    accepted_on DATE NOT NULL,
    note VARCHAR(10000) NOT NULL,
    happened_on DATE NOT NULL,
    entered_at DATETIME NOT NULL,
    entered_by VARCHAR(200) NOT NULL,
    struck BOOLEAN NOT NULL,
    corrects_id INTEGER,
    CONSTRAINT uq_inferred_point_uid UNIQUE (uid),
    CONSTRAINT fk_inferred_point_item_id FOREIGN KEY(item_id) REFERENCES item (id) ON DELETE
    RESTRICT,
    CONSTRAINT uq_inferred_point_corrects_id UNIQUE (corrects_id),
    CONSTRAINT fk_inferred_point_corrects_id FOREIGN KEY(corrects_id) REFERENCES inferred_point
    (id) ON DELETE RESTRICT,
    CONSTRAINT ck_inferred_point_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_inferred_point_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND
    64 AND instr(uid, char(0)) = 0),
    CONSTRAINT ck_inferred_point_item_id CHECK (typeof(item_id) = 'integer' AND item_id >= 1),
    CONSTRAINT ck_inferred_point_total_seconds CHECK (typeof(total_seconds) = 'integer' AND
    total_seconds BETWEEN 0 AND 10000000000),
    CONSTRAINT ck_inferred_point_spread_seconds CHECK (typeof(spread_seconds) = 'integer' AND
    spread_seconds BETWEEN 0 AND 10000000000),
    CONSTRAINT ck_inferred_point_inferred_from CHECK (typeof(inferred_from) = 'text' AND
    inferred_from IN ('fuel', 'area', 'snow', 'as_always', 'other')),
    CONSTRAINT ck_inferred_point_accepted_on CHECK (typeof(accepted_on) = 'text' AND
    accepted_on BETWEEN '1900-01-01' AND '2199-12-31' AND accepted_on IS date(accepted_on, '+0
    days')),
    CONSTRAINT ck_inferred_point_note CHECK (typeof(note) = 'text' AND length(note) BETWEEN 0
    AND 10000 AND instr(note, char(0)) = 0),
    CONSTRAINT ck_inferred_point_happened_on CHECK (typeof(happened_on) = 'text' AND
    happened_on BETWEEN '1900-01-01' AND '2199-12-31' AND happened_on IS date(happened_on, '+0
    days')),
    CONSTRAINT ck_inferred_point_entered_at CHECK (typeof(entered_at) = 'text' AND entered_at
    LIKE '____-__-__ __:__:__.______'),
    CONSTRAINT ck_inferred_point_entered_by CHECK (typeof(entered_by) = 'text' AND
    length(entered_by) BETWEEN 0 AND 200 AND instr(entered_by, char(0)) = 0),
    CONSTRAINT ck_inferred_point_struck CHECK (typeof(struck) = 'integer' AND struck IN (0, 1)),
    CONSTRAINT ck_inferred_point_corrects_id CHECK (corrects_id IS NULL OR (typeof(corrects_id)
    = 'integer' AND corrects_id >= 1)),
    CONSTRAINT ck_inferred_point_strikes CHECK (struck = 0 OR corrects_id IS NOT NULL),
    CONSTRAINT ck_inferred_point_corrects_earlier CHECK (corrects_id IS NULL OR corrects_id <
    id)
    )""",
    """CREATE INDEX ix_inferred_point_item_id ON inferred_point (item_id)""",
    """CREATE TABLE machine (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    item_id INTEGER NOT NULL,
    kind_code VARCHAR(64) NOT NULL,
    CONSTRAINT uq_machine_uid UNIQUE (uid),
    CONSTRAINT uq_machine_item_id UNIQUE (item_id),
    CONSTRAINT fk_machine_item_id FOREIGN KEY(item_id) REFERENCES item (id) ON DELETE RESTRICT,
    CONSTRAINT ck_machine_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_machine_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64 AND
    instr(uid, char(0)) = 0),
    CONSTRAINT ck_machine_item_id CHECK (typeof(item_id) = 'integer' AND item_id >= 1),
    CONSTRAINT ck_machine_kind_code CHECK (typeof(kind_code) = 'text' AND length(kind_code)
    BETWEEN 1 AND 64 AND instr(kind_code, char(0)) = 0)
    )""",
    """CREATE TABLE meter (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    item_id INTEGER NOT NULL,
    from_on DATE NOT NULL,
    start_seconds INTEGER NOT NULL,
    modulus_seconds INTEGER,
    ended_on DATE,
    end_seconds INTEGER,
    end_rollovers INTEGER NOT NULL,
    note VARCHAR(10000) NOT NULL,
    CONSTRAINT uq_meter_uid UNIQUE (uid),
    CONSTRAINT fk_meter_item_id FOREIGN KEY(item_id) REFERENCES item (id) ON DELETE RESTRICT,
    CONSTRAINT ck_meter_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_meter_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64 AND
    instr(uid, char(0)) = 0),
    CONSTRAINT ck_meter_item_id CHECK (typeof(item_id) = 'integer' AND item_id >= 1),
    CONSTRAINT ck_meter_from_on CHECK (typeof(from_on) = 'text' AND from_on BETWEEN
    '1900-01-01' AND '2199-12-31' AND from_on IS date(from_on, '+0 days')),
    CONSTRAINT ck_meter_start_seconds CHECK (typeof(start_seconds) = 'integer' AND
    start_seconds BETWEEN 0 AND 10000000000),
    CONSTRAINT ck_meter_modulus_seconds CHECK (modulus_seconds IS NULL OR
    (typeof(modulus_seconds) = 'integer' AND modulus_seconds BETWEEN 1 AND 10000000000)),
    CONSTRAINT ck_meter_ended_on CHECK (ended_on IS NULL OR (typeof(ended_on) = 'text' AND
    ended_on BETWEEN '1900-01-01' AND '2199-12-31' AND ended_on IS date(ended_on, '+0 days'))),
    CONSTRAINT ck_meter_end_seconds CHECK (end_seconds IS NULL OR (typeof(end_seconds) =
    'integer' AND end_seconds BETWEEN 0 AND 10000000000)),
    CONSTRAINT ck_meter_end_rollovers CHECK (typeof(end_rollovers) = 'integer' AND
    end_rollovers BETWEEN 0 AND 1000),
    CONSTRAINT ck_meter_note CHECK (typeof(note) = 'text' AND length(note) BETWEEN 0 AND 10000
    AND instr(note, char(0)) = 0),
    CONSTRAINT ck_meter_ended_later CHECK (ended_on IS NULL OR ended_on >= from_on),
    CONSTRAINT ck_meter_ended_whole CHECK ((ended_on IS NULL) = (end_seconds IS NULL))
    )""",
    """CREATE INDEX ix_meter_item_id ON meter (item_id)""",
    """CREATE TABLE place_month (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    place_id INTEGER NOT NULL,
    month INTEGER NOT NULL,
    mean_mc INTEGER NOT NULL,
    low_mc INTEGER,
    high_mc INTEGER,
    CONSTRAINT uq_place_month_place_id_month UNIQUE (place_id, month),
    CONSTRAINT uq_place_month_uid UNIQUE (uid),
    CONSTRAINT fk_place_month_place_id FOREIGN KEY(place_id) REFERENCES place (id) ON DELETE
    CASCADE,
    CONSTRAINT ck_place_month_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_place_month_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64
    AND instr(uid, char(0)) = 0),
    CONSTRAINT ck_place_month_place_id CHECK (typeof(place_id) = 'integer' AND place_id >= 1),
    CONSTRAINT ck_place_month_month CHECK (typeof(month) = 'integer' AND month BETWEEN 1 AND
    12),
    CONSTRAINT ck_place_month_mean_mc CHECK (typeof(mean_mc) = 'integer' AND mean_mc BETWEEN
    -90000 AND 60000),
    CONSTRAINT ck_place_month_low_mc CHECK (low_mc IS NULL OR (typeof(low_mc) = 'integer' AND
    low_mc BETWEEN -90000 AND 60000)),
    CONSTRAINT ck_place_month_high_mc CHECK (high_mc IS NULL OR (typeof(high_mc) = 'integer'
    AND high_mc BETWEEN -90000 AND 60000))
    )""",
    """CREATE INDEX ix_place_month_place_id ON place_month (place_id)""",
    """CREATE TABLE place_season (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    place_id INTEGER NOT NULL,
    kind_code VARCHAR(64) NOT NULL,
    CONSTRAINT uq_place_season_place_id_kind_code UNIQUE (place_id, kind_code),
    CONSTRAINT uq_place_season_uid UNIQUE (uid),
    CONSTRAINT fk_place_season_place_id FOREIGN KEY(place_id) REFERENCES place (id) ON DELETE
    CASCADE,
    CONSTRAINT ck_place_season_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_place_season_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64
    AND instr(uid, char(0)) = 0),
    CONSTRAINT ck_place_season_place_id CHECK (typeof(place_id) = 'integer' AND place_id >= 1),
    CONSTRAINT ck_place_season_kind_code CHECK (typeof(kind_code) = 'text' AND
    length(kind_code) BETWEEN 1 AND 64 AND instr(kind_code, char(0)) = 0)
    )""",
    """CREATE INDEX ix_place_season_place_id ON place_season (place_id)""",
    """CREATE TABLE detail (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    machine_id INTEGER NOT NULL,
    detail_code VARCHAR(64) NOT NULL,
    text VARCHAR(10000) NOT NULL,
    CONSTRAINT uq_detail_machine_id_detail_code UNIQUE (machine_id, detail_code),
    CONSTRAINT uq_detail_uid UNIQUE (uid),
    CONSTRAINT fk_detail_machine_id FOREIGN KEY(machine_id) REFERENCES machine (id) ON DELETE
    CASCADE,
    CONSTRAINT ck_detail_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_detail_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64 AND
    instr(uid, char(0)) = 0),
    CONSTRAINT ck_detail_machine_id CHECK (typeof(machine_id) = 'integer' AND machine_id >= 1),
    CONSTRAINT ck_detail_detail_code CHECK (typeof(detail_code) = 'text' AND
    length(detail_code) BETWEEN 1 AND 64 AND instr(detail_code, char(0)) = 0),
    CONSTRAINT ck_detail_text CHECK (typeof(text) = 'text' AND length(text) BETWEEN 0 AND 10000
    AND instr(text, char(0)) = 0)
    )""",
    """CREATE INDEX ix_detail_machine_id ON detail (machine_id)""",
    """CREATE TABLE duty_answer (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    machine_id INTEGER NOT NULL,
    duty_code VARCHAR(64) NOT NULL,
    applies BOOLEAN NOT NULL,
    answered_on DATE NOT NULL,
    CONSTRAINT uq_duty_answer_machine_id_duty_code UNIQUE (machine_id, duty_code),
    CONSTRAINT uq_duty_answer_uid UNIQUE (uid),
    CONSTRAINT fk_duty_answer_machine_id FOREIGN KEY(machine_id) REFERENCES machine (id) ON
    DELETE CASCADE,
    CONSTRAINT ck_duty_answer_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_duty_answer_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64
    AND instr(uid, char(0)) = 0),
    CONSTRAINT ck_duty_answer_machine_id CHECK (typeof(machine_id) = 'integer' AND machine_id
    >= 1),
    CONSTRAINT ck_duty_answer_duty_code CHECK (typeof(duty_code) = 'text' AND length(duty_code)
    BETWEEN 1 AND 64 AND instr(duty_code, char(0)) = 0),
    CONSTRAINT ck_duty_answer_applies CHECK (typeof(applies) = 'integer' AND applies IN (0, 1)),
    CONSTRAINT ck_duty_answer_answered_on CHECK (typeof(answered_on) = 'text' AND answered_on
    BETWEEN '1900-01-01' AND '2199-12-31' AND answered_on IS date(answered_on, '+0 days'))
    )""",
    """CREATE INDEX ix_duty_answer_machine_id ON duty_answer (machine_id)""",
    """CREATE TABLE fault (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    machine_id INTEGER NOT NULL,
    item_id INTEGER,
    text VARCHAR(200) NOT NULL,
    since_on DATE NOT NULL,
    stops_use BOOLEAN NOT NULL,
    put_off_on DATE,
    closed_on DATE,
    closed_how VARCHAR(200) NOT NULL,
    note VARCHAR(10000) NOT NULL,
    CONSTRAINT uq_fault_uid UNIQUE (uid),
    CONSTRAINT fk_fault_machine_id FOREIGN KEY(machine_id) REFERENCES machine (id) ON DELETE
    CASCADE,
    CONSTRAINT fk_fault_item_id FOREIGN KEY(item_id) REFERENCES item (id) ON DELETE SET NULL,
    CONSTRAINT ck_fault_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_fault_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64 AND
    instr(uid, char(0)) = 0),
    CONSTRAINT ck_fault_machine_id CHECK (typeof(machine_id) = 'integer' AND machine_id >= 1),
    CONSTRAINT ck_fault_item_id CHECK (item_id IS NULL OR (typeof(item_id) = 'integer' AND
    item_id >= 1)),
    CONSTRAINT ck_fault_text CHECK (typeof(text) = 'text' AND length(text) BETWEEN 1 AND 200
    AND instr(text, char(0)) = 0),
    CONSTRAINT ck_fault_since_on CHECK (typeof(since_on) = 'text' AND since_on BETWEEN
    '1900-01-01' AND '2199-12-31' AND since_on IS date(since_on, '+0 days')),
    CONSTRAINT ck_fault_stops_use CHECK (typeof(stops_use) = 'integer' AND stops_use IN (0, 1)),
    CONSTRAINT ck_fault_put_off_on CHECK (put_off_on IS NULL OR (typeof(put_off_on) = 'text'
    AND put_off_on BETWEEN '1900-01-01' AND '2199-12-31' AND put_off_on IS date(put_off_on, '+0
    days'))),
    CONSTRAINT ck_fault_closed_on CHECK (closed_on IS NULL OR (typeof(closed_on) = 'text' AND
    closed_on BETWEEN '1900-01-01' AND '2199-12-31' AND closed_on IS date(closed_on, '+0
    days'))),
    CONSTRAINT ck_fault_closed_how CHECK (typeof(closed_how) = 'text' AND length(closed_how)
    BETWEEN 0 AND 200 AND instr(closed_how, char(0)) = 0),
    CONSTRAINT ck_fault_note CHECK (typeof(note) = 'text' AND length(note) BETWEEN 0 AND 10000
    AND instr(note, char(0)) = 0),
    CONSTRAINT ck_fault_put_off_later CHECK (put_off_on IS NULL OR put_off_on >= since_on),
    CONSTRAINT ck_fault_closed_later CHECK (closed_on IS NULL OR closed_on >= since_on)
    )""",
    """CREATE INDEX ix_fault_item_id ON fault (item_id)""",
    """CREATE INDEX ix_fault_machine_id ON fault (machine_id)""",
    """CREATE TABLE feature_answer (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    machine_id INTEGER NOT NULL,
    feature_code VARCHAR(64) NOT NULL,
    answer VARCHAR(64) NOT NULL,
    answered_on DATE NOT NULL,
    CONSTRAINT uq_feature_answer_machine_id_feature_code UNIQUE (machine_id, feature_code),
    CONSTRAINT uq_feature_answer_uid UNIQUE (uid),
    CONSTRAINT fk_feature_answer_machine_id FOREIGN KEY(machine_id) REFERENCES machine (id) ON
    DELETE CASCADE,
    CONSTRAINT ck_feature_answer_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_feature_answer_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND
    64 AND instr(uid, char(0)) = 0),
    CONSTRAINT ck_feature_answer_machine_id CHECK (typeof(machine_id) = 'integer' AND
    machine_id >= 1),
    CONSTRAINT ck_feature_answer_feature_code CHECK (typeof(feature_code) = 'text' AND
    length(feature_code) BETWEEN 1 AND 64 AND instr(feature_code, char(0)) = 0),
    CONSTRAINT ck_feature_answer_answer CHECK (typeof(answer) = 'text' AND length(answer)
    BETWEEN 1 AND 64 AND instr(answer, char(0)) = 0),
    CONSTRAINT ck_feature_answer_answered_on CHECK (typeof(answered_on) = 'text' AND
    answered_on BETWEEN '1900-01-01' AND '2199-12-31' AND answered_on IS date(answered_on, '+0
    days'))
    )""",
    """CREATE INDEX ix_feature_answer_machine_id ON feature_answer (machine_id)""",
    """CREATE TABLE fitting (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    item_id INTEGER NOT NULL,
    machine_id INTEGER NOT NULL,
    from_on DATE NOT NULL,
    off_on DATE,
    CONSTRAINT uq_fitting_uid UNIQUE (uid),
    CONSTRAINT fk_fitting_item_id FOREIGN KEY(item_id) REFERENCES item (id) ON DELETE CASCADE,
    CONSTRAINT fk_fitting_machine_id FOREIGN KEY(machine_id) REFERENCES machine (id) ON DELETE
    CASCADE,
    CONSTRAINT ck_fitting_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_fitting_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64 AND
    instr(uid, char(0)) = 0),
    CONSTRAINT ck_fitting_item_id CHECK (typeof(item_id) = 'integer' AND item_id >= 1),
    CONSTRAINT ck_fitting_machine_id CHECK (typeof(machine_id) = 'integer' AND machine_id >= 1),
    CONSTRAINT ck_fitting_from_on CHECK (typeof(from_on) = 'text' AND from_on BETWEEN
    '1900-01-01' AND '2199-12-31' AND from_on IS date(from_on, '+0 days')),
    CONSTRAINT ck_fitting_off_on CHECK (off_on IS NULL OR (typeof(off_on) = 'text' AND off_on
    BETWEEN '1900-01-01' AND '2199-12-31' AND off_on IS date(off_on, '+0 days'))),
    CONSTRAINT ck_fitting_off_later CHECK (off_on IS NULL OR off_on >= from_on)
    )""",
    """CREATE INDEX ix_fitting_item_id ON fitting (item_id)""",
    """CREATE INDEX ix_fitting_machine_id ON fitting (machine_id)""",
    """CREATE TABLE machine_place (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    machine_id INTEGER NOT NULL,
    place_id INTEGER NOT NULL,
    from_on DATE NOT NULL,
    spot VARCHAR(200) NOT NULL,
    CONSTRAINT uq_machine_place_machine_id_from_on UNIQUE (machine_id, from_on),
    CONSTRAINT uq_machine_place_uid UNIQUE (uid),
    CONSTRAINT fk_machine_place_machine_id FOREIGN KEY(machine_id) REFERENCES machine (id) ON
    DELETE CASCADE,
    CONSTRAINT fk_machine_place_place_id FOREIGN KEY(place_id) REFERENCES place (id) ON DELETE
    RESTRICT,
    CONSTRAINT ck_machine_place_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_machine_place_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND
    64 AND instr(uid, char(0)) = 0),
    CONSTRAINT ck_machine_place_machine_id CHECK (typeof(machine_id) = 'integer' AND machine_id
    >= 1),
    CONSTRAINT ck_machine_place_place_id CHECK (typeof(place_id) = 'integer' AND place_id >= 1),
    CONSTRAINT ck_machine_place_from_on CHECK (typeof(from_on) = 'text' AND from_on BETWEEN
    '1900-01-01' AND '2199-12-31' AND from_on IS date(from_on, '+0 days')),
    CONSTRAINT ck_machine_place_spot CHECK (typeof(spot) = 'text' AND length(spot) BETWEEN 0
    AND 200 AND instr(spot, char(0)) = 0)
    )""",
    """CREATE INDEX ix_machine_place_machine_id ON machine_place (machine_id)""",
    """CREATE INDEX ix_machine_place_place_id ON machine_place (place_id)""",
    """CREATE TABLE own_figure (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    machine_id INTEGER NOT NULL,
    target VARCHAR(64) NOT NULL,
    figure VARCHAR(64) NOT NULL,
    value INTEGER,
    typed_text VARCHAR(40) NOT NULL,
    typed_unit VARCHAR(40) NOT NULL,
    page VARCHAR(200) NOT NULL,
    CONSTRAINT uq_own_figure_machine_id_target_figure UNIQUE (machine_id, target, figure),
    CONSTRAINT uq_own_figure_uid UNIQUE (uid),
    CONSTRAINT fk_own_figure_machine_id FOREIGN KEY(machine_id) REFERENCES machine (id) ON
    DELETE CASCADE,
    CONSTRAINT ck_own_figure_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_own_figure_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64
    AND instr(uid, char(0)) = 0),
    CONSTRAINT ck_own_figure_machine_id CHECK (typeof(machine_id) = 'integer' AND machine_id >=
    1),
    CONSTRAINT ck_own_figure_target CHECK (typeof(target) = 'text' AND length(target) BETWEEN 1
    AND 64 AND instr(target, char(0)) = 0),
    CONSTRAINT ck_own_figure_figure CHECK (typeof(figure) = 'text' AND length(figure) BETWEEN 1
    AND 64 AND instr(figure, char(0)) = 0),
    CONSTRAINT ck_own_figure_value CHECK (value IS NULL OR (typeof(value) = 'integer' AND value
    BETWEEN -1000000000000000 AND 1000000000000000)),
    CONSTRAINT ck_own_figure_typed_text CHECK (typeof(typed_text) = 'text' AND
    length(typed_text) BETWEEN 0 AND 40 AND instr(typed_text, char(0)) = 0),
    CONSTRAINT ck_own_figure_typed_unit CHECK (typeof(typed_unit) = 'text' AND
    length(typed_unit) BETWEEN 0 AND 40 AND instr(typed_unit, char(0)) = 0),
    CONSTRAINT ck_own_figure_page CHECK (typeof(page) = 'text' AND length(page) BETWEEN 0 AND
    200 AND instr(page, char(0)) = 0)
    )""",
    """CREATE INDEX ix_own_figure_machine_id ON own_figure (machine_id)""",
    """CREATE TABLE payment (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    machine_id INTEGER,
    item_id INTEGER,
    sort VARCHAR(64) NOT NULL,
    cents INTEGER NOT NULL,
    shop VARCHAR(200) NOT NULL,
    text VARCHAR(200) NOT NULL,
    note VARCHAR(10000) NOT NULL,
    happened_on DATE NOT NULL,
    entered_at DATETIME NOT NULL,
    entered_by VARCHAR(200) NOT NULL,
    struck BOOLEAN NOT NULL,
    corrects_id INTEGER,
    CONSTRAINT uq_payment_uid UNIQUE (uid),
    CONSTRAINT fk_payment_machine_id FOREIGN KEY(machine_id) REFERENCES machine (id) ON DELETE
    RESTRICT,
    CONSTRAINT fk_payment_item_id FOREIGN KEY(item_id) REFERENCES item (id) ON DELETE RESTRICT,
    CONSTRAINT uq_payment_corrects_id UNIQUE (corrects_id),
    CONSTRAINT fk_payment_corrects_id FOREIGN KEY(corrects_id) REFERENCES payment (id) ON
    DELETE RESTRICT,
    CONSTRAINT ck_payment_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_payment_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64 AND
    instr(uid, char(0)) = 0),
    CONSTRAINT ck_payment_machine_id CHECK (machine_id IS NULL OR (typeof(machine_id) =
    'integer' AND machine_id >= 1)),
    CONSTRAINT ck_payment_item_id CHECK (item_id IS NULL OR (typeof(item_id) = 'integer' AND
    item_id >= 1)),
    CONSTRAINT ck_payment_sort CHECK (typeof(sort) = 'text' AND sort IN ('bought', 'sold',
    'part', 'consumable', 'fuel', 'workshop', 'other')),
    CONSTRAINT ck_payment_cents CHECK (typeof(cents) = 'integer' AND cents BETWEEN 0 AND
    100000000000),
    CONSTRAINT ck_payment_shop CHECK (typeof(shop) = 'text' AND length(shop) BETWEEN 0 AND 200
    AND instr(shop, char(0)) = 0),
    CONSTRAINT ck_payment_text CHECK (typeof(text) = 'text' AND length(text) BETWEEN 0 AND 200
    AND instr(text, char(0)) = 0),
    CONSTRAINT ck_payment_note CHECK (typeof(note) = 'text' AND length(note) BETWEEN 0 AND
    10000 AND instr(note, char(0)) = 0),
    CONSTRAINT ck_payment_happened_on CHECK (typeof(happened_on) = 'text' AND happened_on
    BETWEEN '1900-01-01' AND '2199-12-31' AND happened_on IS date(happened_on, '+0 days')),
    CONSTRAINT ck_payment_entered_at CHECK (typeof(entered_at) = 'text' AND entered_at LIKE
    '____-__-__ __:__:__.______'),
    CONSTRAINT ck_payment_entered_by CHECK (typeof(entered_by) = 'text' AND length(entered_by)
    BETWEEN 0 AND 200 AND instr(entered_by, char(0)) = 0),
    CONSTRAINT ck_payment_struck CHECK (typeof(struck) = 'integer' AND struck IN (0, 1)),
    CONSTRAINT ck_payment_corrects_id CHECK (corrects_id IS NULL OR (typeof(corrects_id) =
    'integer' AND corrects_id >= 1)),
    CONSTRAINT ck_payment_strikes CHECK (struck = 0 OR corrects_id IS NOT NULL),
    CONSTRAINT ck_payment_corrects_earlier CHECK (corrects_id IS NULL OR corrects_id < id)
    )""",
    """CREATE INDEX ix_payment_item_id ON payment (item_id)""",
    """CREATE INDEX ix_payment_machine_id ON payment (machine_id)""",
    """CREATE TABLE place_window (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    season_id INTEGER NOT NULL,
    first_month INTEGER NOT NULL,
    first_day INTEGER NOT NULL,
    last_month INTEGER NOT NULL,
    last_day INTEGER NOT NULL,
    CONSTRAINT uq_place_window_uid UNIQUE (uid),
    CONSTRAINT fk_place_window_season_id FOREIGN KEY(season_id) REFERENCES place_season (id) ON
    DELETE CASCADE,
    CONSTRAINT ck_place_window_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_place_window_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64
    AND instr(uid, char(0)) = 0),
    CONSTRAINT ck_place_window_season_id CHECK (typeof(season_id) = 'integer' AND season_id >=
    1),
    CONSTRAINT ck_place_window_first_month CHECK (typeof(first_month) = 'integer' AND
    first_month BETWEEN 1 AND 12),
    CONSTRAINT ck_place_window_first_day CHECK (typeof(first_day) = 'integer' AND first_day
    BETWEEN 1 AND 31),
    CONSTRAINT ck_place_window_last_month CHECK (typeof(last_month) = 'integer' AND last_month
    BETWEEN 1 AND 12),
    CONSTRAINT ck_place_window_last_day CHECK (typeof(last_day) = 'integer' AND last_day
    BETWEEN 1 AND 31),
    CONSTRAINT ck_place_window_first_day_exists CHECK (first_day <= 29 OR (first_month <> 2 AND
    (first_day = 30 OR first_month NOT IN (4, 6, 9, 11)))),
    CONSTRAINT ck_place_window_last_day_exists CHECK (last_day <= 29 OR (last_month <> 2 AND
    (last_day = 30 OR last_month NOT IN (4, 6, 9, 11))))
    )""",
    """CREATE INDEX ix_place_window_season_id ON place_window (season_id)""",
    """CREATE TABLE sheet_machine (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    sheet_id INTEGER NOT NULL,
    machine_id INTEGER NOT NULL,
    CONSTRAINT uq_sheet_machine_sheet_id_machine_id UNIQUE (sheet_id, machine_id),
    CONSTRAINT uq_sheet_machine_uid UNIQUE (uid),
    CONSTRAINT fk_sheet_machine_sheet_id FOREIGN KEY(sheet_id) REFERENCES sheet (id) ON DELETE
    CASCADE,
    CONSTRAINT fk_sheet_machine_machine_id FOREIGN KEY(machine_id) REFERENCES machine (id) ON
    DELETE CASCADE,
    CONSTRAINT ck_sheet_machine_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_sheet_machine_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND
    64 AND instr(uid, char(0)) = 0),
    CONSTRAINT ck_sheet_machine_sheet_id CHECK (typeof(sheet_id) = 'integer' AND sheet_id >= 1),
    CONSTRAINT ck_sheet_machine_machine_id CHECK (typeof(machine_id) = 'integer' AND machine_id
    >= 1)
    )""",
    """CREATE INDEX ix_sheet_machine_machine_id ON sheet_machine (machine_id)""",
    """CREATE INDEX ix_sheet_machine_sheet_id ON sheet_machine (sheet_id)""",
    """CREATE TABLE storage_spell (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    machine_id INTEGER NOT NULL,
    put_away_on DATE NOT NULL,
    planned_last DATE,
    woken_on DATE,
    off_or_open VARCHAR(10000) NOT NULL,
    note VARCHAR(10000) NOT NULL,
    CONSTRAINT uq_storage_spell_uid UNIQUE (uid),
    CONSTRAINT fk_storage_spell_machine_id FOREIGN KEY(machine_id) REFERENCES machine (id) ON
    DELETE CASCADE,
    CONSTRAINT ck_storage_spell_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_storage_spell_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND
    64 AND instr(uid, char(0)) = 0),
    CONSTRAINT ck_storage_spell_machine_id CHECK (typeof(machine_id) = 'integer' AND machine_id
    >= 1),
    CONSTRAINT ck_storage_spell_put_away_on CHECK (typeof(put_away_on) = 'text' AND put_away_on
    BETWEEN '1900-01-01' AND '2199-12-31' AND put_away_on IS date(put_away_on, '+0 days')),
    CONSTRAINT ck_storage_spell_planned_last CHECK (planned_last IS NULL OR
    (typeof(planned_last) = 'text' AND planned_last BETWEEN '1900-01-01' AND '2199-12-31' AND
    planned_last IS date(planned_last, '+0 days'))),
    CONSTRAINT ck_storage_spell_woken_on CHECK (woken_on IS NULL OR (typeof(woken_on) = 'text'
    AND woken_on BETWEEN '1900-01-01' AND '2199-12-31' AND woken_on IS date(woken_on, '+0
    days'))),
    CONSTRAINT ck_storage_spell_off_or_open CHECK (typeof(off_or_open) = 'text' AND
    length(off_or_open) BETWEEN 0 AND 10000 AND instr(off_or_open, char(0)) = 0),
    CONSTRAINT ck_storage_spell_note CHECK (typeof(note) = 'text' AND length(note) BETWEEN 0
    AND 10000 AND instr(note, char(0)) = 0),
    CONSTRAINT ck_storage_spell_woken_later CHECK (woken_on IS NULL OR woken_on >= put_away_on),
    CONSTRAINT ck_storage_spell_planned_later CHECK (planned_last IS NULL OR planned_last >=
    put_away_on)
    )""",
    """CREATE INDEX ix_storage_spell_machine_id ON storage_spell (machine_id)""",
    """CREATE TABLE use (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    machine_id INTEGER NOT NULL,
    run_seconds INTEGER,
    count INTEGER NOT NULL,
    outcome VARCHAR(64) NOT NULL,
    pins_used INTEGER NOT NULL,
    note VARCHAR(10000) NOT NULL,
    happened_on DATE NOT NULL,
    entered_at DATETIME NOT NULL,
    entered_by VARCHAR(200) NOT NULL,
    struck BOOLEAN NOT NULL,
    corrects_id INTEGER,
    typed_text VARCHAR(40) NOT NULL,
    typed_amount VARCHAR(100) NOT NULL,
    typed_unit VARCHAR(40) NOT NULL,
    CONSTRAINT uq_use_uid UNIQUE (uid),
    CONSTRAINT fk_use_machine_id FOREIGN KEY(machine_id) REFERENCES machine (id) ON DELETE
    RESTRICT,
    CONSTRAINT uq_use_corrects_id UNIQUE (corrects_id),
    CONSTRAINT fk_use_corrects_id FOREIGN KEY(corrects_id) REFERENCES use (id) ON DELETE
    RESTRICT,
    CONSTRAINT ck_use_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_use_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64 AND
    instr(uid, char(0)) = 0),
    CONSTRAINT ck_use_machine_id CHECK (typeof(machine_id) = 'integer' AND machine_id >= 1),
    CONSTRAINT ck_use_run_seconds CHECK (run_seconds IS NULL OR (typeof(run_seconds) =
    'integer' AND run_seconds BETWEEN 0 AND 31622400)),
    CONSTRAINT ck_use_count CHECK (typeof(count) = 'integer' AND count BETWEEN 1 AND 1000),
    CONSTRAINT ck_use_outcome CHECK (typeof(outcome) = 'text' AND outcome IN ('ran', 'badly',
    'did_not')),
    CONSTRAINT ck_use_pins_used CHECK (typeof(pins_used) = 'integer' AND pins_used BETWEEN 0
    AND 1000),
    CONSTRAINT ck_use_note CHECK (typeof(note) = 'text' AND length(note) BETWEEN 0 AND 10000
    AND instr(note, char(0)) = 0),
    CONSTRAINT ck_use_happened_on CHECK (typeof(happened_on) = 'text' AND happened_on BETWEEN
    '1900-01-01' AND '2199-12-31' AND happened_on IS date(happened_on, '+0 days')),
    CONSTRAINT ck_use_entered_at CHECK (typeof(entered_at) = 'text' AND entered_at LIKE
    '____-__-__ __:__:__.______'),
    CONSTRAINT ck_use_entered_by CHECK (typeof(entered_by) = 'text' AND length(entered_by)
    BETWEEN 0 AND 200 AND instr(entered_by, char(0)) = 0),
    CONSTRAINT ck_use_struck CHECK (typeof(struck) = 'integer' AND struck IN (0, 1)),
    CONSTRAINT ck_use_corrects_id CHECK (corrects_id IS NULL OR (typeof(corrects_id) =
    'integer' AND corrects_id >= 1)),
    CONSTRAINT ck_use_typed_text CHECK (typeof(typed_text) = 'text' AND length(typed_text)
    BETWEEN 0 AND 40 AND instr(typed_text, char(0)) = 0),
    CONSTRAINT ck_use_typed_amount CHECK (typeof(typed_amount) = 'text' AND
    length(typed_amount) BETWEEN 0 AND 100 AND instr(typed_amount, char(0)) = 0),
    CONSTRAINT ck_use_typed_unit CHECK (typeof(typed_unit) = 'text' AND length(typed_unit)
    BETWEEN 0 AND 40 AND instr(typed_unit, char(0)) = 0),
    CONSTRAINT ck_use_strikes CHECK (struck = 0 OR corrects_id IS NOT NULL),
    CONSTRAINT ck_use_corrects_earlier CHECK (corrects_id IS NULL OR corrects_id < id)
    )""",
    """CREATE INDEX ix_use_machine_id ON use (machine_id)""",
    """CREATE TABLE vessel (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    sort VARCHAR(64) NOT NULL,
    name VARCHAR(200) NOT NULL,
    machine_id INTEGER,
    place_id INTEGER,
    shelter VARCHAR(64),
    capacity_ul INTEGER NOT NULL,
    burns VARCHAR(64) NOT NULL,
    came_on DATE NOT NULL,
    retired_on DATE,
    note VARCHAR(10000) NOT NULL,
    CONSTRAINT uq_vessel_uid UNIQUE (uid),
    CONSTRAINT fk_vessel_machine_id FOREIGN KEY(machine_id) REFERENCES machine (id) ON DELETE
    CASCADE,
    CONSTRAINT fk_vessel_place_id FOREIGN KEY(place_id) REFERENCES place (id) ON DELETE
    RESTRICT,
    CONSTRAINT ck_vessel_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_vessel_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64 AND
    instr(uid, char(0)) = 0),
    CONSTRAINT ck_vessel_sort CHECK (typeof(sort) = 'text' AND sort IN ('can', 'tank', 'bowl')),
    CONSTRAINT ck_vessel_name CHECK (typeof(name) = 'text' AND length(name) BETWEEN 1 AND 200
    AND instr(name, char(0)) = 0),
    CONSTRAINT ck_vessel_machine_id CHECK (machine_id IS NULL OR (typeof(machine_id) =
    'integer' AND machine_id >= 1)),
    CONSTRAINT ck_vessel_place_id CHECK (place_id IS NULL OR (typeof(place_id) = 'integer' AND
    place_id >= 1)),
    CONSTRAINT ck_vessel_shelter CHECK (shelter IS NULL OR (typeof(shelter) = 'text' AND
    shelter IN ('indoor', 'garage', 'shed'))),
    CONSTRAINT ck_vessel_capacity_ul CHECK (typeof(capacity_ul) = 'integer' AND capacity_ul
    BETWEEN 1 AND 10000000000),
    CONSTRAINT ck_vessel_burns CHECK (typeof(burns) = 'text' AND burns IN ('four_stroke',
    'two_stroke', 'diesel', 'none')),
    CONSTRAINT ck_vessel_came_on CHECK (typeof(came_on) = 'text' AND came_on BETWEEN
    '1900-01-01' AND '2199-12-31' AND came_on IS date(came_on, '+0 days')),
    CONSTRAINT ck_vessel_retired_on CHECK (retired_on IS NULL OR (typeof(retired_on) = 'text'
    AND retired_on BETWEEN '1900-01-01' AND '2199-12-31' AND retired_on IS date(retired_on, '+0
    days'))),
    CONSTRAINT ck_vessel_note CHECK (typeof(note) = 'text' AND length(note) BETWEEN 0 AND 10000
    AND instr(note, char(0)) = 0),
    CONSTRAINT ck_vessel_can_or_of_a_machine CHECK ((sort = 'can') = (machine_id IS NULL)),
    CONSTRAINT ck_vessel_retired_later CHECK (retired_on IS NULL OR retired_on >= came_on)
    )""",
    """CREATE INDEX ix_vessel_machine_id ON vessel (machine_id)""",
    """CREATE INDEX ix_vessel_place_id ON vessel (place_id)""",
    """CREATE TABLE work (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    machine_id INTEGER,
    sheet_id INTEGER,
    by_whom VARCHAR(200) NOT NULL,
    minutes INTEGER,
    cents INTEGER,
    note VARCHAR(10000) NOT NULL,
    happened_on DATE NOT NULL,
    entered_at DATETIME NOT NULL,
    entered_by VARCHAR(200) NOT NULL,
    struck BOOLEAN NOT NULL,
    corrects_id INTEGER,
    CONSTRAINT uq_work_uid UNIQUE (uid),
    CONSTRAINT fk_work_machine_id FOREIGN KEY(machine_id) REFERENCES machine (id) ON DELETE
    RESTRICT,
    CONSTRAINT fk_work_sheet_id FOREIGN KEY(sheet_id) REFERENCES sheet (id) ON DELETE RESTRICT,
    CONSTRAINT uq_work_corrects_id UNIQUE (corrects_id),
    CONSTRAINT fk_work_corrects_id FOREIGN KEY(corrects_id) REFERENCES work (id) ON DELETE
    RESTRICT,
    CONSTRAINT ck_work_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_work_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64 AND
    instr(uid, char(0)) = 0),
    CONSTRAINT ck_work_machine_id CHECK (machine_id IS NULL OR (typeof(machine_id) = 'integer'
    AND machine_id >= 1)),
    CONSTRAINT ck_work_sheet_id CHECK (sheet_id IS NULL OR (typeof(sheet_id) = 'integer' AND
    sheet_id >= 1)),
    CONSTRAINT ck_work_by_whom CHECK (typeof(by_whom) = 'text' AND length(by_whom) BETWEEN 0
    AND 200 AND instr(by_whom, char(0)) = 0),
    CONSTRAINT ck_work_minutes CHECK (minutes IS NULL OR (typeof(minutes) = 'integer' AND
    minutes BETWEEN 0 AND 100000)),
    CONSTRAINT ck_work_cents CHECK (cents IS NULL OR (typeof(cents) = 'integer' AND cents
    BETWEEN 0 AND 100000000000)),
    CONSTRAINT ck_work_note CHECK (typeof(note) = 'text' AND length(note) BETWEEN 0 AND 10000
    AND instr(note, char(0)) = 0),
    CONSTRAINT ck_work_happened_on CHECK (typeof(happened_on) = 'text' AND happened_on BETWEEN
    '1900-01-01' AND '2199-12-31' AND happened_on IS date(happened_on, '+0 days')),
    CONSTRAINT ck_work_entered_at CHECK (typeof(entered_at) = 'text' AND entered_at LIKE
    '____-__-__ __:__:__.______'),
    CONSTRAINT ck_work_entered_by CHECK (typeof(entered_by) = 'text' AND length(entered_by)
    BETWEEN 0 AND 200 AND instr(entered_by, char(0)) = 0),
    CONSTRAINT ck_work_struck CHECK (typeof(struck) = 'integer' AND struck IN (0, 1)),
    CONSTRAINT ck_work_corrects_id CHECK (corrects_id IS NULL OR (typeof(corrects_id) =
    'integer' AND corrects_id >= 1)),
    CONSTRAINT ck_work_strikes CHECK (struck = 0 OR corrects_id IS NOT NULL),
    CONSTRAINT ck_work_corrects_earlier CHECK (corrects_id IS NULL OR corrects_id < id)
    )""",
    """CREATE INDEX ix_work_machine_id ON work (machine_id)""",
    """CREATE INDEX ix_work_sheet_id ON work (sheet_id)""",
    """CREATE TABLE fuel_event (
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
    CONSTRAINT ck_fuel_event_to_vessel_id CHECK (to_vessel_id IS NULL OR (typeof(to_vessel_id)
    = 'integer' AND to_vessel_id >= 1)),
    CONSTRAINT ck_fuel_event_work_id CHECK (work_id IS NULL OR (typeof(work_id) = 'integer' AND
    work_id >= 1)),
    CONSTRAINT ck_fuel_event_doing CHECK (typeof(doing) = 'text' AND doing IN ('bought',
    'found', 'poured', 'filled', 'burnt', 'drained', 'level', 'treated', 'looked')),
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
    CONSTRAINT ck_fuel_event_comes_in_known CHECK (doing NOT IN ('bought', 'found') OR
    fuel_sort IS NOT NULL),
    CONSTRAINT ck_fuel_event_strikes CHECK (struck = 0 OR corrects_id IS NOT NULL),
    CONSTRAINT ck_fuel_event_corrects_earlier CHECK (corrects_id IS NULL OR corrects_id < id)
    )""",
    """CREATE INDEX ix_fuel_event_to_vessel_id ON fuel_event (to_vessel_id)""",
    """CREATE INDEX ix_fuel_event_vessel_id ON fuel_event (vessel_id)""",
    """CREATE INDEX ix_fuel_event_work_id ON fuel_event (work_id)""",
    """CREATE TABLE hours_reading (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    meter_id INTEGER NOT NULL,
    work_id INTEGER,
    shown_seconds INTEGER NOT NULL,
    rollovers INTEGER NOT NULL,
    note VARCHAR(10000) NOT NULL,
    happened_on DATE NOT NULL,
    entered_at DATETIME NOT NULL,
    entered_by VARCHAR(200) NOT NULL,
    struck BOOLEAN NOT NULL,
    corrects_id INTEGER,
    typed_text VARCHAR(40) NOT NULL,
    typed_amount VARCHAR(100) NOT NULL,
    typed_unit VARCHAR(40) NOT NULL,
    CONSTRAINT uq_hours_reading_uid UNIQUE (uid),
    CONSTRAINT fk_hours_reading_meter_id FOREIGN KEY(meter_id) REFERENCES meter (id) ON DELETE
    RESTRICT,
    CONSTRAINT fk_hours_reading_work_id FOREIGN KEY(work_id) REFERENCES work (id) ON DELETE
    RESTRICT,
    CONSTRAINT uq_hours_reading_corrects_id UNIQUE (corrects_id),
    CONSTRAINT fk_hours_reading_corrects_id FOREIGN KEY(corrects_id) REFERENCES hours_reading
    (id) ON DELETE RESTRICT,
    CONSTRAINT ck_hours_reading_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_hours_reading_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND
    64 AND instr(uid, char(0)) = 0),
    CONSTRAINT ck_hours_reading_meter_id CHECK (typeof(meter_id) = 'integer' AND meter_id >= 1),
    CONSTRAINT ck_hours_reading_work_id CHECK (work_id IS NULL OR (typeof(work_id) = 'integer'
    AND work_id >= 1)),
    CONSTRAINT ck_hours_reading_shown_seconds CHECK (typeof(shown_seconds) = 'integer' AND
    shown_seconds BETWEEN 0 AND 10000000000),
    CONSTRAINT ck_hours_reading_rollovers CHECK (typeof(rollovers) = 'integer' AND rollovers
    BETWEEN 0 AND 1000),
    CONSTRAINT ck_hours_reading_note CHECK (typeof(note) = 'text' AND length(note) BETWEEN 0
    AND 10000 AND instr(note, char(0)) = 0),
    CONSTRAINT ck_hours_reading_happened_on CHECK (typeof(happened_on) = 'text' AND happened_on
    BETWEEN '1900-01-01' AND '2199-12-31' AND happened_on IS date(happened_on, '+0 days')),
    CONSTRAINT ck_hours_reading_entered_at CHECK (typeof(entered_at) = 'text' AND entered_at
    LIKE '____-__-__ __:__:__.______'),
    CONSTRAINT ck_hours_reading_entered_by CHECK (typeof(entered_by) = 'text' AND
    length(entered_by) BETWEEN 0 AND 200 AND instr(entered_by, char(0)) = 0),
    CONSTRAINT ck_hours_reading_struck CHECK (typeof(struck) = 'integer' AND struck IN (0, 1)),
    CONSTRAINT ck_hours_reading_corrects_id CHECK (corrects_id IS NULL OR (typeof(corrects_id)
    = 'integer' AND corrects_id >= 1)),
    CONSTRAINT ck_hours_reading_typed_text CHECK (typeof(typed_text) = 'text' AND
    length(typed_text) BETWEEN 0 AND 40 AND instr(typed_text, char(0)) = 0),
    CONSTRAINT ck_hours_reading_typed_amount CHECK (typeof(typed_amount) = 'text' AND
    length(typed_amount) BETWEEN 0 AND 100 AND instr(typed_amount, char(0)) = 0),
    CONSTRAINT ck_hours_reading_typed_unit CHECK (typeof(typed_unit) = 'text' AND
    length(typed_unit) BETWEEN 0 AND 40 AND instr(typed_unit, char(0)) = 0),
    CONSTRAINT ck_hours_reading_strikes CHECK (struck = 0 OR corrects_id IS NOT NULL),
    CONSTRAINT ck_hours_reading_corrects_earlier CHECK (corrects_id IS NULL OR corrects_id < id)
    )""",
    """CREATE INDEX ix_hours_reading_meter_id ON hours_reading (meter_id)""",
    """CREATE INDEX ix_hours_reading_work_id ON hours_reading (work_id)""",
    """CREATE TABLE job (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    machine_id INTEGER,
    item_id INTEGER,
    fault_id INTEGER,
    text VARCHAR(200) NOT NULL,
    noted_on DATE NOT NULL,
    due_on DATE,
    at_seconds INTEGER,
    phase VARCHAR(64),
    waits_for VARCHAR(200) NOT NULL,
    minutes INTEGER NOT NULL,
    part VARCHAR(200) NOT NULL,
    safety BOOLEAN NOT NULL,
    stops_use BOOLEAN NOT NULL,
    dropped_on DATE,
    dropped_why VARCHAR(200) NOT NULL,
    note VARCHAR(10000) NOT NULL,
    CONSTRAINT uq_job_uid UNIQUE (uid),
    CONSTRAINT fk_job_machine_id FOREIGN KEY(machine_id) REFERENCES machine (id) ON DELETE
    CASCADE,
    CONSTRAINT fk_job_item_id FOREIGN KEY(item_id) REFERENCES item (id) ON DELETE SET NULL,
    CONSTRAINT fk_job_fault_id FOREIGN KEY(fault_id) REFERENCES fault (id) ON DELETE SET NULL,
    CONSTRAINT ck_job_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_job_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64 AND
    instr(uid, char(0)) = 0),
    CONSTRAINT ck_job_machine_id CHECK (machine_id IS NULL OR (typeof(machine_id) = 'integer'
    AND machine_id >= 1)),
    CONSTRAINT ck_job_item_id CHECK (item_id IS NULL OR (typeof(item_id) = 'integer' AND
    item_id >= 1)),
    CONSTRAINT ck_job_fault_id CHECK (fault_id IS NULL OR (typeof(fault_id) = 'integer' AND
    fault_id >= 1)),
    CONSTRAINT ck_job_text CHECK (typeof(text) = 'text' AND length(text) BETWEEN 1 AND 200 AND
    instr(text, char(0)) = 0),
    CONSTRAINT ck_job_noted_on CHECK (typeof(noted_on) = 'text' AND noted_on BETWEEN
    '1900-01-01' AND '2199-12-31' AND noted_on IS date(noted_on, '+0 days')),
    CONSTRAINT ck_job_due_on CHECK (due_on IS NULL OR (typeof(due_on) = 'text' AND due_on
    BETWEEN '1900-01-01' AND '2199-12-31' AND due_on IS date(due_on, '+0 days'))),
    CONSTRAINT ck_job_at_seconds CHECK (at_seconds IS NULL OR (typeof(at_seconds) = 'integer'
    AND at_seconds BETWEEN 0 AND 1000000000000000)),
    CONSTRAINT ck_job_phase CHECK (phase IS NULL OR (typeof(phase) = 'text' AND phase IN
    ('before', 'in', 'middle', 'end', 'off'))),
    CONSTRAINT ck_job_waits_for CHECK (typeof(waits_for) = 'text' AND length(waits_for) BETWEEN
    0 AND 200 AND instr(waits_for, char(0)) = 0),
    CONSTRAINT ck_job_minutes CHECK (typeof(minutes) = 'integer' AND minutes BETWEEN 0 AND
    100000),
    CONSTRAINT ck_job_part CHECK (typeof(part) = 'text' AND length(part) BETWEEN 0 AND 200 AND
    instr(part, char(0)) = 0),
    CONSTRAINT ck_job_safety CHECK (typeof(safety) = 'integer' AND safety IN (0, 1)),
    CONSTRAINT ck_job_stops_use CHECK (typeof(stops_use) = 'integer' AND stops_use IN (0, 1)),
    CONSTRAINT ck_job_dropped_on CHECK (dropped_on IS NULL OR (typeof(dropped_on) = 'text' AND
    dropped_on BETWEEN '1900-01-01' AND '2199-12-31' AND dropped_on IS date(dropped_on, '+0
    days'))),
    CONSTRAINT ck_job_dropped_why CHECK (typeof(dropped_why) = 'text' AND length(dropped_why)
    BETWEEN 0 AND 200 AND instr(dropped_why, char(0)) = 0),
    CONSTRAINT ck_job_note CHECK (typeof(note) = 'text' AND length(note) BETWEEN 0 AND 10000
    AND instr(note, char(0)) = 0),
    CONSTRAINT ck_job_dropped_later CHECK (dropped_on IS NULL OR dropped_on >= noted_on),
    CONSTRAINT ck_job_dropped_for_a_reason CHECK (dropped_on IS NULL OR length(dropped_why) > 0)
    )""",
    """CREATE INDEX ix_job_fault_id ON job (fault_id)""",
    """CREATE INDEX ix_job_item_id ON job (item_id)""",
    """CREATE INDEX ix_job_machine_id ON job (machine_id)""",
    """CREATE TABLE limit_reading (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    item_id INTEGER NOT NULL,
    work_id INTEGER,
    task_code VARCHAR(64) NOT NULL,
    limit_code VARCHAR(64) NOT NULL,
    amount INTEGER,
    seen BOOLEAN,
    after_work BOOLEAN NOT NULL,
    side VARCHAR(64),
    note VARCHAR(10000) NOT NULL,
    happened_on DATE NOT NULL,
    entered_at DATETIME NOT NULL,
    entered_by VARCHAR(200) NOT NULL,
    struck BOOLEAN NOT NULL,
    corrects_id INTEGER,
    typed_text VARCHAR(40) NOT NULL,
    typed_amount VARCHAR(100) NOT NULL,
    typed_unit VARCHAR(40) NOT NULL,
    CONSTRAINT uq_limit_reading_uid UNIQUE (uid),
    CONSTRAINT fk_limit_reading_item_id FOREIGN KEY(item_id) REFERENCES item (id) ON DELETE
    RESTRICT,
    CONSTRAINT fk_limit_reading_work_id FOREIGN KEY(work_id) REFERENCES work (id) ON DELETE
    RESTRICT,
    CONSTRAINT uq_limit_reading_corrects_id UNIQUE (corrects_id),
    CONSTRAINT fk_limit_reading_corrects_id FOREIGN KEY(corrects_id) REFERENCES limit_reading
    (id) ON DELETE RESTRICT,
    CONSTRAINT ck_limit_reading_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_limit_reading_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND
    64 AND instr(uid, char(0)) = 0),
    CONSTRAINT ck_limit_reading_item_id CHECK (typeof(item_id) = 'integer' AND item_id >= 1),
    CONSTRAINT ck_limit_reading_work_id CHECK (work_id IS NULL OR (typeof(work_id) = 'integer'
    AND work_id >= 1)),
    CONSTRAINT ck_limit_reading_task_code CHECK (typeof(task_code) = 'text' AND
    length(task_code) BETWEEN 1 AND 64 AND instr(task_code, char(0)) = 0),
    CONSTRAINT ck_limit_reading_limit_code CHECK (typeof(limit_code) = 'text' AND
    length(limit_code) BETWEEN 1 AND 64 AND instr(limit_code, char(0)) = 0),
    CONSTRAINT ck_limit_reading_amount CHECK (amount IS NULL OR (typeof(amount) = 'integer' AND
    amount BETWEEN -1000000000000000 AND 1000000000000000)),
    CONSTRAINT ck_limit_reading_seen CHECK (seen IS NULL OR (typeof(seen) = 'integer' AND seen
    IN (0, 1))),
    CONSTRAINT ck_limit_reading_after_work CHECK (typeof(after_work) = 'integer' AND after_work
    IN (0, 1)),
    CONSTRAINT ck_limit_reading_side CHECK (side IS NULL OR (typeof(side) = 'text' AND side IN
    ('left', 'right'))),
    CONSTRAINT ck_limit_reading_note CHECK (typeof(note) = 'text' AND length(note) BETWEEN 0
    AND 10000 AND instr(note, char(0)) = 0),
    CONSTRAINT ck_limit_reading_happened_on CHECK (typeof(happened_on) = 'text' AND happened_on
    BETWEEN '1900-01-01' AND '2199-12-31' AND happened_on IS date(happened_on, '+0 days')),
    CONSTRAINT ck_limit_reading_entered_at CHECK (typeof(entered_at) = 'text' AND entered_at
    LIKE '____-__-__ __:__:__.______'),
    CONSTRAINT ck_limit_reading_entered_by CHECK (typeof(entered_by) = 'text' AND
    length(entered_by) BETWEEN 0 AND 200 AND instr(entered_by, char(0)) = 0),
    CONSTRAINT ck_limit_reading_struck CHECK (typeof(struck) = 'integer' AND struck IN (0, 1)),
    CONSTRAINT ck_limit_reading_corrects_id CHECK (corrects_id IS NULL OR (typeof(corrects_id)
    = 'integer' AND corrects_id >= 1)),
    CONSTRAINT ck_limit_reading_typed_text CHECK (typeof(typed_text) = 'text' AND
    length(typed_text) BETWEEN 0 AND 40 AND instr(typed_text, char(0)) = 0),
    CONSTRAINT ck_limit_reading_typed_amount CHECK (typeof(typed_amount) = 'text' AND
    length(typed_amount) BETWEEN 0 AND 100 AND instr(typed_amount, char(0)) = 0),
    CONSTRAINT ck_limit_reading_typed_unit CHECK (typeof(typed_unit) = 'text' AND
    length(typed_unit) BETWEEN 0 AND 40 AND instr(typed_unit, char(0)) = 0),
    CONSTRAINT ck_limit_reading_one_answer CHECK ((amount IS NULL) <> (seen IS NULL)),
    CONSTRAINT ck_limit_reading_strikes CHECK (struck = 0 OR corrects_id IS NOT NULL),
    CONSTRAINT ck_limit_reading_corrects_earlier CHECK (corrects_id IS NULL OR corrects_id < id)
    )""",
    """CREATE INDEX ix_limit_reading_item_id ON limit_reading (item_id)""",
    """CREATE INDEX ix_limit_reading_work_id ON limit_reading (work_id)""",
    """CREATE TABLE work_line (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    uid VARCHAR(64) NOT NULL,
    work_id INTEGER NOT NULL,
    item_id INTEGER NOT NULL,
    task_code VARCHAR(64),
    job_id INTEGER,
    outcome VARCHAR(64) NOT NULL,
    part_code VARCHAR(64),
    part_text VARCHAR(200) NOT NULL,
    quantity INTEGER NOT NULL,
    cents INTEGER,
    note VARCHAR(10000) NOT NULL,
    CONSTRAINT uq_work_line_uid UNIQUE (uid),
    CONSTRAINT fk_work_line_work_id FOREIGN KEY(work_id) REFERENCES work (id) ON DELETE CASCADE,
    CONSTRAINT fk_work_line_item_id FOREIGN KEY(item_id) REFERENCES item (id) ON DELETE
    RESTRICT,
    CONSTRAINT fk_work_line_job_id FOREIGN KEY(job_id) REFERENCES job (id) ON DELETE RESTRICT,
    CONSTRAINT ck_work_line_id CHECK (typeof(id) = 'integer' AND id >= 1),
    CONSTRAINT ck_work_line_uid CHECK (typeof(uid) = 'text' AND length(uid) BETWEEN 1 AND 64
    AND instr(uid, char(0)) = 0),
    CONSTRAINT ck_work_line_work_id CHECK (typeof(work_id) = 'integer' AND work_id >= 1),
    CONSTRAINT ck_work_line_item_id CHECK (typeof(item_id) = 'integer' AND item_id >= 1),
    CONSTRAINT ck_work_line_task_code CHECK (task_code IS NULL OR (typeof(task_code) = 'text'
    AND length(task_code) BETWEEN 1 AND 64 AND instr(task_code, char(0)) = 0)),
    CONSTRAINT ck_work_line_job_id CHECK (job_id IS NULL OR (typeof(job_id) = 'integer' AND
    job_id >= 1)),
    CONSTRAINT ck_work_line_outcome CHECK (typeof(outcome) = 'text' AND outcome IN ('done',
    'replaced', 'assumed', 'failed', 'not_done')),
    CONSTRAINT ck_work_line_part_code CHECK (part_code IS NULL OR (typeof(part_code) = 'text'
    AND length(part_code) BETWEEN 1 AND 64 AND instr(part_code, char(0)) = 0)),
    CONSTRAINT ck_work_line_part_text CHECK (typeof(part_text) = 'text' AND length(part_text)
    BETWEEN 0 AND 200 AND instr(part_text, char(0)) = 0),
    CONSTRAINT ck_work_line_quantity CHECK (typeof(quantity) = 'integer' AND quantity BETWEEN 0
    AND 10000),
    CONSTRAINT ck_work_line_cents CHECK (cents IS NULL OR (typeof(cents) = 'integer' AND cents
    BETWEEN 0 AND 100000000000)),
    CONSTRAINT ck_work_line_note CHECK (typeof(note) = 'text' AND length(note) BETWEEN 0 AND
    10000 AND instr(note, char(0)) = 0),
    CONSTRAINT ck_work_line_about_something CHECK (task_code IS NOT NULL OR job_id IS NOT NULL)
    )""",
    """CREATE INDEX ix_work_line_item_id ON work_line (item_id)""",
    """CREATE INDEX ix_work_line_job_id ON work_line (job_id)""",
    """CREATE INDEX ix_work_line_work_id ON work_line (work_id)""",
)


def upgrade() -> None:
    """Make every table."""
    connection = op.get_bind()
    for statement in STATEMENTS:
        connection.exec_driver_sql(statement)
