-- Schema 2 of the book: the same things in less room, and room for more.
--
-- Inside the book rows are joined by whole numbers; a coupon, a trial, a procedure and a measured
-- wire feed also have a UUID, by which two books know them for the same. Every column says what it
-- holds and, in brackets at the end, its unit; [-] is a thing without a unit (text, code, yes/no).
-- NULL is "nothing was said". Instants are UTC with the offset the clock on the wall had. Codes are
-- words. The names of the checks are sentences, because the program shows them to the user when the
-- book does not take a row. To look into the book with the sqlite3 shell begin with the views at
-- the end: in_coupons, in_values, in_changes.

DROP TRIGGER coupon_stays;
DROP TRIGGER trial_stays;
DROP TRIGGER variable_stays;
DROP TRIGGER calibration_stays;
DROP TRIGGER history_stays;
DROP TRIGGER history_is_fixed;
DROP INDEX trial_name;
DROP INDEX coupon_sequence;
DROP INDEX coupon_trial;
DROP INDEX coupon_mark;
DROP INDEX coupon_mark_any;
DROP INDEX coupon_mark_number;
DROP INDEX calibration_machine;
ALTER TABLE trial RENAME TO old_trial;
ALTER TABLE trial_variable RENAME TO old_trial_variable;
ALTER TABLE trial_level RENAME TO old_trial_level;
ALTER TABLE variable RENAME TO old_variable;
ALTER TABLE coupon RENAME TO old_coupon;
ALTER TABLE value RENAME TO old_value;
ALTER TABLE pass RENAME TO old_pass;
ALTER TABLE bend RENAME TO old_bend;
ALTER TABLE face RENAME TO old_face;
ALTER TABLE flaw RENAME TO old_flaw;
ALTER TABLE photo RENAME TO old_photo;
ALTER TABLE setting RENAME TO old_setting;
ALTER TABLE calibration RENAME TO old_calibration;
ALTER TABLE history RENAME TO old_history;

-- Every variable that occurs in the book, the program's own as well, so that a value names it by a
-- number.
CREATE TABLE variable (
    id INTEGER NOT NULL PRIMARY KEY, -- within this book [-]
    key TEXT NOT NULL UNIQUE,        -- as typed: wire_diameter [-]
    unit TEXT,                       -- in which its numbers stand in this book: mm [-]
    CONSTRAINT "the key of a variable is small letters, digits and underscores, a letter first"
        CHECK (key GLOB '[a-z]*' AND key NOT GLOB '*[^a-z0-9_]*')
) STRICT;

-- What the user said about the variables he made; of the others the program knows it.
CREATE TABLE own_variable (
    id INTEGER NOT NULL PRIMARY KEY REFERENCES variable, -- the variable [-]
    revision INTEGER NOT NULL,       -- 1 when new, one more at every change [count]
    place INTEGER NOT NULL,          -- in the list of these, from 1 [count]
    label TEXT NOT NULL,             -- as shown [-]
    role TEXT NOT NULL,              -- set, read, came_out, result [-]
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
    wobble_share REAL,               -- how far reading it is off, of the largest value [1]
    wobble REAL,                     -- the same, not less than [base unit of the dimension]
    help TEXT,                       -- what to write here [-]
    when_utc_ms INTEGER NOT NULL,    -- made, since 1970-01-01 UTC [ms]
    when_offset_min INTEGER NOT NULL, -- local time minus UTC [min]
    CONSTRAINT "a variable is set, read, comes out, or is a result"
        CHECK (role IN ('set', 'read', 'came_out', 'result')),
    CONSTRAINT "a variable is a number or a category" CHECK (kind IN ('number', 'category')),
    CONSTRAINT "a number has a known dimension, a category has none"
        CHECK ((kind = 'number') = (dimension IS NOT NULL) AND
               dimension IN ('number', 'count', 'length', 'area', 'speed', 'time', 'temperature',
                             'angle', 'share', 'voltage', 'current', 'gas_flow', 'line_energy',
                             'energy', 'power', 'force', 'moment', 'stress', 'mass', 'line_mass',
                             'mass_rate', 'hydrogen')),
    CONSTRAINT "the least value is not above the most" CHECK (least <= most),
    CONSTRAINT "yes or no is 1 or 0" CHECK (choices_only IN (0, 1)),
    CONSTRAINT "the range of a result is not negative" CHECK (scale >= 0 AND scale < 1e300),
    CONSTRAINT "what reading is off is not negative, and a share is at most 1"
        CHECK (wobble_share BETWEEN 0 AND 1 AND (wobble IS NULL OR wobble BETWEEN 0 AND 1e300))
) STRICT;

CREATE TABLE trial (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT, -- within this book [-]
    uuid TEXT NOT NULL UNIQUE,           -- time-ordered UUID [-]
    revision INTEGER NOT NULL,           -- 1 when new, one more at every change [count]
    name TEXT NOT NULL COLLATE NOCASE,   -- what the user calls it [-]
    question TEXT,                       -- what the coupons are to answer [-]
    result TEXT,                         -- key of the result that decides [-]
    stop_deg REAL,                       -- bend angle at which folding ends [deg]
    reference_id INTEGER REFERENCES coupon, -- the coupon whose set-up the others are held against [-]
    scatter REAL,                        -- what like coupons are expected to differ by [base unit of the result]
    when_utc_ms INTEGER NOT NULL,        -- begun, since 1970-01-01 UTC [ms]
    when_offset_min INTEGER NOT NULL,    -- local time minus UTC [min]
    note TEXT,                           -- free words [-]
    struck_why TEXT,                     -- reason; NULL unless struck out [-]
    struck_utc_ms INTEGER,               -- struck out, since 1970-01-01 UTC [ms]
    struck_offset_min INTEGER,           -- local time minus UTC [min]
    CONSTRAINT "an id is 36 characters" CHECK (length(uuid) = 36),
    CONSTRAINT "a trial has a name on one line, without space at its ends"
        CHECK (length(name) > 0 AND trim(name) = name AND
               instr(name, char(9)) = 0 AND instr(name, char(10)) = 0),
    CONSTRAINT "the stop angle is more than 0° and at most 180°"
        CHECK (stop_deg > 0 AND stop_deg <= 180),
    CONSTRAINT "what like coupons differ by is more than 0"
        CHECK (scatter > 0 AND scatter < 1e300),
    CONSTRAINT "a trial is struck out with a reason and a time"
        CHECK ((struck_why IS NULL) = (struck_utc_ms IS NULL) AND
               (struck_why IS NULL) = (struck_offset_min IS NULL) AND
               (struck_why IS NULL OR length(trim(struck_why)) > 0))
) STRICT;

CREATE UNIQUE INDEX trial_name ON trial (name) WHERE struck_utc_ms IS NULL;

CREATE TABLE trial_variable (
    trial_id INTEGER NOT NULL REFERENCES trial, -- the trial [-]
    number INTEGER NOT NULL,         -- place in its list, from 1 [count]
    variable TEXT NOT NULL,          -- key of a variable under trial [-]
    PRIMARY KEY (trial_id, number),
    UNIQUE (trial_id, variable)
) STRICT, WITHOUT ROWID;

CREATE TABLE trial_level (
    trial_id INTEGER NOT NULL,       -- the trial [-]
    variable TEXT NOT NULL,          -- key of the variable [-]
    number INTEGER NOT NULL,         -- place in its list, from 1 [count]
    level TEXT NOT NULL,             -- category, or number as entered with its unit [-]
    PRIMARY KEY (trial_id, variable, number),
    FOREIGN KEY (trial_id, variable) REFERENCES trial_variable (trial_id, variable)
) STRICT, WITHOUT ROWID;

-- What its coupons have in common only in parts: a day, a plate, a welder.
CREATE TABLE trial_block (
    trial_id INTEGER NOT NULL REFERENCES trial, -- the trial [-]
    variable TEXT NOT NULL,          -- key of the variable that tells the parts apart [-]
    PRIMARY KEY (trial_id, variable)
) STRICT, WITHOUT ROWID;

-- The number of a coupon is its place in the order of the book, and is not given twice.
CREATE TABLE coupon (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT, -- order within the book, from 1 [count]
    uuid TEXT NOT NULL,              -- time-ordered UUID [-]
    revision INTEGER NOT NULL,       -- 1 when new, one more at every change [count]
    trial_id INTEGER REFERENCES trial, -- its trial [-]
    mark TEXT NOT NULL COLLATE NOCASE, -- stamped on it [-]
    when_utc_ms INTEGER,             -- welded, since 1970-01-01 UTC; NULL: planned only [ms]
    when_offset_min INTEGER,         -- local time minus UTC [min]
    who TEXT,                        -- the welder [-]
    note TEXT,                       -- free words [-]
    setup INTEGER,                   -- digest of its causes: equal for like set-ups; NULL: not worked out [-]
    struck_why TEXT,                 -- reason; NULL unless struck out [-]
    struck_utc_ms INTEGER,           -- struck out, since 1970-01-01 UTC [ms]
    struck_offset_min INTEGER,       -- local time minus UTC [min]
    CONSTRAINT "an id is 36 characters" CHECK (length(uuid) = 36),
    CONSTRAINT "a mark is 1 to 32 characters on one line, without space at its ends"
        CHECK (length(mark) BETWEEN 1 AND 32 AND trim(mark) = mark AND
               instr(mark, char(9)) = 0 AND instr(mark, char(10)) = 0),
    CONSTRAINT "a time has the offset of its clock"
        CHECK ((when_utc_ms IS NULL) = (when_offset_min IS NULL)),
    CONSTRAINT "a coupon is struck out with a reason and a time"
        CHECK ((struck_why IS NULL) = (struck_utc_ms IS NULL) AND
               (struck_why IS NULL) = (struck_offset_min IS NULL) AND
               (struck_why IS NULL OR length(trim(struck_why)) > 0))
) STRICT;

CREATE INDEX coupon_trial ON coupon (trial_id);
-- Two coupons of one trial in use never bear the same mark; two trials may.
CREATE UNIQUE INDEX coupon_mark ON coupon (mark, coalesce(trial_id, 0))
    WHERE struck_utc_ms IS NULL;
CREATE INDEX coupon_mark_struck ON coupon (mark) WHERE struck_utc_ms IS NOT NULL;
-- The mark without the digits behind it, and these: for the next free mark.
CREATE INDEX coupon_mark_number ON coupon (
    rtrim(mark, '0123456789') COLLATE NOCASE,
    CAST(substr(mark, length(rtrim(mark, '0123456789')) + 1) AS INTEGER));

-- One row a value. A category is words alone. A number is `low` alone, or with `high` and a kind
-- what is only known to lie on one side, or between. Of a number `words` is how it was given:
-- nothing ('') where it was given as it stands here, in the unit of the variable, else the whole
-- ("5/16 in" with 7.9375), NULL where nobody typed it. Of a variable that was asked about the answer
-- may be that it is not known, or does not apply.
CREATE TABLE value (
    coupon_id INTEGER NOT NULL REFERENCES coupon, -- the coupon [-]
    variable_id INTEGER NOT NULL REFERENCES variable, -- the variable [-]
    low REAL,                        -- the value or lower limit [base unit of the variable]
    high REAL,                       -- the upper limit [base unit of the variable]
    words TEXT,                      -- the category, or what was typed of a number [-]
    kind TEXT,                       -- NULL, at_least, at_most, between, not_known, not_apply [-]
    PRIMARY KEY (coupon_id, variable_id),
    CONSTRAINT "a value is exact, at least, at most, between, a category, not known, or does not apply"
        CHECK (CASE ifnull(kind, '')
               WHEN '' THEN high IS NULL AND (low IS NOT NULL OR words IS NOT NULL)
               WHEN 'at_least' THEN low IS NOT NULL AND high IS NULL
               WHEN 'at_most' THEN low IS NULL AND high IS NOT NULL
               WHEN 'between' THEN low < high AND low IS NOT NULL AND high IS NOT NULL
               WHEN 'not_known' THEN low IS NULL AND high IS NULL AND words IS NULL
               WHEN 'not_apply' THEN low IS NULL AND high IS NULL AND words IS NULL
               ELSE FALSE END),
    CONSTRAINT "a value is a finite number"
        CHECK (abs(ifnull(low, 0)) < 1e300 AND abs(ifnull(high, 0)) < 1e300)
) STRICT, WITHOUT ROWID;

CREATE TABLE pass (
    coupon_id INTEGER NOT NULL REFERENCES coupon, -- the coupon [-]
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
    coupon_id INTEGER NOT NULL PRIMARY KEY REFERENCES coupon, -- the coupon [-]
    ended TEXT NOT NULL,             -- not_done, broke, tore, held (to the stop) [-]
    direction TEXT NOT NULL,         -- what opened: unknown, root_opening, face_opening, side [-]
    before_deg REAL,                 -- included angle before [deg]
    after_deg REAL,                  -- included angle after [deg]
    angle_read TEXT,                 -- under_load or released [-]
    before_gap_mm REAL,              -- gap between the leg tips before, instead of angles [mm]
    after_gap_mm REAL,               -- gap between the leg tips after [mm]
    leg_mm REAL,                     -- length of a leg, to the tip [mm]
    former_mm REAL,                  -- diameter of the former it was folded over [mm]
    inside_radius_mm REAL,           -- measured inside radius of the fold [mm]
    first_crack_deg REAL,            -- bend angle at which a crack first showed [deg]
    gave_way TEXT,                   -- where: throat, fusion_line, fusion_line_2, toe, plate [-]
    load_n REAL,                     -- peak load [N]
    lever_mm REAL,                   -- lever of the peak load [mm]
    moment_nm REAL,                  -- peak moment read off a torque wrench [N m]
    weight_kg REAL,                  -- hung on a bar, instead of a load [kg]
    bar_kg REAL,                     -- the bar itself [kg]
    bar_mm REAL,                     -- its length [mm]
    root_missed_mm REAL,             -- depth of root that was not fused [mm]
    crack_mm REAL,                   -- length of the crack or tear [mm]
    CONSTRAINT "a bend is not done, or it broke, tore or held"
        CHECK (ended IN ('not_done', 'broke', 'tore', 'held')),
    CONSTRAINT "a bend opens the root, the face or a side, or that is unknown"
        CHECK (direction IN ('unknown', 'root_opening', 'face_opening', 'side')),
    CONSTRAINT "an angle is read under load or released"
        CHECK (angle_read IN ('under_load', 'released')),
    CONSTRAINT "a coupon gives way in the throat, at a fusion line, at the toe, or in the plate"
        CHECK (gave_way IN ('throat', 'fusion_line', 'fusion_line_2', 'toe', 'plate')),
    CONSTRAINT "an included angle is 0° to 360°"
        CHECK (ifnull(before_deg, 0) BETWEEN 0 AND 360 AND ifnull(after_deg, 0) BETWEEN 0 AND 360),
    CONSTRAINT "a gap, leg, former, radius or lever is 0 mm to 100000 mm"
        CHECK (ifnull(before_gap_mm, 0) BETWEEN 0 AND 1e5 AND
               ifnull(after_gap_mm, 0) BETWEEN 0 AND 1e5 AND ifnull(leg_mm, 0) BETWEEN 0 AND 1e5 AND
               ifnull(former_mm, 0) BETWEEN 0 AND 1e5 AND ifnull(lever_mm, 0) BETWEEN 0 AND 1e5 AND
               ifnull(inside_radius_mm, 0) BETWEEN 0 AND 1e5 AND ifnull(bar_mm, 0) BETWEEN 0 AND 1e5
               AND ifnull(root_missed_mm, 0) BETWEEN 0 AND 1e5 AND
               ifnull(crack_mm, 0) BETWEEN 0 AND 1e5),
    CONSTRAINT "the bend angle of a first crack is 0° to 360°"
        CHECK (first_crack_deg BETWEEN 0 AND 360),
    CONSTRAINT "a load is 0 N to 1e9 N" CHECK (load_n BETWEEN 0 AND 1e9),
    CONSTRAINT "a moment is 0 N m to 1e9 N m" CHECK (moment_nm BETWEEN 0 AND 1e9),
    CONSTRAINT "a weight is 0 kg to 1e6 kg"
        CHECK (ifnull(weight_kg, 0) BETWEEN 0 AND 1e6 AND ifnull(bar_kg, 0) BETWEEN 0 AND 1e6)
) STRICT;

-- A joint welded from both sides has a face on each.
CREATE TABLE face (
    coupon_id INTEGER NOT NULL REFERENCES coupon, -- the coupon [-]
    side INTEGER NOT NULL DEFAULT 1, -- 1 or 2 [count]
    bead_mm REAL,                    -- length of the broken face that was read [mm]
    complete INTEGER NOT NULL,       -- 1: the flaws listed are all there were [-]
    PRIMARY KEY (coupon_id, side),
    CONSTRAINT "a face is on side 1 or 2" CHECK (side IN (1, 2)),
    CONSTRAINT "a bead is longer than 0 mm, and at most 100000 mm"
        CHECK (bead_mm > 0 AND bead_mm <= 1e5),
    CONSTRAINT "yes or no is 1 or 0" CHECK (complete IN (0, 1))
) STRICT, WITHOUT ROWID;

CREATE TABLE flaw (
    coupon_id INTEGER NOT NULL,      -- the coupon [-]
    side INTEGER NOT NULL DEFAULT 1, -- of its face [count]
    number INTEGER NOT NULL,         -- place in its list, from 1 [count]
    from_mm REAL,                    -- where it begins, from the start of the bead [mm]
    to_mm REAL,                      -- where it ends, from the start of the bead [mm]
    iso6520 INTEGER NOT NULL,        -- kind of imperfection, ISO 6520-1 number [-]
    note TEXT,                       -- free words [-]
    PRIMARY KEY (coupon_id, side, number),
    FOREIGN KEY (coupon_id, side) REFERENCES face (coupon_id, side),
    CONSTRAINT "a flaw lies between 0 mm and 100000 mm, and ends where it began or later"
        CHECK (ifnull(from_mm, 0) BETWEEN 0 AND 1e5 AND ifnull(to_mm, 0) BETWEEN 0 AND 1e5 AND
               (from_mm <= to_mm OR from_mm IS NULL OR to_mm IS NULL)),
    CONSTRAINT "an ISO 6520-1 number has 3 or 4 digits" CHECK (iso6520 BETWEEN 100 AND 9999)
) STRICT, WITHOUT ROWID;

-- A photograph with a digest may have its copy in the folder beside the book, under that name.
CREATE TABLE photo (
    coupon_id INTEGER NOT NULL REFERENCES coupon, -- the coupon [-]
    number INTEGER NOT NULL,         -- place in its list, from 1 [count]
    path TEXT NOT NULL,              -- the file it came from [-]
    sha256 TEXT,                     -- of its bytes, 64 hex digits [-]
    note TEXT,                       -- free words [-]
    PRIMARY KEY (coupon_id, number),
    CONSTRAINT "a photograph has a path" CHECK (length(path) > 0),
    CONSTRAINT "a SHA-256 is 64 hex digits in lower case"
        CHECK (length(sha256) = 64 AND sha256 NOT GLOB '*[^0-9a-f]*')
) STRICT, WITHOUT ROWID;

-- Where people learn: what was expected before folding, and whose coupon it is.
CREATE TABLE lesson (
    coupon_id INTEGER NOT NULL PRIMARY KEY REFERENCES coupon, -- the coupon [-]
    predicted_low REAL,              -- expected result or its lower limit [base unit of the result]
    predicted_high REAL,             -- upper limit [base unit of the result]
    predicted_words TEXT,            -- as it was said [-]
    class TEXT,                      -- the class [-]
    student TEXT,                    -- the student [-]
    attempt INTEGER,                 -- from 1 [count]
    initials TEXT,                   -- of the instructor who looked at it [-]
    CONSTRAINT "attempts are numbered from 1" CHECK (attempt >= 1)
) STRICT;

-- Every time the arc burned, written when it starts; without a stop it is still burning, or the
-- program that counted is gone.
CREATE TABLE arc (
    id INTEGER NOT NULL PRIMARY KEY, -- within this book [-]
    bench TEXT NOT NULL,             -- where [-]
    start_utc_ms INTEGER NOT NULL,   -- since 1970-01-01 UTC [ms]
    start_offset_min INTEGER NOT NULL, -- local time minus UTC [min]
    stop_utc_ms INTEGER,             -- since 1970-01-01 UTC [ms]
    burned_ms INTEGER,               -- by a clock that nobody sets [ms]
    boot TEXT,                       -- the run of the machine that clock belongs to [-]
    clock_ms INTEGER,                -- that clock at the start [ms]
    coupon_id INTEGER REFERENCES coupon, -- the coupon, once it is known [-]
    pass INTEGER,                    -- its pass [count]
    dropped INTEGER NOT NULL DEFAULT 0, -- 1: was no weld [-]
    CONSTRAINT "an arc does not stop before it starts, nor burn less than nothing"
        CHECK (ifnull(stop_utc_ms >= start_utc_ms, TRUE) AND ifnull(burned_ms, 0) >= 0),
    CONSTRAINT "yes or no is 1 or 0" CHECK (dropped IN (0, 1))
) STRICT;

CREATE INDEX arc_of_coupon ON arc (coupon_id) WHERE coupon_id IS NOT NULL;
CREATE INDEX arc_burning ON arc (bench) WHERE stop_utc_ms IS NULL;

-- Settings of the book: units (metric, inch), bench_letter, welder, and others.
CREATE TABLE setting (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT, -- within this book [-]
    key TEXT NOT NULL UNIQUE,        -- name of the setting [-]
    revision INTEGER NOT NULL,       -- 1 when new, one more at every change [count]
    value TEXT                       -- as text; NULL: not set [-]
) STRICT;

CREATE TABLE machine (
    id INTEGER NOT NULL PRIMARY KEY, -- within this book [-]
    revision INTEGER NOT NULL,       -- 1 when new, one more at every change [count]
    name TEXT NOT NULL UNIQUE COLLATE NOCASE, -- as in the variable machine [-]
    rated_amps REAL,                 -- current the duty belongs to [A]
    rated_duty REAL,                 -- share of ten minutes it may weld at it [%]
    note TEXT,                       -- free words [-]
    CONSTRAINT "a machine has a name" CHECK (length(trim(name)) > 0),
    CONSTRAINT "a rated current is more than 0 A, and at most 10000 A"
        CHECK (rated_amps > 0 AND rated_amps <= 1e4),
    CONSTRAINT "a rated duty is more than 0 %, and at most 100 %"
        CHECK (rated_duty > 0 AND rated_duty <= 100)
) STRICT;

-- Wire feed measured at dial positions of a machine.
CREATE TABLE calibration (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT, -- within this book [-]
    uuid TEXT NOT NULL,              -- time-ordered UUID [-]
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
) STRICT;

-- What a shop pays: wire by the kilogram, gas by the litre, labour by the hour, plate by the
-- kilogram, in its own currency.
CREATE TABLE price (
    id INTEGER NOT NULL PRIMARY KEY, -- within this book [-]
    revision INTEGER NOT NULL,       -- 1 when new, one more at every change [count]
    item TEXT NOT NULL,              -- wire, gas, labour, plate, and others [-]
    which TEXT NOT NULL DEFAULT '',  -- of several, as in its variable: "ER70S-6 0.9 mm" [-]
    amount REAL NOT NULL,            -- for one unit [currency]
    per TEXT NOT NULL,               -- the unit: kg, l, h [-]
    currency TEXT NOT NULL,          -- as the shop writes it [-]
    when_utc_ms INTEGER NOT NULL,    -- since 1970-01-01 UTC [ms]
    when_offset_min INTEGER NOT NULL, -- local time minus UTC [min]
    UNIQUE (item, which),
    CONSTRAINT "a price is 0 or more" CHECK (amount >= 0 AND amount < 1e300)
) STRICT;

-- Bars and strips at hand.
CREATE TABLE stock (
    id INTEGER NOT NULL PRIMARY KEY, -- within this book [-]
    revision INTEGER NOT NULL,       -- 1 when new, one more at every change [count]
    what TEXT NOT NULL,              -- bar, strip, sheet, and others [-]
    material TEXT,                   -- as in the variable of the plate [-]
    thickness_mm REAL,               -- of the plate [mm]
    width_mm REAL,                   -- across [mm]
    length_mm REAL NOT NULL,         -- along [mm]
    pieces INTEGER NOT NULL,         -- how many like this [count]
    note TEXT,                       -- free words [-]
    CONSTRAINT "a length, width or thickness is more than 0 mm, and at most 100000 mm"
        CHECK (length_mm > 0 AND length_mm <= 1e5 AND (width_mm IS NULL OR
               width_mm > 0 AND width_mm <= 1e5) AND (thickness_mm IS NULL OR
               thickness_mm > 0 AND thickness_mm <= 1e5)),
    CONSTRAINT "pieces are counted" CHECK (pieces >= 0)
) STRICT;

-- A plan for coupons of a trial, before they are welded.
CREATE TABLE plan (
    id INTEGER NOT NULL PRIMARY KEY, -- within this book [-]
    uuid TEXT NOT NULL UNIQUE,       -- time-ordered UUID [-]
    revision INTEGER NOT NULL,       -- 1 when new, one more at every change [count]
    trial_id INTEGER NOT NULL REFERENCES trial, -- its trial [-]
    question TEXT,                   -- what it is to answer [-]
    seed INTEGER NOT NULL,           -- of the random order [-]
    when_utc_ms INTEGER NOT NULL,    -- made, since 1970-01-01 UTC [ms]
    when_offset_min INTEGER NOT NULL, -- local time minus UTC [min]
    who TEXT,                        -- by whom [-]
    note TEXT,                       -- free words [-]
    dropped_why TEXT                 -- reason; NULL unless it was given up [-]
) STRICT;

CREATE TABLE plan_variable (
    plan_id INTEGER NOT NULL REFERENCES plan, -- the plan [-]
    number INTEGER NOT NULL,         -- place in its list, from 1 [count]
    variable TEXT NOT NULL,          -- key of the variable [-]
    use TEXT NOT NULL,               -- changes, kept_together (hard to change), block [-]
    PRIMARY KEY (plan_id, number),
    UNIQUE (plan_id, variable),
    CONSTRAINT "a variable of a plan changes, is kept together, or makes blocks"
        CHECK (use IN ('changes', 'kept_together', 'block'))
) STRICT, WITHOUT ROWID;

CREATE TABLE plan_level (
    plan_id INTEGER NOT NULL,        -- the plan [-]
    variable TEXT NOT NULL,          -- key of the variable [-]
    number INTEGER NOT NULL,         -- place in its list, from 1 [count]
    level TEXT NOT NULL,             -- category, or number as entered with its unit [-]
    PRIMARY KEY (plan_id, variable, number),
    FOREIGN KEY (plan_id, variable) REFERENCES plan_variable (plan_id, variable)
) STRICT, WITHOUT ROWID;

-- Levels that must not be combined: the rows of one number together.
CREATE TABLE plan_never (
    plan_id INTEGER NOT NULL,        -- the plan [-]
    number INTEGER NOT NULL,         -- of the combination, from 1 [count]
    variable TEXT NOT NULL,          -- key of the variable [-]
    level TEXT NOT NULL,             -- one of its levels [-]
    PRIMARY KEY (plan_id, number, variable),
    FOREIGN KEY (plan_id, variable) REFERENCES plan_variable (plan_id, variable)
) STRICT, WITHOUT ROWID;

CREATE TABLE plan_coupon (
    plan_id INTEGER NOT NULL REFERENCES plan, -- the plan [-]
    place INTEGER NOT NULL,          -- in the order of welding, from 1 [count]
    bend_place INTEGER,              -- in the order of folding, from 1 [count]
    coupon_id INTEGER NOT NULL REFERENCES coupon, -- planned, later welded [-]
    block INTEGER,                   -- from 1 [count]
    together INTEGER,                -- those of one number keep what is hard to change [count]
    deviation TEXT,                  -- what was done otherwise, in words [-]
    PRIMARY KEY (plan_id, place)
) STRICT, WITHOUT ROWID;

CREATE INDEX plan_of_coupon ON plan_coupon (coupon_id);

-- The procedure that real work follows.
CREATE TABLE procedure (
    id INTEGER NOT NULL PRIMARY KEY, -- within this book [-]
    uuid TEXT NOT NULL UNIQUE,       -- time-ordered UUID [-]
    revision INTEGER NOT NULL,       -- 1 when new, one more at every change [count]
    name TEXT NOT NULL COLLATE NOCASE, -- what the shop calls it [-]
    version INTEGER NOT NULL,        -- from 1 [count]
    trial_id INTEGER REFERENCES trial, -- it came out of [-]
    when_utc_ms INTEGER NOT NULL,    -- since 1970-01-01 UTC [ms]
    when_offset_min INTEGER NOT NULL, -- local time minus UTC [min]
    who TEXT,                        -- by whom [-]
    note TEXT,                       -- free words [-]
    dropped_why TEXT,                -- reason; NULL as long as it holds [-]
    UNIQUE (name, version),
    CONSTRAINT "a procedure has a name, and versions from 1"
        CHECK (length(trim(name)) > 0 AND version >= 1)
) STRICT;

CREATE TABLE procedure_value (
    procedure_id INTEGER NOT NULL REFERENCES procedure, -- the procedure [-]
    variable_id INTEGER NOT NULL REFERENCES variable, -- the variable [-]
    low REAL,                        -- from [base unit of the variable]
    high REAL,                       -- to [base unit of the variable]
    words TEXT,                      -- the category, or what was typed of a number [-]
    PRIMARY KEY (procedure_id, variable_id)
) STRICT, WITHOUT ROWID;

CREATE TABLE procedure_coupon (
    procedure_id INTEGER NOT NULL REFERENCES procedure, -- the procedure [-]
    coupon_id INTEGER NOT NULL REFERENCES coupon, -- a coupon that speaks for it, or checked it [-]
    use TEXT NOT NULL,               -- rests_on, struck_out, check [-]
    PRIMARY KEY (procedure_id, coupon_id),
    CONSTRAINT "a procedure rests on a coupon, left it out, or is checked by it"
        CHECK (use IN ('rests_on', 'struck_out', 'check'))
) STRICT, WITHOUT ROWID;

CREATE TABLE decision (
    id INTEGER NOT NULL PRIMARY KEY, -- within this book [-]
    uuid TEXT NOT NULL UNIQUE,       -- time-ordered UUID [-]
    procedure_id INTEGER NOT NULL REFERENCES procedure, -- chosen [-]
    replaces_id INTEGER REFERENCES procedure, -- instead of [-]
    counted_on TEXT,                 -- what was counted on, in words [-]
    why TEXT,                        -- reason [-]
    who TEXT,                        -- by whom [-]
    when_utc_ms INTEGER NOT NULL,    -- since 1970-01-01 UTC [ms]
    when_offset_min INTEGER NOT NULL -- local time minus UTC [min]
) STRICT;

-- The journal: every action of a user is one row, with what it touched.
CREATE TABLE change (
    id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT, -- order within the book, from 1 [count]
    when_utc_ms INTEGER NOT NULL,    -- since 1970-01-01 UTC [ms]
    when_offset_min INTEGER NOT NULL, -- local time minus UTC [min]
    bench TEXT,                      -- where; NULL: before the journal began [-]
    who TEXT,                        -- the user there [-]
    what TEXT NOT NULL,              -- log, change, strike, import … and of what [-]
    undone_utc_ms INTEGER,           -- taken back, since 1970-01-01 UTC; NULL: it holds [ms]
    undone_offset_min INTEGER,       -- local time minus UTC [min]
    undone_by TEXT                   -- at which bench [-]
) STRICT;

-- `state` is the one that is not in the book now: of a change that holds the one before it, of one
-- that was taken back the one it had made. It is a JSON object of columns, and of lists of rows by
-- table, with numbers at 17 digits; NULL: there was no such row. Rows that were made together and
-- follow each other in number are one row here, up to `last_id`.
CREATE TABLE touched (
    change_id INTEGER NOT NULL REFERENCES change, -- the change [-]
    kind TEXT NOT NULL,              -- table of the thing: coupon, trial, setting … [-]
    id INTEGER NOT NULL,             -- its id there [-]
    last_id INTEGER,                 -- NULL: this one alone [-]
    state TEXT,                      -- the other state [-]
    base INTEGER,                    -- of a change that was taken back: digest of what it went back to [-]
    PRIMARY KEY (change_id, kind, id)
) STRICT, WITHOUT ROWID;

CREATE INDEX touched_thing ON touched (kind, id);

-- The rows of schema 1.

INSERT INTO variable (key) SELECT key FROM old_variable ORDER BY when_utc_ms, key;
INSERT OR IGNORE INTO variable (key) SELECT DISTINCT variable FROM old_value ORDER BY variable;

INSERT INTO own_variable (id, revision, place, label, role, kind, dimension, unit, least, most,
                          usual_low, usual_high, choices, choices_only, scale, help, when_utc_ms,
                          when_offset_min)
    SELECT v.id, o.revision, v.id, o.label, iif(o.role = 'cause', 'set', 'result'), o.kind,
           o.dimension, o.unit, o.least, o.most, o.usual_low, o.usual_high, o.choices,
           o.choices_only, o.scale, o.help, o.when_utc_ms, o.when_offset_min
    FROM old_variable AS o JOIN variable AS v ON v.key = o.key;

INSERT INTO trial (uuid, revision, name, question, result, stop_deg, when_utc_ms, when_offset_min,
                   note)
    SELECT id, revision, name, question, result, stop_deg, when_utc_ms, when_offset_min, note
    FROM old_trial ORDER BY when_utc_ms, id;
INSERT INTO trial_variable (trial_id, number, variable)
    SELECT t.id, o.number, o.variable
    FROM old_trial_variable AS o JOIN trial AS t ON t.uuid = o.trial_id;
INSERT INTO trial_level (trial_id, variable, number, level)
    SELECT t.id, o.variable, o.number, o.level
    FROM old_trial_level AS o JOIN trial AS t ON t.uuid = o.trial_id;

INSERT INTO coupon (id, uuid, revision, trial_id, mark, when_utc_ms, when_offset_min, who, note,
                    struck_why, struck_utc_ms, struck_offset_min)
    SELECT o.sequence, o.id, o.revision, t.id, o.mark, o.when_utc_ms, o.when_offset_min, o.who,
           o.note, o.struck_why, o.struck_utc_ms, o.struck_offset_min
    FROM old_coupon AS o LEFT JOIN trial AS t ON t.uuid = o.trial_id ORDER BY o.sequence;

-- The unit of a variable is the one that most entries have behind the very number that is stored.
-- "21.5 V" of a value of 21.5 then goes without saying; the exponent of a very large or small number
-- is written in different ways, so that one stays whole.
UPDATE variable SET unit = (
    SELECT ltrim(substr(o.entry, length(printf('%.15g', o.low)) + 1)) FROM old_value AS o
    WHERE o.variable = variable.key AND o.kind = 'exact' AND
          (substr(o.entry, 1, length(printf('%.15g', o.low)) + 1) = printf('%.15g', o.low) || ' '
           OR o.entry = printf('%.15g', o.low) || '°')
    GROUP BY 1 ORDER BY count(*) DESC, 1 LIMIT 1);
INSERT INTO value (coupon_id, variable_id, low, high, words, kind)
    SELECT c.sequence, v.id, o.low, iif(o.kind = 'exact', NULL, o.high),
           CASE WHEN o.kind = 'category' THEN o.category
                WHEN o.kind = 'exact' AND abs(o.low) < 1e15 AND
                     (abs(o.low) >= 1e-4 OR o.low = 0) AND
                     o.entry = printf('%.15g', o.low) || coalesce(iif(v.unit = '°', '', ' ') || v.unit, '') AND
                     CAST(printf('%.15g', o.low) AS REAL) = o.low
                THEN ''
                ELSE o.entry END,
           iif(o.kind IN ('exact', 'category'), NULL, o.kind)
    FROM old_coupon AS c CROSS JOIN old_value AS o ON o.coupon_id = c.id
                         JOIN variable AS v ON v.key = o.variable
    ORDER BY c.sequence, v.id;
INSERT INTO pass (coupon_id, number, side, arc_s, length_mm, volts, amps, feed_mm_per_min, start_c,
                  pause_s)
    SELECT c.sequence, o.number, o.side, o.arc_s, o.length_mm, o.volts, o.amps, o.feed_mm_per_min,
           o.start_c, o.pause_s
    FROM old_coupon AS c CROSS JOIN old_pass AS o ON o.coupon_id = c.id ORDER BY c.sequence;
INSERT INTO bend (coupon_id, ended, direction, before_deg, after_deg, before_gap_mm, after_gap_mm,
                  leg_mm, former_mm, inside_radius_mm, first_crack_deg, load_n, lever_mm)
    SELECT c.sequence, o.ended, o.direction, o.before_deg, o.after_deg, o.before_gap_mm,
           o.after_gap_mm, o.leg_mm, o.former_mm, o.inside_radius_mm, o.first_crack_deg, o.load_n,
           o.lever_mm
    FROM old_coupon AS c CROSS JOIN old_bend AS o ON o.coupon_id = c.id ORDER BY c.sequence;
INSERT INTO face (coupon_id, bead_mm, complete)
    SELECT c.sequence, o.bead_mm, o.complete
    FROM old_coupon AS c CROSS JOIN old_face AS o ON o.coupon_id = c.id ORDER BY c.sequence;
INSERT INTO flaw (coupon_id, number, from_mm, to_mm, iso6520, note)
    SELECT c.sequence, o.number, o.from_mm, o.to_mm, o.iso6520, o.note
    FROM old_coupon AS c CROSS JOIN old_flaw AS o ON o.coupon_id = c.id ORDER BY c.sequence;
INSERT INTO photo (coupon_id, number, path, sha256, note)
    SELECT c.sequence, o.number, o.path, o.sha256, o.note
    FROM old_coupon AS c CROSS JOIN old_photo AS o ON o.coupon_id = c.id ORDER BY c.sequence;

INSERT INTO setting (key, revision, value) SELECT key, revision, value FROM old_setting;
INSERT INTO calibration (uuid, machine, dial, feed_mm_per_min, when_utc_ms, when_offset_min, note,
                         struck_why, struck_utc_ms, struck_offset_min)
    SELECT id, machine, dial, feed_mm_per_min, when_utc_ms, when_offset_min, note, struck_why,
           struck_utc_ms, struck_offset_min
    FROM old_calibration ORDER BY id;

-- What changes had replaced becomes a change of the journal each. A state keeps its old names beside
-- the new ones, which are all that is read. Unfinished cards and the trial logged into last were no
-- changes of a user.
DELETE FROM old_history
    WHERE kind = 'setting' AND id NOT IN ('units', 'bench_letter', 'welder');
INSERT OR IGNORE INTO variable (key)
    SELECT DISTINCT json_extract(j.value, '$.variable')
    FROM old_history AS h JOIN json_each(h.state, '$.value') AS j WHERE h.kind = 'coupon'
    ORDER BY 1;
INSERT INTO change (id, when_utc_ms, when_offset_min, what)
    SELECT row_number() OVER (ORDER BY replaced_utc_ms, rowid), replaced_utc_ms,
           replaced_offset_min, 'change of ' || kind FROM old_history;
INSERT INTO touched (change_id, kind, id, state)
    SELECT h.number, 'coupon', c.id,
           json_set(h.state, '$.id', c.id, '$.uuid', h.id, '$.trial_id',
                    (SELECT id FROM trial WHERE uuid = json_extract(h.state, '$.trial_id')),
                    '$.value', json((
                        SELECT json_group_array(json_set(
                            j.value, '$.variable_id', v.id,
                            '$.words', coalesce(json_extract(j.value, '$.category'),
                                                json_extract(j.value, '$.entry')),
                            '$.kind', nullif(nullif(json_extract(j.value, '$.kind'), 'exact'),
                                             'category'),
                            '$.high', json(iif(json_extract(j.value, '$.kind') IN ('at_most',
                                                                                    'between'),
                                               printf('%!.17g', json_extract(j.value, '$.high')),
                                               'null'))))
                        FROM json_each(h.state, '$.value') AS j
                        JOIN variable AS v ON v.key = json_extract(j.value, '$.variable'))))
    FROM (SELECT *, row_number() OVER (ORDER BY replaced_utc_ms, rowid) AS number
          FROM old_history) AS h JOIN coupon AS c ON c.uuid = h.id WHERE h.kind = 'coupon';
INSERT INTO touched (change_id, kind, id, state)
    SELECT h.number, 'trial', t.id, json_set(h.state, '$.id', t.id, '$.uuid', h.id)
    FROM (SELECT *, row_number() OVER (ORDER BY replaced_utc_ms, rowid) AS number
          FROM old_history) AS h JOIN trial AS t ON t.uuid = h.id WHERE h.kind = 'trial';
INSERT INTO touched (change_id, kind, id, state)
    SELECT h.number, 'own_variable', v.id,
           json_set(h.state, '$.id', v.id, '$.place', v.id, '$.role',
                    iif(json_extract(h.state, '$.role') = 'cause', 'set', 'result'))
    FROM (SELECT *, row_number() OVER (ORDER BY replaced_utc_ms, rowid) AS number
          FROM old_history) AS h JOIN variable AS v ON v.key = h.id WHERE h.kind = 'variable';
INSERT INTO touched (change_id, kind, id, state)
    SELECT h.number, 'setting', s.id, json_set(h.state, '$.id', s.id)
    FROM (SELECT *, row_number() OVER (ORDER BY replaced_utc_ms, rowid) AS number
          FROM old_history) AS h JOIN setting AS s ON s.key = h.id WHERE h.kind = 'setting';

DROP TABLE old_trial_level;
DROP TABLE old_trial_variable;
DROP TABLE old_value;
DROP TABLE old_pass;
DROP TABLE old_bend;
DROP TABLE old_flaw;
DROP TABLE old_face;
DROP TABLE old_photo;
DROP TABLE old_coupon;
DROP TABLE old_trial;
DROP TABLE old_variable;
DROP TABLE old_setting;
DROP TABLE old_calibration;
DROP TABLE old_history;

-- A thing leaves the book only by undoing what made it, which keeps its state in the journal.
CREATE TRIGGER coupon_stays BEFORE DELETE ON coupon
WHEN NOT EXISTS (SELECT 1 FROM touched
                 WHERE kind = 'coupon' AND id = OLD.id AND state IS NOT NULL)
BEGIN
    SELECT RAISE(ABORT, 'a coupon is never deleted, it is struck out');
END;
CREATE TRIGGER trial_stays BEFORE DELETE ON trial
WHEN NOT EXISTS (SELECT 1 FROM touched
                 WHERE kind = 'trial' AND id = OLD.id AND state IS NOT NULL)
BEGIN
    SELECT RAISE(ABORT, 'a trial is never deleted, it is struck out');
END;
CREATE TRIGGER own_variable_stays BEFORE DELETE ON own_variable
WHEN NOT EXISTS (SELECT 1 FROM touched
                 WHERE kind = 'own_variable' AND id = OLD.id AND state IS NOT NULL)
BEGIN
    SELECT RAISE(ABORT, 'a variable is never deleted');
END;
CREATE TRIGGER calibration_stays BEFORE DELETE ON calibration
WHEN NOT EXISTS (SELECT 1 FROM touched
                 WHERE kind = 'calibration' AND id = OLD.id AND state IS NOT NULL)
BEGIN
    SELECT RAISE(ABORT, 'a calibration is never deleted, it is struck out');
END;
CREATE TRIGGER variable_stays BEFORE DELETE ON variable
BEGIN
    SELECT RAISE(ABORT, 'the number of a variable is never given away');
END;
CREATE TRIGGER change_stays BEFORE DELETE ON change
BEGIN
    SELECT RAISE(ABORT, 'the journal is never shortened');
END;
CREATE TRIGGER change_is_fixed
BEFORE UPDATE OF id, when_utc_ms, when_offset_min, bench, who, what ON change
BEGIN
    SELECT RAISE(ABORT, 'the journal is never changed');
END;
CREATE TRIGGER touched_stays BEFORE DELETE ON touched
BEGIN
    SELECT RAISE(ABORT, 'the journal is never shortened');
END;

-- For the sqlite3 shell.
CREATE VIEW in_coupons AS
    SELECT c.id AS number, t.name AS trial, c.mark,
           strftime('%Y-%m-%d %H:%M', c.when_utc_ms / 1000.0 + 60 * c.when_offset_min,
                    'unixepoch') AS welded,
           c.who, c.note, c.struck_why, b.ended, b.direction, b.before_deg, b.after_deg, c.uuid
    FROM coupon AS c LEFT JOIN trial AS t ON t.id = c.trial_id
                     LEFT JOIN bend AS b ON b.coupon_id = c.id;
CREATE VIEW in_values AS
    SELECT c.id AS number, t.name AS trial, c.mark, n.key AS variable,
           CASE WHEN v.kind IS NOT NULL THEN v.kind
                WHEN v.low IS NULL THEN 'category' ELSE 'exact' END AS kind,
           v.low, v.high, coalesce(n.unit, o.unit) AS unit, v.words
    FROM value AS v JOIN coupon AS c ON c.id = v.coupon_id JOIN variable AS n ON n.id = v.variable_id
                    LEFT JOIN own_variable AS o ON o.id = n.id
                    LEFT JOIN trial AS t ON t.id = c.trial_id;
CREATE VIEW in_changes AS
    SELECT h.id AS change, strftime('%Y-%m-%d %H:%M', h.when_utc_ms / 1000.0 +
                                    60 * h.when_offset_min, 'unixepoch') AS day,
           h.bench, h.who, h.what, h.undone_utc_ms IS NOT NULL AS undone,
           d.kind, d.id, d.last_id, d.state
    FROM change AS h LEFT JOIN touched AS d ON d.change_id = h.id;
