#!/bin/sh
# meson install puts everything in its place, under any prefix.
#   install.sh SOURCE_FOLDER BUILD_FOLDER
set -eu
source=$1
build=$2
to=$(mktemp -d)
trap 'rm -rf "$to"' EXIT

# found PATTERN: exactly one installed file ends like that
found() {
    number=$(find "$to/root" -type f -path "*$1" | wc -l)
    if [ "$number" != 1 ]; then
        echo "installed $number times, not once: $1"
        find "$to/root" -type f
        exit 1
    fi
    find "$to/root" -type f -path "*$1"
}

DESTDIR=$to/root meson install -C "$build" --no-rebuild --quiet
program=$(found /bin/coldlap)
found /share/man/man1/coldlap.1 >/dev/null
found /share/man/man5/coldlap.5 >/dev/null
completion=$(found /share/bash-completion/completions/coldlap)
[ "$(find "$to/root" -type f | wc -l)" = 4 ] || { echo "more than these was installed"; exit 1; }

# The installed program works where it was put.
"$program" --version | grep -q '^coldlap [0-9]'
"$program" demo "$to/demo.coldlap" >/dev/null
"$program" --book "$to/demo.coldlap" rank | grep -q '^What made the difference'

# Completion offers commands, options, variables, kinds.
offers() {
    bash -c '. "$1"; shift; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1))
        compopt() { :; }; _coldlap; printf "%s\n" "${COMPREPLY[@]}"' - "$completion" "$@"
}
[ "$(offers coldlap ra)" = rank ]
[ "$(offers coldlap --book b.coldlap rank --j)" = --json ]
[ "$(offers coldlap log wire_dia)" = wire_diameter= ]
[ "$(offers coldlap calc coo)" = cooling ]
[ "$(offers coldlap --units m)" = metric ]

# Another prefix moves all of it.
meson setup "$to/other" "$source" --prefix /opt/elsewhere >/dev/null
meson introspect "$to/other" --installed >"$to/places"
for place in bin/coldlap share/man/man1/coldlap.1 share/man/man5/coldlap.5 \
    share/bash-completion/completions/coldlap; do
    grep -q "\"/opt/elsewhere/$place\"" "$to/places" || { echo "not under /opt: $place"; exit 1; }
done
echo "installed: $(basename "$program"), two manual pages, completion"
