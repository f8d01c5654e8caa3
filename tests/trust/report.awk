# Makes the report out of the lines that trust_print (trust.h) prints:
#   trust, set, subject, name, kind, figures, largest deviation, tolerance, unit, source
# The short form is quoted in the README and must come out the same with every compiler and on
# every machine: where nothing but rounding is allowed, its size is chance and is not told there.

BEGIN {
    FS = "\t"
    ROUNDING = 1.0001e-5
    WIDTH = 80
}

# A number of at most two digits, 1e-9 rather than 1e-09. Shares are told as percents, unless
# they are so small that nobody would.
function number(value, c,    text) {
    text = sprintf("%.2g", value * (unit[c] == "%" ? 100 : 1))
    if (text ~ /e\+/) # 100, not 1e+02
        text = sprintf("%d", text)
    sub(/e-0/, "e-", text)
    return text
}

function is_rounding(c) {
    return tolerance[c] <= ROUNDING
}

# How near a check comes to its tolerance, from 0 to 1.
function nearness(c) {
    return is_rounding(c) ? 0 : largest[c] / tolerance[c]
}

function told_short(c) {
    if (is_rounding(c))
        return "within"
    return largest[c] < tolerance[c] / 1000 ? "0" : number(largest[c], c)
}

# A few random fields are refused on one machine and solved on another: one digit is told.
function figures_told(count, c,    digits) {
    if (set[c] == "published" || count < 1000)
        return count
    digits = 10 ^ (length(int(count) "") - 1)
    return int(count / digits) * digits "+"
}

function print_wrapped(text,    words, count, w, line) {
    count = split(text, words, " ")
    line = words[1]
    for (w = 2; w <= count; w++) {
        if (length(line) + 1 + length(words[w]) > WIDTH) {
            print line
            line = words[w]
        } else
            line = line " " words[w]
    }
    print line
}

function print_underlined(text) {
    print text
    gsub(/./, "-", text)
    print text
}

$1 == "trust" {
    if (NF != 10 || $8 !~ /^[0-9.e+-]+$/) {
        print "not a line of the report: " $0 > "/dev/stderr"
        bad = 1
        next
    }
    c = ++checks
    set[c] = $2
    subject[c] = $3
    name[c] = $4
    kind[c] = $5
    figures[c] = $6
    largest[c] = $7
    tolerance[c] = $8 + 0
    unit[c] = $9
    # Some say their kind themselves.
    source[c] = index($10, $5) == 1 ? $10 : $5 ": " $10
    if (unit[c] == "" && !is_rounding(c))
        unit[c] = "%"
    if (unit[c] == "percent")
        unit[c] = "points"
    if (unit[c] == "1")
        unit[c] = ""
    # Anything but a number compares as a text, which no tolerance is above.
    out += !($7 ~ /^[0-9.e+-]+$/ && $7 + 0 <= tolerance[c])
    if (!($3 in known)) {
        known[$3] = 1
        subjects[++subject_count] = $3
    }
}

function print_checks_of(wanted, from,    c) {
    for (c = from; c <= checks; c++) {
        if (subject[c] != subject[from] || source[c] != wanted)
            continue
        printf "  %-43s%7s%9s%9s%s\n", name[c], figures[c], number(largest[c], c),
            number(tolerance[c], c), unit[c] == "" ? "" : " " unit[c]
        done[c] = 1
    }
}

function print_whole(    s, c) {
    print_underlined("How far the program's figures are off")
    print checks " checks, " out + 0 " out of tolerance."
    print ""
    print_wrapped("Under each heading the sources, and what kind each is: read in print (in the " \
        "source, in a copy of it, or where no author was noted), recalculated by a printed " \
        "formula, known from memory, computed apart from the program, common practice without " \
        "a source, or a law that any field must follow. \"off\" is the largest deviation, \"allowed\" the " \
        "tolerance; %: of the expected figure; points: of a figure that is itself in percent.")
    printf "\n  %-43s%7s%9s%9s\n", "check", "figures", "off", "allowed"
    for (s = 1; s <= subject_count; s++) {
        print ""
        print_underlined(subjects[s])
        for (c = 1; c <= checks; c++) {
            if (subject[c] != subjects[s] || c in done)
                continue
            print_wrapped(source[c])
            print_checks_of(source[c], c)
        }
    }
}

# A line for each kind of source: the check that comes nearest to its tolerance.
function print_short_of(wanted,    c, k, kinds, count, nearest, sum) {
    count = 0
    for (c = 1; c <= checks; c++) {
        k = kind[c]
        if (subject[c] != wanted)
            continue
        if (!(k in nearest)) {
            kinds[++count] = k
            nearest[k] = c
        } else if (nearness(c) > nearness(nearest[k]))
            nearest[k] = c
        sum[k] += figures[c]
    }
    print wanted
    for (k = 1; k <= count; k++) {
        c = nearest[kinds[k]]
        printf "  %-15s%8s%8s%9s %-10s %s\n", kinds[k], figures_told(sum[kinds[k]], c),
            told_short(c), number(tolerance[c], c), unit[c], name[c]
    }
}

function print_short(    s) {
    printf "  %-15s%8s%8s%9s %-10s %s\n", "kind of source", "figures", "off", "allowed", "",
        "nearest to what is allowed"
    for (s = 1; s <= subject_count; s++)
        print_short_of(subjects[s])
}

END {
    if (bad || !checks)
        exit 1
    if (form == "short")
        print_short()
    else
        print_whole()
    exit out > 0
}
