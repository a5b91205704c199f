#!/bin/sh
# Dependencies in src/ point one way. The tables below are the architecture; the check reads every
# #include in every folder, however deep.
#   layers.sh SOURCE_ROOT
set -u
cd "${1:-.}/src" || exit 1

# folder: what it may include besides itself. A row speaks for the folders below it that have no row
# of their own; a name on the right means the folders below it too. "." is main.c.
folders='
base:
model: base
page: base
weld: model base
stats/num: model base
stats/data: stats/num model base
stats/fit: stats/data stats/num model base
stats/rank: stats/fit stats/data stats/num model base
stats/compare: stats/rank stats/fit stats/data stats/num model base
stats/design: stats/compare stats/rank stats/fit stats/data stats/num model base
store: model base
exchange: model base
hub: store model base
calc: page exchange weld model base
derived: calc weld model base
app: derived calc exchange store weld page model base
analysis: app derived calc exchange stats/design stats/compare stats/rank stats/fit stats/data stats/num weld page model base
report: analysis app derived calc stats/design stats/compare stats/rank stats/fit stats/data weld page model base
cli: report analysis app derived calc stats/design stats/compare stats/rank stats/fit stats/data weld page model base
tui/term: base
tui/widget: tui/term app page model base
tui/screen: tui/widget tui/term report analysis app derived calc stats/design stats/compare stats/rank stats/fit stats/data weld page model base
tui/line: tui/screen tui/widget tui/term report analysis app derived calc stats/design stats/compare stats/rank stats/fit stats/data weld page model base
tui: tui/screen tui/line app model base
.: tui cli stats/num base
'
# the one folder that may include it, header (an extended regular expression)
outside='
base ^sha256[.]h$
stats ^gsl/
store ^sqlite3
exchange ^(jansson|csv|xlsxwriter|sndfile)
hub ^(libpq|postgresql/)
report ^(cairo|pango)
tui ^(n?curses|term|panel|form|menu)(w?/|[.]h$)
'

find . -name '*.[ch]' -print | sort | {
    printf '%s\n@\n%s\n@\n' "$folders" "$outside"
    cat
} | awk '
function complain(what) {
    print "src/" file ": " what
    bad = 1
}
# inside PATH FOLDER: whether the path is the folder or below it
function inside(path, folder) {
    return path == folder || index(path, folder "/") == 1
}
function folder_of(path) {
    return sub(/\/[^\/]*$/, "", path) ? path : "."
}
# row_of FOLDER: the nearest row at or above it, "" when there is none
function row_of(folder) {
    while (!(folder in may) && sub(/\/[^\/]*$/, "", folder))
        ;
    return folder in may ? folder : ""
}
function add_row(line, name, count, i, word) {
    name = line
    sub(/:.*/, "", name)
    sub(/[^:]*:/, "", line)
    count = split(line, word, " ")
    for (i = 1; i <= count; i++)
        if (!(word[i] in may)) {
            print "the row of " name " names " word[i] ", which is not above it"
            bad = 1
        }
    may[name] = line
}
function own_include(header, from, to, count, i, word) {
    to = folder_of(header)
    if (to == "." && header !~ /\//) # beside the file, or generated for its folder
        return
    if (header ~ /(^|\/)[.][.]?\//) {
        complain("write " header " from src/ on")
        return
    }
    if (from != "." && inside(to, from))
        return
    count = split(may[from], word, " ")
    for (i = 1; i <= count; i++)
        if (inside(to, word[i]))
            return
    complain(from "/ may not include " header)
}
function outside_include(header, from, i) {
    for (i = 1; i <= patterns; i++)
        if (header ~ pattern[i] && !inside(from, owner[i]))
            complain("<" header "> belongs in " owner[i] "/ only")
}
function check(path, from, line, header) {
    file = path
    from = row_of(folder_of(path))
    files++
    if (from == "") {
        complain("its folder has no row in layers.sh")
        return
    }
    while ((getline line < path) > 0) {
        if (line !~ /^[ \t]*#[ \t]*include/)
            continue
        header = line
        sub(/^[ \t]*#[ \t]*include[ \t]*/, "", header)
        if (header !~ /^("[^"]+"|<[^>]+>)/) {
            complain("an include that cannot be read: " line)
            continue
        }
        sub(/[">][^">]*$/, "", header)
        if (header ~ /^"/ || row_of(folder_of(substr(header, 2))) !~ /^[.]?$/)
            own_include(substr(header, 2), from)
        else
            outside_include(substr(header, 2), from)
    }
    close(path)
}
$0 == "@" { part++; next }
$0 == "" { next }
part == 0 { add_row($0); next }
part == 1 { owner[++patterns] = $1; pattern[patterns] = $2; next }
{ check(substr($0, 3)) }
END {
    if (files == 0) {
        print "no sources here"
        bad = 1
    }
    if (!bad)
        print "layers: every include of " files " files points the agreed way"
    exit bad
}'
