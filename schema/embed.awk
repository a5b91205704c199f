# Turns the schema's steps into C, so that the program carries them:
#   awk -f embed.awk 0001_book.sql 0002_….sql > schema_steps.c
# Step numbers come from the file names and must run 1, 2, 3 …: they are the book's user_version.

function finish_step() {
    if (steps > 0)
        print "    },"
}

BEGIN {
    print "/* Made from the schema folder by embed.awk. */"
    print "#include \"store/schema.h\"\n"
    print "const struct schema_step schema_steps[] = {"
}

FNR == 1 {
    finish_step()
    name = FILENAME
    sub(/.*\//, "", name)
    sub(/\.sql$/, "", name)
    steps++
    if (substr(name, 1, 4) + 0 != steps) {
        print FILENAME ": the steps must be numbered 0001, 0002, … without a gap" > "/dev/stderr"
        failed = 1
        exit 1
    }
    printf "    {%d, \"%s\",\n", steps, name
}

{
    line = $0
    gsub(/\\/, "\\\\", line)
    gsub(/"/, "\\\"", line)
    printf "     \"%s\\n\"\n", line
}

END {
    if (failed)
        exit 1
    finish_step()
    print "};\n"
    print "const size_t schema_step_count = sizeof schema_steps / sizeof schema_steps[0];"
}
