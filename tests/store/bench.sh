#!/bin/sh
# The book beside the sqlite3 shell doing the same with tables an expert would make: size, import,
# export of the wide table, loading for the ranking; bare coupons (12 variables and a bend angle) and
# rich ones (3 passes, a bend, a face and 2 flaws besides). CPU time, user and system. Answers are
# checked first; only ratios are meant to be read.
#
#   bench.sh COLDLAP BENCH_STORE    (meson compile -C BUILD bench; BENCH_MILLION=1 goes on to 10^6)
set -eu
coldlap=$1 bench=$2
LC_ALL=C
export LC_ALL
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
cd "$folder"

fail() {
    echo "bench: $*" >&2
    exit 1
}

# make_table COUPONS: t.csv, the same for every run.
make_table() {
    awk -v n="$1" 'function one(list,  a, k) { k = split(list, a, "|"); return a[1 + int(rand() * k)] }
    BEGIN {
        srand(1)
        print "mark,thickness (mm),wire_diameter (mm),volts (V),wire_feed_speed (mm/min)," \
            "travel_speed (mm/min),preheat (degC),tip_to_work (mm),torch_angle (deg),gas_flow (l/min)," \
            "joint,cleaning,travel_direction,bend_angle (deg)"
        for (i = 1; i <= n; i++)
            printf "%d,%s,%s,%.1f,%d,%d,%s,%s,%s,%s,%s,%s,%s,%.1f\n", i, one("3|4|6"),
                one("0.8|0.9|1.0"), 17 + 5 * rand(), 5000 + 3000 * rand(), 200 + 250 * rand(),
                one("20|120"), one("10|12|15"), one("0|10|15"), one("10|12|14"), one("tee|lap"),
                one("as rolled|ground bright"), one("push|drag"), 10 + 160 * rand()
    }' >t.csv
}

numbers='thickness (mm)|wire_diameter (mm)|volts (V)|wire_feed_speed (mm/min)|travel_speed (mm/min)|preheat (degC)|tip_to_work (mm)|torch_angle (deg)|gas_flow (l/min)|bend_angle (deg)'
words='joint|cleaning|travel_direction'

# each FORMAT: the format for every variable, its number %d first and its column %s behind.
each() {
    printf '%s|%s\n' "$numbers" "$words" | tr '|' '\n' | awk -v number="$1" -v word="$2" -v between="$3" '{
        printf "%s", (NR > 1 ? between : "")
        printf (NR > 10 ? word : number), NR, $0 }'
}

uuid="lower(printf('%08x-%04x-7%03x-8%03x-%012x', random() & 0xffffffff, random() & 0xffff, random() & 0xfff, random() & 0xfff, random() & 0xffffffffffff))"
# Integer keys, one UUID a coupon, one row a value, as few indices as finding a mark takes.
cat >tables.sql <<END
CREATE TABLE coupon (id INTEGER PRIMARY KEY, uuid TEXT NOT NULL, trial_id INTEGER,
    mark TEXT NOT NULL, when_utc_ms INTEGER, when_offset_min INTEGER, who TEXT);
CREATE TABLE variable (id INTEGER PRIMARY KEY, key TEXT UNIQUE);
CREATE TABLE value (coupon_id INTEGER NOT NULL, variable_id INTEGER NOT NULL, low REAL, words TEXT,
    PRIMARY KEY (coupon_id, variable_id)) WITHOUT ROWID;
END
{
    cat tables.sql
    echo '.mode csv'
    echo '.import t.csv raw'
    echo 'BEGIN;'
    echo "INSERT INTO variable (key) SELECT name FROM pragma_table_info('raw') WHERE cid > 0;"
    echo "INSERT INTO coupon SELECT rowid, $uuid, 1, mark, 1.7e12 + rowid, 60, NULL FROM raw;"
    echo "INSERT INTO value"
    each 'SELECT rowid, %d, CAST("%s" AS REAL), NULL FROM raw' 'SELECT rowid, %d, NULL, "%s" FROM raw' ' UNION ALL '
    echo " ORDER BY 1, 2;"
    echo 'CREATE INDEX coupon_mark ON coupon (mark);'
    echo 'COMMIT;'
    echo 'DROP TABLE raw;'
} >import.sql
# export_sql COLUMNS: the wide table; of rich coupons with the columns that are worked out besides.
export_sql() {
    printf '.mode csv\n.headers on\n'
    echo "SELECT c.mark, strftime('%Y-%m-%dT%H:%M:%S', c.when_utc_ms / 1000 + 60 * c.when_offset_min,"
    echo "'unixepoch') AS \"when\", "
    each 'v%d.low AS "%s"' 'v%d.words AS "%s"' ', '
    echo "$1 FROM coupon AS c"
    i=0
    while [ $((i += 1)) -le 13 ]; do
        echo " LEFT JOIN value AS v$i ON v$i.coupon_id = c.id AND v$i.variable_id = $i"
    done
    echo "$([ -z "$1" ] || echo ' LEFT JOIN face AS f ON f.coupon_id = c.id') ORDER BY c.id;"
}
export_sql '' >export.bare.sql
export_sql ", (SELECT count(*) FROM pass WHERE coupon_id = c.id) AS passes,
    100 * (1 - (SELECT sum(to_mm - from_mm) FROM flaw WHERE coupon_id = c.id) / f.bead_mm)
        AS \"fused_share (%)\",
    (SELECT max(to_mm - from_mm) FROM flaw WHERE coupon_id = c.id) AS \"longest_unfused (mm)\",
    (SELECT max(iif(from_mm <= 0.5, to_mm, 0)) FROM flaw WHERE coupon_id = c.id)
        AS \"unfused_at_start (mm)\", '<=' || v10.low AS \"first_crack_angle (deg)\"" >export.rich.sql
# Into either: the columns the book has, filled alike.
cat >rich.sql <<'END'
BEGIN;
WITH n (number) AS (VALUES (1), (2), (3))
INSERT INTO pass (coupon_id, number, side, arc_s, length_mm, volts, amps, feed_mm_per_min, start_c, pause_s)
    SELECT id, number, 1, 20 + id % 9, 100, 18.5 + id % 5, 110, 6000, 20 + 30 * number, 60
    FROM coupon CROSS JOIN n;
INSERT INTO bend (coupon_id, ended, direction, before_deg, after_deg, former_mm)
    SELECT id, 'broke', 'root_opening', 90, 10 + id % 80, 40 FROM coupon;
INSERT INTO face (coupon_id, side, bead_mm, complete) SELECT id, 1, 100, 1 FROM coupon;
WITH n (number) AS (VALUES (1), (2))
INSERT INTO flaw (coupon_id, side, number, from_mm, to_mm, iso6520)
    SELECT id, 1, number, 10 * number, 10 * number + 5.5, 4013 FROM coupon CROSS JOIN n;
COMMIT;
END
cat >rich_tables.sql <<'END'
CREATE TABLE pass (coupon_id INTEGER NOT NULL, number INTEGER NOT NULL, side INTEGER, arc_s REAL,
    length_mm REAL, volts REAL, amps REAL, feed_mm_per_min REAL, start_c REAL, pause_s REAL,
    PRIMARY KEY (coupon_id, number)) WITHOUT ROWID;
CREATE TABLE bend (coupon_id INTEGER PRIMARY KEY, ended TEXT, direction TEXT, before_deg REAL,
    after_deg REAL, former_mm REAL);
CREATE TABLE face (coupon_id INTEGER NOT NULL, side INTEGER NOT NULL, bead_mm REAL, complete INTEGER,
    PRIMARY KEY (coupon_id, side)) WITHOUT ROWID;
CREATE TABLE flaw (coupon_id INTEGER NOT NULL, side INTEGER NOT NULL, number INTEGER NOT NULL,
    from_mm REAL, to_mm REAL, iso6520 INTEGER, PRIMARY KEY (coupon_id, side, number)) WITHOUT ROWID;
END

# cpu COMMAND…: CPU seconds of the command, whose output goes to `out`.
cpu() {
    "$bench" spent "$@" >out 2>err || fail "$* failed: $(cat err)"
    tail -n 1 err | cut -d ' ' -f 1
}

# row WHAT COUPONS OURS THEIRS UNIT WANTED
row() {
    printf '%s\n' "$1|$2|$3|$4" >>rows
    awk -v what="$1" -v n="$2" -v a="$3" -v b="$4" -v unit="$5" -v wanted="$6" 'BEGIN {
        printf "%-34s %8d  %11.3f %-2s  %11.3f %-2s  %6.2f times (wanted: at most %s)\n", what, n, a, unit, b,
            unit, a / b, wanted }'
}

# same_values BOOK: every coupon has the values of t.csv, in the book's table and in the expert's.
same_values() {
    for file in b.coldlap x.db; do
        sqlite3 $file "SELECT count(DISTINCT coupon_id), count(*), printf('%.9g', sum(low)),
            sum(length(iif(low IS NULL, words, ''))) FROM value" >values.$file
    done
    cmp -s values.b.coldlap values.x.db || fail "the values brought in are not the same"
}

# same_table FILE OTHER COLUMNS: the rows of both have the same in these columns.
same_table() {
    left=$(sqlite3 :memory: '.mode csv' ".import $1 a" ".import $2 b" '.mode list' \
        "SELECT ((SELECT count(*) FROM a) - (SELECT count(*) FROM b)) || ' ' || count(*) FROM
         (SELECT mark, $3 FROM a EXCEPT SELECT mark, $3 FROM b)")
    [ "$left" = '0 0' ] || fail "$1 does not hold what $2 does: $left"
}

# measure KIND COUPONS
measure() {
    row "size, $1" "$2" "$(stat -c %s b.coldlap | awk '{print $1 / 1e6}')" \
        "$(stat -c %s x.db | awk '{print $1 / 1e6}')" MB 1.5
    ours=$(cpu "$coldlap" --book b.coldlap export --force ours.csv)
    theirs=$(cpu sqlite3 x.db ".read export.$1.sql")
    mv out theirs.csv
    same_table ours.csv t.csv "$(each '%.0sCAST("%s" AS REAL)' '%.0s"%s"' ', ')"
    same_table theirs.csv ours.csv "$(each '%.0sCAST("%s" AS REAL)' '%.0s"%s"' ', ')"
    [ "$1" = bare ] || same_table theirs.csv ours.csv 'CAST(passes AS INTEGER),
        round("fused_share (%)", 6), round("longest_unfused (mm)", 6),
        round("unfused_at_start (mm)", 6), CAST(substr("first_crack_angle (deg)", 3) AS REAL)'
    row "export, $1" "$2" "$ours" "$theirs" s 2
    loaded=$("$bench" load b.coldlap) || fail 'loading failed'
    read_=$("$bench" read b.coldlap "$1") || fail 'reading failed'
    [ "$(echo "$loaded" | awk '{printf "%d %.8g", $1, $2}')" = \
        "$(echo "$read_" | awk '{printf "%d %.8g", $1, $2}')" ] ||
        fail "loaded are other figures than read: $loaded, $read_"
    row "loading for the ranking, $1" "$2" "$(echo "$loaded" | cut -d ' ' -f 3)" \
        "$(echo "$read_" | cut -d ' ' -f 3)" s 2
    echo "    its memory: $(echo "$loaded" | cut -d ' ' -f 4) bytes a coupon (wanted: below 1000)"
}

for coupons in 1000 10000 100000 ${BENCH_MILLION:+1000000}; do
    rm -f b.coldlap* x.db
    make_table "$coupons"
    ours=$(cpu "$coldlap" --book b.coldlap import --trial bench t.csv)
    theirs=$(cpu sqlite3 x.db '.read import.sql')
    same_values
    row 'import, bare' "$coupons" "$ours" "$theirs" s 2
    sqlite3 x.db VACUUM
    measure bare "$coupons"
    sqlite3 x.db '.read rich_tables.sql' '.read rich.sql' VACUUM
    sqlite3 b.coldlap '.read rich.sql'
    measure rich "$coupons"
done
awk -F '|' '{ x = log($2); y = log($3); n[$1]++; a[$1] += x; b[$1] += y; c[$1] += x * x; d[$1] += x * y }
    END { print "what grows as which power of the number of coupons, fitted over the sizes:"
          for (what in n)
              printf "%-34s %.2f\n", what, (n[what] * d[what] - a[what] * b[what]) / (n[what] * c[what] - a[what] ^ 2) }' rows
