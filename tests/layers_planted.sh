#!/bin/sh
# The check of the layers sees a wrong include planted in any folder of a copy of src/.
#   layers_planted.sh LAYERS_SH SOURCE_ROOT
set -u
layers=$1
copy=$(mktemp -d) || exit 1
trap 'rm -rf "$copy"' EXIT
cp -R "$2/src" "$copy/src" && cd "$copy" || exit 1
bad=0

# plant FILE INCLUDE
plant() {
    mkdir -p "$(dirname "$1")" && printf '#include %s\n' "$2" >"$1"
}
# sees FILE...: the check fails, with one line for each of these files and for no other
sees() {
    printf '%s\n' "$@" | sort >wanted
    if sh "$layers" . >said; then
        echo "planted, and the check passes: $*"
        bad=1
    fi
    sed 's/:.*//' said | sort >named
    diff wanted named || bad=1
    rm -f "$@"
}

# One folder at a time would take a run each, so all are planted at once.
find src -type d | sort >folders
set --
while read -r folder; do
    case $folder in
    src/tui*) own='"store/book.h"' system='<sqlite3.h>' ;;
    src/store*) own='"tui/tui.h"' system='<curses.h>' ;;
    src) own='"exchange/json.h"' system='<sqlite3.h>' ;;
    *) own='"tui/tui.h"' system='<sqlite3.h>' ;;
    esac
    plant "$folder/planted.c" "$own"
    plant "$folder/planted.h" " $system // only there"
    set -- "$@" "$folder/planted.c" "$folder/planted.h"
    [ "$folder" = src ] && continue
    plant "$folder/deep/er/planted.h" "$own"
    set -- "$@" "$folder/deep/er/planted.h"
done <folders
sees "$@"

# The floors of a folder are used in one direction only.
set --
above=
for floor in stats/num stats/data stats/fit stats/rank stats/compare stats/design \
    tui/term tui/widget tui/screen tui/line; do
    case $above in
    "${floor%/*}"/*)
        plant "src/$above/planted.c" "\"$floor/any.h\""
        plant "src/$floor/right.c" "\"$above/any.h\""
        set -- "$@" "src/$above/planted.c"
        ;;
    esac
    above=$floor
done
sees "$@"

# Other ways to write it.
plant src/model/angle.h '<stats/num/any.h>'
plant src/weld/up.c '"../stats/num/any.h"'
plant src/store/round.c '"store/../exchange/json.h"'
plant src/app/macro.c 'STATS_HEADER'
plant src/stray/alone.c '<stdio.h>'
printf ' #  include "page/page.h"\n' >src/base/spaced.h
sees src/model/angle.h src/weld/up.c src/store/round.c src/app/macro.c src/stray/alone.c \
    src/base/spaced.h

if ! sh "$layers" . >said; then
    echo "the check fails without anything planted:"
    cat said
    bad=1
fi
exit $bad
