/* What to tell a grower about JSON text that is none: what stands there and what to do. */
#include <string.h>

#include "json/scan.h"

static bool is_letter(char letter)
{
    char small = er_lower(letter);
    return (small >= 'a' && small <= 'z') || small == '_';
}

static bool is_digit(char letter) { return letter >= '0' && letter <= '9'; }

/* The length of the word at the scanner, for showing it: not more than 30 bytes. */
static int word_length(const struct er_json_scanner *scanner)
{
    const char *word = scanner->text + scanner->at;
    int length = 0;
    while (length < 30 && (is_letter(word[length]) || is_digit(word[length]))) {
        length++;
    }
    return length;
}

static size_t line_of(const struct er_json_scanner *scanner, size_t offset)
{
    size_t line = 0, column = 0;
    er_json_place(scanner->text, scanner->length, offset, &line, &column);
    return line;
}

bool er_json_fault_of_byte(struct er_json_scanner *scanner, size_t offset)
{
    const char *found = scanner->text + offset;
    if (offset == 0 && (strncmp(found, "\xff\xfe", 2) == 0 || strncmp(found, "\xfe\xff", 2) == 0)) {
        er_json_fault(scanner, offset, "this is UTF-16 text: save the file as UTF-8");
        return true;
    }
    if (*found == '\0' && offset < scanner->length) {
        er_json_fault(scanner, offset, "a NUL byte: this is not a text file");
        return true;
    }
    unsigned long character = 0;
    if (er_utf8_character(found, scanner->length - offset + 1, &character) == 0) {
        er_json_fault(scanner, offset, "a byte (\\x%02x) that is not UTF-8: save the file as UTF-8",
                      (unsigned)(unsigned char)*found);
        return true;
    }
    return false;
}

/* Records the fault of a text that ends too early. */
static void fault_of_end(struct er_json_scanner *scanner)
{
    if (scanner->depth == 0) {
        er_json_fault(scanner, scanner->at, "the file is empty: expected one JSON object, {...}");
        return;
    }
    size_t opened = scanner->opened[scanner->depth - 1];
    char bracket = scanner->text[opened];
    er_json_fault(scanner, scanner->at,
                  "the file ends too early: the %c of line %zu is not closed, expected %c", bracket,
                  line_of(scanner, opened), bracket == '{' ? '}' : ']');
}

/* Records the faults that are the same wherever something else should stand. Returns false
 * if none of them is met. */
static bool fault_anywhere(struct er_json_scanner *scanner)
{
    size_t at = scanner->at;
    const char *found = scanner->text + at;
    if (at == scanner->length) {
        fault_of_end(scanner);
        return true;
    }
    if (er_json_fault_of_byte(scanner, at)) {
        return true;
    }
    if (*found == '#' || strncmp(found, "//", 2) == 0 || strncmp(found, "/*", 2) == 0) {
        er_json_fault(scanner, at, "a comment, which JSON does not have: use a \"note\" key");
        return true;
    }
    if (*found == '\'' || strncmp(found, "\xe2\x80\x98", 3) == 0 ||
        strncmp(found, "\xe2\x80\x99", 3) == 0) {
        er_json_fault(scanner, at, "a single quote: keys and texts stand in double quotes, \"\"");
        return true;
    }
    if (strncmp(found, "\xe2\x80\x9c", 3) == 0 || strncmp(found, "\xe2\x80\x9d", 3) == 0 ||
        strncmp(found, "\xe2\x80\x9e", 3) == 0) {
        er_json_fault(scanner, at, "a curly quote: keys and texts stand in straight quotes, \"\"");
        return true;
    }
    if (strncmp(found, "\xc2\xa0", 2) == 0) {
        er_json_fault(scanner, at, "a blank of another kind (U+00A0): put an ordinary one");
        return true;
    }
    return false;
}

/* Records what is wrong with a word that stands for no value. */
static void fault_of_word(struct er_json_scanner *scanner)
{
    static const char *const words[][2] = {{"true", "true"}, {"false", "false"}, {"null", "null"},
                                           {"yes", "true"},  {"no", "false"},    {"none", "null"}};
    char word[32] = "";
    int length = word_length(scanner);
    for (int i = 0; i < length; i++) {
        word[i] = er_lower(scanner->text[scanner->at + (size_t)i]);
    }
    if (strcmp(word, "nan") == 0 || strcmp(word, "infinity") == 0 || strcmp(word, "inf") == 0) {
        er_json_fault(scanner, scanner->at, "JSON has no infinity and no NaN: give a number");
    }
    for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
        if (strcmp(word, words[i][0]) == 0) {
            er_json_fault(scanner, scanner->at, "%.*s is written %s in JSON", length,
                          scanner->text + scanner->at, words[i][1]);
        }
    }
    er_json_fault(scanner, scanner->at, "a text must stand in double quotes: \"%.*s\"", length,
                  scanner->text + scanner->at);
}

/* Records the fault of a character that has no business where it stands. */
static void fault_of_character(struct er_json_scanner *scanner, const char *expected)
{
    unsigned long character = 0;
    const char *found = scanner->text + scanner->at;
    size_t length = er_utf8_character(found, scanner->length - scanner->at, &character);
    er_json_fault(scanner, scanner->at, "%.*s stands where %s was expected", (int)length, found,
                  expected);
}

static bool after_comma(const struct er_json_scanner *scanner)
{
    if (scanner->depth == 0 || scanner->comma <= scanner->opened[scanner->depth - 1]) {
        return false;
    }
    const char *between = scanner->text + scanner->comma + 1;
    size_t blanks = strspn(between, " \t\r\n");
    return between + blanks == scanner->text + scanner->at;
}

/* Records the fault of a comma that a closing bracket or another comma follows.
 * Returns false if that is not what stands here. */
static bool fault_of_comma(struct er_json_scanner *scanner)
{
    char found = scanner->text[scanner->at];
    if (found == ',') {
        er_json_fault(scanner, scanner->at,
                      after_comma(scanner) ? "one comma too many: take it out"
                                           : "something is missing before this comma");
        return true;
    }
    if ((found == '}' || found == ']') && after_comma(scanner)) {
        er_json_fault(scanner, scanner->comma, "a comma before the closing bracket: take it out");
        return true;
    }
    return false;
}

void er_json_fault_of_value(struct er_json_scanner *scanner)
{
    char found = scanner->text[scanner->at];
    if (fault_anywhere(scanner) || fault_of_comma(scanner)) {
        return;
    }
    if (is_letter(found)) {
        fault_of_word(scanner);
    } else if (found == '+') {
        er_json_fault(scanner, scanner->at, "a number has no plus sign in JSON: take it off");
    } else if (found == '.') {
        er_json_fault(scanner, scanner->at,
                      "a number needs a digit before its decimal point: 0.5, not .5");
    } else {
        fault_of_character(scanner, "a value");
    }
}

void er_json_fault_of_key(struct er_json_scanner *scanner)
{
    char found = scanner->text[scanner->at];
    if (fault_anywhere(scanner) || fault_of_comma(scanner)) {
        return;
    }
    size_t comma = scanner->comma;
    if (is_digit(found) && comma > 0 && comma + 1 == scanner->at &&
        is_digit(scanner->text[comma - 1])) {
        er_json_fault(scanner, comma,
                      "a comma inside a number: JSON has none there, write 1000 and 1.5");
    } else if (is_letter(found) || is_digit(found)) {
        er_json_fault(scanner, scanner->at, "a key must stand in double quotes: \"%.*s\"",
                      word_length(scanner), scanner->text + scanner->at);
    } else {
        fault_of_character(scanner, "a key in double quotes");
    }
}

/* Records the fault of a closing bracket of the wrong kind. */
static void fault_of_bracket(struct er_json_scanner *scanner)
{
    size_t opened = scanner->opened[scanner->depth - 1];
    char bracket = scanner->text[opened];
    er_json_fault(
        scanner, scanner->at, "%c stands where %c was expected, to close the %c of line %zu",
        scanner->text[scanner->at], bracket == '{' ? '}' : ']', bracket, line_of(scanner, opened));
}

/* Whether the last thing before the scanner is a digit: a number without quotes. */
static bool after_number(const struct er_json_scanner *scanner)
{
    size_t at = scanner->at;
    while (at > 0 && (scanner->text[at - 1] == ' ' || scanner->text[at - 1] == '\t')) {
        at--;
    }
    return at > 0 && is_digit(scanner->text[at - 1]);
}

void er_json_fault_after_value(struct er_json_scanner *scanner)
{
    char found = scanner->text[scanner->at];
    if (fault_anywhere(scanner)) {
        return;
    }
    if (scanner->depth == 0) {
        er_json_fault(scanner, scanner->at,
                      found == '}' || found == ']' ? "one closing bracket too many: take it out"
                                                   : "nothing may follow the end of the JSON text");
    } else if (found == '}' || found == ']') {
        fault_of_bracket(scanner);
    } else if (is_letter(found) && after_number(scanner)) {
        er_json_fault(scanner, scanner->at,
                      "a number with its unit must stand in double quotes: \"40 gpm\"");
    } else if (found == '"' || found == '{' || found == '[' || found == '-' || is_letter(found) ||
               is_digit(found)) {
        er_json_fault(scanner, scanner->at, "a comma is missing before this");
    } else {
        fault_of_character(scanner, "a comma or the closing bracket");
    }
}
