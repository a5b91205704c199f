-- Schema 1 of the book.
--
-- Every column says what it holds and, in brackets at the end, its unit; [-] is a thing without a
-- unit (text, code, yes/no). NULL is always "not known". Instants are UTC with the offset the clock
-- on the wall had. Codes are words, never numbers. The names of the checks are sentences, because
-- the program shows them to the user when the book does not take a row.
--
-- Nothing is deleted: a coupon is struck out, and what a change replaces is kept in `history`.

PRAGMA application_id = 0x636f6c64; -- "cold"

CREATE TABLE trial (
    id TEXT NOT NULL PRIMARY KEY,        -- time-ordered UUID [-]
    revision INTEGER NOT NULL,           -- 1 when new, one more at every change [count]
    name TEXT NOT NULL COLLATE NOCASE,   -- what the user calls it [-]
    question TEXT,                       -- what the coupons are to answer [-]
    result TEXT,                         -- key of the result that decides [-]
    stop_deg REAL,                       -- bend angle at which folding ends [deg]
    when_utc_ms INTEGER NOT NULL,        -- begun, since 1970-01-01 UTC [ms]
    when_offset_min INTEGER NOT NULL,    -- local time minus UTC [min]
    note TEXT,                           -- free words [-]
    CONSTRAINT "an id is 36 characters" CHECK (length(id) = 36),
    CONSTRAINT "a trial has a name on one line, without space at its ends"
        CHECK (length(name) > 0 AND trim(name) = name AND
               instr(name, char(9)) = 0 AND instr(name, char(10)) = 0),
    CONSTRAINT "the stop angle is more than 0° and at most 180°"
        CHECK (stop_deg > 0 AND stop_deg <= 180)
) STRICT, WITHOUT ROWID;

CREATE UNIQUE INDEX trial_name ON trial (name);

CREATE TABLE trial_variable (
    trial_id TEXT NOT NULL REFERENCES trial, -- the trial [-]
    number INTEGER NOT NULL,                 -- place in its list, from 1 [count]
    variable TEXT NOT NULL,                  -- key of a variable under trial [-]
    PRIMARY KEY (trial_id, number),
    UNIQUE (trial_id, variable)
) STRICT, WITHOUT ROWID;

CREATE TABLE trial_level (
    trial_id TEXT NOT NULL,          -- the trial [-]
    variable TEXT NOT NULL,          -- key of the variable [-]
    number INTEGER NOT NULL,         -- place in its list, from 1 [count]
    level TEXT NOT NULL,             -- category, or number as entered with its unit [-]
    PRIMARY KEY (trial_id, variable, number),
    FOREIGN KEY (trial_id, variable) REFERENCES trial_variable (trial_id, variable)
) STRICT, WITHOUT ROWID;

-- The user's own variables; the built-in ones are in the program.
CREATE TABLE variable (
    key TEXT NOT NULL PRIMARY KEY,   -- lower case letters, digits, underscores [-]
    revision INTEGER NOT NULL,       -- 1 when new, one more at every change [count]
    label TEXT NOT NULL,             -- as shown [-]
    role TEXT NOT NULL,              -- cause or result [-]
    kind TEXT NOT NULL,              -- number or category [-]
    dimension TEXT,                  -- what a number measures [-]
    unit TEXT,                       -- the user's own unit, not converted [-]
    least REAL,                      -- impossible below [base unit of the dimension]
    most REAL,                       -- impossible above [base unit of the dimension]
    usual_low REAL,                  -- a question is asked below [base unit of the dimension]
    usual_high REAL,                 -- a question is asked above [base unit of the dimension]
    choices TEXT,                    -- usual categories, separated by | [-]
    choices_only INTEGER NOT NULL,   -- 1: no other category is taken [-]
    scale REAL NOT NULL,             -- range of a result, 0: observed [base unit of the dimension]
    help TEXT,                       -- what to write here [-]
    when_utc_ms INTEGER NOT NULL,    -- made, since 1970-01-01 UTC [ms]
    when_offset_min INTEGER NOT NULL, -- local time minus UTC [min]
    CONSTRAINT "the key of a variable is small letters, digits and underscores, a letter first"
        CHECK (key GLOB '[a-z]*' AND key NOT GLOB '*[^a-z0-9_]*'),
    CONSTRAINT "a variable is a cause or a result" CHECK (role IN ('cause', 'result')),
    CONSTRAINT "a variable is a number or a category" CHECK (kind IN ('number', 'category')),
    CONSTRAINT "a number has a known dimension, a category has none"
        CHECK ((kind = 'number') = (dimension IS NOT NULL) AND
               dimension IN ('number', 'count', 'length', 'area', 'speed', 'time', 'temperature',
                             'angle', 'share', 'voltage', 'current', 'gas_flow', 'line_energy',
                             'energy', 'power', 'force', 'moment', 'stress', 'mass', 'line_mass',
                             'mass_rate', 'hydrogen')),
    CONSTRAINT "the least value is not above the most" CHECK (least <= most),
    CONSTRAINT "yes or no is 1 or 0" CHECK (choices_only IN (0, 1)),
    CONSTRAINT "the range of a result is not negative" CHECK (scale >= 0 AND scale < 1e300)
) STRICT, WITHOUT ROWID;

CREATE TABLE coupon (
    id TEXT NOT NULL PRIMARY KEY,      -- time-ordered UUID [-]
    revision INTEGER NOT NULL,         -- 1 when new, one more at every change [count]
    sequence INTEGER NOT NULL,         -- order within the book, from 1 [count]
    trial_id TEXT REFERENCES trial,    -- its trial [-]
    mark TEXT NOT NULL COLLATE NOCASE, -- stamped on it [-]
    mark_head TEXT NOT NULL COLLATE NOCASE
        AS (rtrim(mark, '0123456789')), -- the mark without the digits behind it [-]
    mark_number INTEGER
        AS (CAST(substr(mark, length(rtrim(mark, '0123456789')) + 1) AS INTEGER)), -- these [count]
    when_utc_ms INTEGER NOT NULL,      -- welded, since 1970-01-01 UTC [ms]
    when_offset_min INTEGER NOT NULL,  -- local time minus UTC [min]
    who TEXT,                          -- the welder [-]
    note TEXT,                         -- free words [-]
    struck_why TEXT,                   -- reason; NULL unless struck out [-]
    struck_utc_ms INTEGER,             -- struck out, since 1970-01-01 UTC [ms]
    struck_offset_min INTEGER,         -- local time minus UTC [min]
    CONSTRAINT "an id is 36 characters" CHECK (length(id) = 36),
    CONSTRAINT "a mark is 1 to 32 characters on one line, without space at its ends"
        CHECK (length(mark) BETWEEN 1 AND 32 AND trim(mark) = mark AND
               instr(mark, char(9)) = 0 AND instr(mark, char(10)) = 0),
    CONSTRAINT "a coupon is struck out with a reason and a time"
        CHECK ((struck_why IS NULL) = (struck_utc_ms IS NULL) AND
               (struck_why IS NULL) = (struck_offset_min IS NULL) AND
               (struck_why IS NULL OR length(trim(struck_why)) > 0))
) STRICT, WITHOUT ROWID;

CREATE UNIQUE INDEX coupon_sequence ON coupon (sequence);
CREATE INDEX coupon_trial ON coupon (trial_id, sequence);
-- Two coupons of one trial in use never bear the same mark; two trials may.
CREATE UNIQUE INDEX coupon_mark ON coupon (coalesce(trial_id, ''), mark)
    WHERE struck_utc_ms IS NULL;
CREATE INDEX coupon_mark_any ON coupon (mark);
CREATE INDEX coupon_mark_number ON coupon (mark_head, mark_number);

-- One row a value: a user's own variable is a row, not a migration.
CREATE TABLE value (
    coupon_id TEXT NOT NULL REFERENCES coupon, -- the coupon [-]
    variable TEXT NOT NULL,          -- key, built in or in the table variable [-]
    kind TEXT NOT NULL,              -- exact, at_least, at_most, between; category [-]
    low REAL,                        -- the value or lower limit [base unit of the variable]
    high REAL,                       -- the value or upper limit [base unit of the variable]
    category TEXT,                   -- the category [-]
    entry TEXT,                      -- a number as it was given, with its unit [-]
    PRIMARY KEY (coupon_id, variable),
    CONSTRAINT "a value is exact, at least, at most, between, or a category"
        CHECK (kind IN ('exact', 'at_least', 'at_most', 'between', 'category')),
    CONSTRAINT "an exact value is one number"
        CHECK (kind <> 'exact' OR (low IS NOT NULL AND high IS NOT NULL AND low = high)),
    CONSTRAINT "at least has a lower limit only"
        CHECK (kind <> 'at_least' OR (low IS NOT NULL AND high IS NULL)),
    CONSTRAINT "at most has an upper limit only"
        CHECK (kind <> 'at_most' OR (low IS NULL AND high IS NOT NULL)),
    CONSTRAINT "between has a lower limit below its upper one"
        CHECK (kind <> 'between' OR (low IS NOT NULL AND high IS NOT NULL AND low < high)),
    CONSTRAINT "a category is words, a number is not"
        CHECK ((kind = 'category') = (category IS NOT NULL) AND
               (kind <> 'category' OR (low IS NULL AND high IS NULL))),
    CONSTRAINT "a value is a finite number"
        CHECK (abs(ifnull(low, 0)) < 1e300 AND abs(ifnull(high, 0)) < 1e300)
) STRICT, WITHOUT ROWID;

CREATE TABLE pass (
    coupon_id TEXT NOT NULL REFERENCES coupon, -- the coupon [-]
    number INTEGER NOT NULL,         -- from 1 [count]
    side INTEGER,                    -- 1 or 2 [count]
    arc_s REAL,                      -- arc-on time [s]
    length_mm REAL,                  -- length welded [mm]
    volts REAL,                      -- arc voltage [V]
    amps REAL,                       -- current [A]
    feed_mm_per_min REAL,            -- wire feed speed [mm/min]
    start_c REAL,                    -- temperature of the plate at the start [degC]
    pause_s REAL,                    -- since the end of the pass before [s]
    PRIMARY KEY (coupon_id, number),
    CONSTRAINT "passes are numbered from 1" CHECK (number >= 1),
    CONSTRAINT "a pass is on side 1 or 2" CHECK (side IN (1, 2)),
    CONSTRAINT "the arc time of a pass is 0 s to 100000 s" CHECK (arc_s BETWEEN 0 AND 1e5),
    CONSTRAINT "the length of a pass is 0 mm to 100000 mm" CHECK (length_mm BETWEEN 0 AND 1e5),
    CONSTRAINT "the voltage of a pass is 0 V to 1000 V" CHECK (volts BETWEEN 0 AND 1e3),
    CONSTRAINT "the current of a pass is 0 A to 10000 A" CHECK (amps BETWEEN 0 AND 1e4),
    CONSTRAINT "the wire feed of a pass is 0 mm/min to 1000000 mm/min"
        CHECK (feed_mm_per_min BETWEEN 0 AND 1e6),
    CONSTRAINT "the temperature at the start of a pass is -273 °C to 2000 °C"
        CHECK (start_c BETWEEN -273.15 AND 2e3),
    CONSTRAINT "the pause before a pass is 0 s to 1e8 s" CHECK (pause_s BETWEEN 0 AND 1e8)
) STRICT, WITHOUT ROWID;

CREATE TABLE bend (
    coupon_id TEXT NOT NULL PRIMARY KEY REFERENCES coupon, -- the coupon [-]
    ended TEXT NOT NULL,             -- not_done, broke, tore, held (to the stop) [-]
    direction TEXT NOT NULL,         -- what opened: unknown, root_opening, face_opening, side [-]
    before_deg REAL,                 -- included angle before [deg]
    after_deg REAL,                  -- included angle after [deg]
    before_gap_mm REAL,              -- gap between the leg tips before, instead of angles [mm]
    after_gap_mm REAL,               -- gap between the leg tips after [mm]
    leg_mm REAL,                     -- length of a leg, to the tip [mm]
    former_mm REAL,                  -- diameter of the former it was folded over [mm]
    inside_radius_mm REAL,           -- measured inside radius of the fold [mm]
    first_crack_deg REAL,            -- bend angle at which a crack first showed [deg]
    load_n REAL,                     -- peak load [N]
    lever_mm REAL,                   -- lever of the peak load [mm]
    CONSTRAINT "a bend is not done, or it broke, tore or held"
        CHECK (ended IN ('not_done', 'broke', 'tore', 'held')),
    CONSTRAINT "a bend opens the root, the face or a side, or that is unknown"
        CHECK (direction IN ('unknown', 'root_opening', 'face_opening', 'side')),
    CONSTRAINT "an included angle is 0° to 360°"
        CHECK (ifnull(before_deg, 0) BETWEEN 0 AND 360 AND ifnull(after_deg, 0) BETWEEN 0 AND 360),
    CONSTRAINT "a gap, leg, former, radius or lever is 0 mm to 100000 mm"
        CHECK (ifnull(before_gap_mm, 0) BETWEEN 0 AND 1e5 AND
               ifnull(after_gap_mm, 0) BETWEEN 0 AND 1e5 AND ifnull(leg_mm, 0) BETWEEN 0 AND 1e5 AND
               ifnull(former_mm, 0) BETWEEN 0 AND 1e5 AND ifnull(lever_mm, 0) BETWEEN 0 AND 1e5 AND
               ifnull(inside_radius_mm, 0) BETWEEN 0 AND 1e5),
    CONSTRAINT "the bend angle of a first crack is 0° to 360°"
        CHECK (first_crack_deg BETWEEN 0 AND 360),
    CONSTRAINT "a load is 0 N to 1e9 N" CHECK (load_n BETWEEN 0 AND 1e9)
) STRICT, WITHOUT ROWID;

CREATE TABLE face (
    coupon_id TEXT NOT NULL PRIMARY KEY REFERENCES coupon, -- the coupon [-]
    bead_mm REAL,                    -- length of the broken face that was read [mm]
    complete INTEGER NOT NULL,       -- 1: the flaws listed are all there were [-]
    CONSTRAINT "a bead is longer than 0 mm, and at most 100000 mm"
        CHECK (bead_mm > 0 AND bead_mm <= 1e5),
    CONSTRAINT "yes or no is 1 or 0" CHECK (complete IN (0, 1))
) STRICT, WITHOUT ROWID;

CREATE TABLE flaw (
    coupon_id TEXT NOT NULL REFERENCES face, -- the coupon [-]
    number INTEGER NOT NULL,         -- place in its list, from 1 [count]
    from_mm REAL,                    -- where it begins, from the start of the bead [mm]
    to_mm REAL,                      -- where it ends, from the start of the bead [mm]
    iso6520 INTEGER NOT NULL,        -- kind of imperfection, ISO 6520-1 number [-]
    note TEXT,                       -- free words [-]
    PRIMARY KEY (coupon_id, number),
    CONSTRAINT "a flaw lies between 0 mm and 100000 mm, and ends where it began or later"
        CHECK (ifnull(from_mm, 0) BETWEEN 0 AND 1e5 AND ifnull(to_mm, 0) BETWEEN 0 AND 1e5 AND
               (from_mm <= to_mm OR from_mm IS NULL OR to_mm IS NULL)),
    CONSTRAINT "an ISO 6520-1 number has 3 or 4 digits" CHECK (iso6520 BETWEEN 100 AND 9999)
) STRICT, WITHOUT ROWID;

CREATE TABLE photo (
    coupon_id TEXT NOT NULL REFERENCES coupon, -- the coupon [-]
    number INTEGER NOT NULL,         -- place in its list, from 1 [count]
    path TEXT NOT NULL,              -- the file [-]
    sha256 TEXT,                     -- of its bytes, 64 hex digits [-]
    note TEXT,                       -- free words [-]
    PRIMARY KEY (coupon_id, number),
    CONSTRAINT "a photograph has a path" CHECK (length(path) > 0),
    CONSTRAINT "a SHA-256 is 64 hex digits in lower case"
        CHECK (length(sha256) = 64 AND sha256 NOT GLOB '*[^0-9a-f]*')
) STRICT, WITHOUT ROWID;

-- Settings of the book: units (metric, inch), bench_letter, welder, and others.
CREATE TABLE setting (
    key TEXT NOT NULL PRIMARY KEY,   -- name of the setting [-]
    revision INTEGER NOT NULL,       -- 1 when new, one more at every change [count]
    value TEXT                       -- as text; NULL: not set [-]
) STRICT, WITHOUT ROWID;

-- Wire feed measured at dial positions of a machine.
CREATE TABLE calibration (
    id TEXT NOT NULL PRIMARY KEY,    -- time-ordered UUID [-]
    machine TEXT NOT NULL COLLATE NOCASE, -- as in the variable machine [-]
    dial REAL NOT NULL,              -- position on the scale of the machine [dial divisions]
    feed_mm_per_min REAL NOT NULL,   -- measured wire feed speed [mm/min]
    when_utc_ms INTEGER NOT NULL,    -- measured, since 1970-01-01 UTC [ms]
    when_offset_min INTEGER NOT NULL, -- local time minus UTC [min]
    note TEXT,                       -- free words [-]
    struck_why TEXT,                 -- reason; NULL unless struck out [-]
    struck_utc_ms INTEGER,           -- struck out, since 1970-01-01 UTC [ms]
    struck_offset_min INTEGER,       -- local time minus UTC [min]
    CONSTRAINT "a calibration names its machine" CHECK (length(trim(machine)) > 0),
    CONSTRAINT "a dial position is a finite number" CHECK (abs(dial) < 1e9),
    CONSTRAINT "a measured wire feed is more than 0 mm/min, and at most 1000000 mm/min"
        CHECK (feed_mm_per_min > 0 AND feed_mm_per_min <= 1e6),
    CONSTRAINT "a calibration is struck out with a reason and a time"
        CHECK ((struck_why IS NULL) = (struck_utc_ms IS NULL) AND
               (struck_why IS NULL) = (struck_offset_min IS NULL) AND
               (struck_why IS NULL OR length(trim(struck_why)) > 0))
) STRICT, WITHOUT ROWID;

CREATE INDEX calibration_machine ON calibration (machine, dial, when_utc_ms);

-- What a change replaced: the whole earlier state as JSON, with numbers at 17 digits.
CREATE TABLE history (
    kind TEXT NOT NULL,              -- coupon, trial, variable, setting [-]
    id TEXT NOT NULL,                -- id or key of the row [-]
    revision INTEGER NOT NULL,       -- the revision that was replaced [count]
    state TEXT NOT NULL,             -- JSON object of columns, and of lists of rows by table [-]
    replaced_utc_ms INTEGER NOT NULL, -- since 1970-01-01 UTC [ms]
    replaced_offset_min INTEGER NOT NULL, -- local time minus UTC [min]
    PRIMARY KEY (kind, id, revision),
    CONSTRAINT "history is kept of coupons, trials, variables and settings"
        CHECK (kind IN ('coupon', 'trial', 'variable', 'setting'))
) STRICT;

CREATE TRIGGER coupon_stays BEFORE DELETE ON coupon
BEGIN
    SELECT RAISE(ABORT, 'a coupon is never deleted, it is struck out');
END;
CREATE TRIGGER trial_stays BEFORE DELETE ON trial
BEGIN
    SELECT RAISE(ABORT, 'a trial is never deleted');
END;
CREATE TRIGGER variable_stays BEFORE DELETE ON variable
BEGIN
    SELECT RAISE(ABORT, 'a variable is never deleted');
END;
CREATE TRIGGER calibration_stays BEFORE DELETE ON calibration
BEGIN
    SELECT RAISE(ABORT, 'a calibration is never deleted, it is struck out');
END;
CREATE TRIGGER history_stays BEFORE DELETE ON history
BEGIN
    SELECT RAISE(ABORT, 'history is never deleted');
END;
CREATE TRIGGER history_is_fixed BEFORE UPDATE ON history
BEGIN
    SELECT RAISE(ABORT, 'history is never changed');
END;
