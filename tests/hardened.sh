#!/bin/sh
# The built program carries the protections that meson.build asks for.
#   hardened.sh PROGRAM yes|no(sanitized) yes|no(fortified) LIBRARY…
# 77 (skipped) where a sanitizer takes their place, or there is no readelf.
set -u
program=$1 sanitized=$2 fortified=$3
shift 3
[ "$sanitized" = no ] || { echo "a sanitizer is built in"; exit 77; }
command -v readelf >/dev/null || { echo "readelf (binutils) is not here"; exit 77; }
bad=0

# has WHAT PATTERN TEXT
has() {
    if ! printf '%s\n' "$3" | grep -Eq "$2"; then
        echo "$program: $1 is missing"
        bad=1
    fi
}

export LC_ALL=C
dynamic=$(readelf -Wd "$program")
symbols=$(readelf -W --dyn-syms "$program")
has 'a position-independent program (PIE)' 'FLAGS_1.*PIE' "$dynamic"
has 'binding at the start (BIND_NOW)' '\(FLAGS\).*BIND_NOW' "$dynamic"
has 'a read-only table of addresses (RELRO)' 'GNU_RELRO' "$(readelf -Wl "$program")"
has 'the guard of the stack' '__stack_chk_fail' "$symbols"
if [ "$fortified" = yes ]; then
    for name in memcpy snprintf; do
        has "the checked $name" " __v?${name}_chk" "$symbols"
    done
fi
# The C library's own start files may come without the marks, which unmarks the whole program; so
# every object of ours is asked.
case $(readelf -h "$program") in
*X86-64*)
    for library in "$@"; do
        objects=$(readelf -h "$library" | grep -c '^File:')
        marked=$(readelf -n "$library" | grep -c 'x86 feature: IBT, SHSTK')
        if [ "$objects" = 0 ] || [ "$objects" != "$marked" ]; then
            echo "$library: $marked of $objects objects are marked for IBT and SHSTK"
            bad=1
        fi
    done
    ;;
esac
[ $bad = 0 ] && echo "hardened: PIE, BIND_NOW, RELRO, stack guard, IBT and SHSTK" \
    "$([ "$fortified" = yes ] && echo "and checked calls")"
exit $bad
