#!/bin/sh
# Text for people goes out through base/print, which lets no control character pass: nothing else
# writes to the standard streams, but for the files named here.
#   prints.sh SOURCE_ROOT
set -u
cd "$1/src" || exit 1
named='^(cli/progress|tui/term/term|tui/term/dump)\.c:'
found=$(grep -rnE --include='*.c' \
    '\b((v?printf|puts|putchar|perror) *\(|(v?fprintf|fputs|fputc|putc|fwrite) *\([^;]*\b(stdout|stderr|out)\b)' \
    main.c cli app page calc derived analysis tui | grep -vE "$named")
# that the search finds what it is for
seen=$(grep -cE '\bfprintf\(stderr' cli/progress.c)
if [ -n "$found" ] || [ "$seen" -eq 0 ]; then
    printf '%s\n' "$found"
    echo "prints: write through print_line(), print_data() or print_page()"
    exit 1
fi
