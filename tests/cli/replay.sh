#!/bin/sh
# Plays a recorded dialogue again and says what came out differently.
#   replay.sh PROGRAM FILE          compare
#   replay.sh PROGRAM FILE accept   write what came out into FILE
#
# "$ COMMAND" is run by sh in a folder of its own, "> MORE" continues it. Behind it stands what is
# expected: standard output, then standard error with "2> " before each line, then "exit N" unless
# it ended with 0. HERE is the folder it ran in, HOME the one above. "#" begins a remark, before which there may be one empty line. In a Markdown
# file only the blocks fenced as ```console are played. $FIXTURES is the folder of fixtures.
set -u
program=$(realpath "$1")
file=$2
mode=${3:-compare}
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
mkdir "$folder/bin" "$folder/work"
ln -s "$program" "$folder/bin/coldlap"
here=$(CDPATH='' cd -- "$(dirname -- "$file")" && pwd)

PATH=$folder/bin:$PATH
HOME=$folder/home
XDG_DATA_HOME=$folder/data
XDG_STATE_HOME=$folder/state
COLUMNS=80
LC_ALL=C.UTF-8
COLDLAP_BENCH=bench
LOGNAME=ann
TZ=UTC
export PATH HOME XDG_DATA_HOME XDG_STATE_HOME COLUMNS LC_ALL TZ COLDLAP_BENCH LOGNAME
case $file in
*.md) FIXTURES=$here/fixtures ;;
*) FIXTURES=$here/../../../fixtures ;;
esac
export FIXTURES
unset COLDLAP_BOOK

# play COMMAND: what it gives, in the form of the dialogue; each a minute after the one before
now=1772888700 # 2026-03-07T14:05:00+01:00
play() {
    COLDLAP_NOW=$(TZ=UTC-1 date -d "@$now" +%Y-%m-%dT%H:%M:%S+01:00)
    export COLDLAP_NOW
    now=$((now + 60))
    (cd "$folder/work" && sh -c "$1" >../out 2>../err </dev/null)
    code=$?
    sed "s#$folder/work#HERE#g; s#$folder#HOME#g" "$folder/out"
    sed "s#$folder/work#HERE#g; s#$folder#HOME#g; s/^/2> /" "$folder/err"
    [ $code = 0 ] || echo "exit $code"
}

# The file again, with every command's outcome put in place of the expected one.
replay() {
    awk -v markdown="$(case $file in *.md) echo 1 ;; *) echo 0 ;; esac)" '
        # hands a command to the shell part: its lines between marks
        function hand() {
            if (command != "") {
                print "\001run"
                print command
                print "\001end"
            }
            command = ""
        }
        markdown && /^```console$/ { print; inside = 1; next }
        markdown && /^```$/ { hand(); print; inside = 0; next }
        markdown && !inside { print; next }
        /^\$ / { hand(); print; command = substr($0, 3); taking = 1; remark = 0; next }
        /^> / && taking { print; command = command "\n" substr($0, 3); next }
        /^#/ && !markdown { hand(); if (NR > 1 && !remark) print ""; print; remark = 1; taking = 0; next }
        { taking = 0; remark = 0 }
        END { hand() }
    ' "$file" | {
        command=
        running=0
        while IFS= read -r line; do
            case $line in
            "$(printf '\001run')") running=1 command= ;;
            "$(printf '\001end')") running=0 && play "$command" ;;
            *)
                if [ $running = 1 ]; then
                    command="$command${command:+
}$line"
                else
                    printf '%s\n' "$line"
                fi
                ;;
            esac
        done
    }
}

replay >"$folder/again"
if [ "$mode" = accept ]; then
    cat "$folder/again" >"$file"
    exit 0
fi
diff -u --label "expected: $file" --label "came out" "$file" "$folder/again"
