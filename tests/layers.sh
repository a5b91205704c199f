#!/bin/sh
# Dependencies in src/ point one way. This list is the architecture; the check reads every #include.
#   layers.sh SOURCE_ROOT
set -u
src=${1:-.}/src
allowed() {
    case $1 in
    base) echo base ;;
    model) echo model base ;;
    weld) echo weld model base ;;
    stats) echo stats model base ;;
    store) echo store model base ;;
    exchange) echo exchange model base ;;
    app) echo app exchange store stats weld model base ;;
    report) echo report app stats weld model base ;;
    cli) echo cli report app stats weld model base ;;
    tui) echo tui report app stats weld model base ;;
    *) echo ;;
    esac
}
# system header pattern, the one folder that may include it
outside='^(n?cursesw?|ncursesw/.*|curses|term|panel|form|menu)\.h$ tui
^sqlite3\.h$ store
^gsl/ stats
^(cairo|pango).* report
^(jansson|csv)\.h$ exchange
^sha256\.h$ base'
bad=0
for file in "$src"/*/*.[ch]; do
    folder=$(basename "$(dirname "$file")")
    for include in $(sed -n 's/^[[:space:]]*#[[:space:]]*include[[:space:]]*"\([^"]*\)".*/\1/p' "$file"); do
        to=${include%%/*}
        [ "$to" = "$include" ] && continue # beside the file, or generated for its folder
        case " $(allowed "$folder") " in
        *" $to "*) ;;
        *) echo "$file: $folder/ may not include $include"; bad=1 ;;
        esac
    done
    for include in $(sed -n 's/^[[:space:]]*#[[:space:]]*include[[:space:]]*<\([^>]*\)>.*/\1/p' "$file"); do
        only=$(echo "$outside" | while read -r pattern owner; do
            echo "$include" | grep -Eq "$pattern" && echo "$owner"
        done)
        [ -z "$only" ] || [ "$only" = "$folder" ] ||
            { echo "$file: <$include> belongs in $only/ only"; bad=1; }
    done
done
[ -f "$src/main.c" ] || { echo "$src: no sources here"; bad=1; }
[ $bad = 0 ] && echo "layers: every include points the agreed way"
exit $bad
