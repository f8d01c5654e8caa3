#!/bin/sh
# Holds the table of rooms in DEVELOPERS.md against the sources and their objects.
#
#   sh tests/rooms.sh NM OBJECT...   NM lists symbols; the objects of all of src/, from one build
#
# A room is a folder of src/. What a room uses is what its files include and what its objects call:
# the public headers hide from the includes which room does the work. A room may use what its row of
# the table names, which must stand above it, so that there are no circles; and what it may use it
# must use, so that the table says neither too little nor too much.

set -eu

nm=$1
shift
root=$(cd "$(dirname "$0")/.." && pwd)
facts=$(mktemp)
trap 'rm -f "$facts"' EXIT
trap 'exit 1' HUP INT TERM

cd "$root"

# Every fact is a line of its kind and fields, parted by tabs.
{
    # row ROOM USES...: of the table, in its order.
    awk -F '|' -v OFS='\t' '
        $2 ~ /^ `src\/[a-z]+\/` $/ && NF == 5 {
            room = $2
            gsub(/^ `src\/|\/` $/, "", room)
            uses = $4
            gsub(/\([^)]*\)/, "", uses)
            count = split(uses, used, ",")
            line = "row" OFS room
            for (i = 1; i <= count; i++) {
                gsub(/^ +| +$/, "", used[i])
                if (used[i] != "") line = line OFS used[i]
            }
            print line
        }' DEVELOPERS.md

    # file PATH, and include PATH HEADER.
    find src include/evenrow -name '*.[ch]' | sort | while read -r path; do
        printf 'file\t%s\n' "$path"
        sed -n 's/^[[:space:]]*#[[:space:]]*include[[:space:]]*["<]\([^">]*\)[">].*/\1/p' "$path" |
            while read -r header; do
                printf 'include\t%s\t%s\n' "$path" "$header"
            done
    done

    # object PATH, and symbol PATH TYPE NAME.
    for object; do
        case $object in
        *.dir/src/*) printf 'object\tsrc/%s\n' "${object##*.dir/src/}" ;;
        esac
    done
    "$nm" -A -P "$@" | sed -n 's/^.*\.dir\/src\///p' |
        awk -v OFS='\t' '{ sub(/:$/, "", $1); print "symbol", "src/" $1, $3, $2 }'
} >"$facts"

awk -F '\t' '
function wrong(text) {
    print "rooms: " text
    faults++
}
function room_of(path,    part) {
    split(path, part, "/")
    return part[2]
}
function use(path, used, how, what,    room) {
    room = room_of(path)
    if (room == used) return
    seen[how]++
    is_used[room, used] = 1
    if (!((room, used) in may)) wrong(path " " how " " what ": src/" room "/ may not use " used)
}
# What of the machine a symbol is; "" where it does nothing but work something out.
function of_machine(name) {
    sub(/^__isoc[0-9]+_/, "", name)
    if (name ~ /^__[a-z]+_chk$/) gsub(/^__|_chk$/, "", name)
    if (name ~ /^cJSON_/) return "cJSON"
    if (name ~ /^pthread_/) return "threads"
    return name in machine ? machine[name] : ""
}
BEGIN {
    # To the machine belongs what prints, reads or writes files, exits, and what the same arguments
    # do not always answer alike.
    count = split("printf vprintf fprintf vfprintf dprintf vdprintf puts putchar putchar_unlocked " \
        "putc fputs fputc putw fwrite write pwrite writev perror stdin stdout stderr fopen fdopen " \
        "freopen fopen64 fclose open open64 openat creat close read pread readv fread fgets fgetc " \
        "getc getchar getline getdelim scanf vscanf fscanf vfscanf fflush fseek ftell rewind " \
        "remove rename unlink link symlink readlink realpath mkdir mkstemp tmpfile opendir " \
        "readdir closedir stat fstat lstat access chdir getcwd isatty select poll", names, " ")
    for (i = 1; i <= count; i++) machine[names[i]] = "files"
    count = split("exit _exit _Exit quick_exit abort atexit at_quick_exit __assert_fail getenv " \
        "secure_getenv setenv unsetenv putenv environ __environ time clock clock_gettime " \
        "timespec_get gettimeofday times localtime localtime_r gmtime gmtime_r ctime mktime tzset " \
        "sleep usleep nanosleep signal __sysv_signal sigaction raise kill alarm fork execv execve " \
        "execvp system popen getpid sysconf getrusage rand srand random srandom drand48 " \
        "getrandom setlocale", names, " ")
    for (i = 1; i <= count; i++) machine[names[i]] = "process"
    count = split("cJSON threads files process", names, " ")
    for (i = 1; i <= count; i++) is_machine[names[i]] = 1
}
$1 == "row" {
    if ($2 in is_room) wrong("src/" $2 "/ stands in the table twice")
    for (i = 3; i <= NF; i++) {
        if (!($i in is_room) && !($i in is_machine))
            wrong("src/" $2 "/ may use " $i ", which is no room above it in the table")
        may[$2, $i] = 1
        uses[++use_count] = $2 SUBSEP $i
    }
    is_room[$2] = 1
    rooms++
}
$1 == "file" && $2 ~ /^src\// {
    if (!(room_of($2) in is_room) && !(room_of($2) in is_told)) {
        is_told[room_of($2)] = 1
        wrong("src/" room_of($2) "/ has no row in the table")
    }
    has_files[room_of($2)] = 1
    if ($2 ~ /\.c$/) sources[++source_count] = $2
}
$1 == "include" {
    split($3, part, "/")
    if (part[1] == "cjson") {
        used = "cJSON"
    } else if ($3 ~ /^pthread\.h$/) {
        used = "threads"
    } else if ($3 ~ /\// && part[1] in is_room) {
        used = part[1]
    } else {
        next
    }
    if ($2 ~ /^include\//) {
        wrong($2 " is public and includes " $3)
    } else {
        use($2, used, "includes", $3)
    }
}
$1 == "object" { has_object[$2] = 1 }
$1 == "symbol" && $3 ~ /^[A-TV-Z]$/ { home[$4] = room_of($2) }
$1 == "symbol" && $3 ~ /^[Uw]$/ {
    asked_by[++asked] = $2
    asked_for[asked] = $4
}
END {
    for (i = 1; i <= source_count; i++)
        if (!((sources[i] ".o") in has_object)) wrong(sources[i] " has no object among those given")
    for (i = 1; i <= asked; i++) {
        name = asked_for[i]
        used = name in home ? home[name] : of_machine(name)
        if (used != "") {
            path = asked_by[i]
            sub(/\.o$/, "", path)
            use(path, used, "calls", name)
        }
    }
    for (room in is_room)
        if (!(room in has_files)) wrong("src/" room "/ stands in the table and is no folder")
    for (i = 1; i <= use_count; i++)
        if (!(uses[i] in is_used)) {
            split(uses[i], part, SUBSEP)
            wrong("src/" part[1] "/ does not use " part[2] ", which the table allows it")
        }
    # With a table, sources or objects that are not found nothing would ever be wrong.
    if (rooms < 2 || !seen["includes"] || !seen["calls"]) wrong("too little was found to judge by")
    printf "%d rooms, %d includes and %d calls from one to another or to the machine, %d wrong\n",
        rooms, seen["includes"], seen["calls"], faults
    exit faults > 0
}' "$facts"
