/* What is wrong in a field file is told with its place, and what to do about it. */
#include "field_texts.h"

/* One thing wrong. `to` takes the place of `from` in the text below; an @ in it marks where the
 * problem must be found, and is left out. */
struct wrong {
    const char *from;
    const char *to;
    const char *says;    /* stands in the problem's text */
    const char *pointer; /* NULL: not looked at */
};

static const char good[] =
    "{\n"
    "  \"units\": \"us\",\n"
    "  \"title\": \"T\",\n"
    "  \"source\": {\"pump\": {\"curve\": [[0, 90], [40, 60], [60, 30]]},\n"
    "    \"suction\": {\"pipe\": \"main\", \"length\": 10}},\n"
    "  \"headworks\": [{\"part\": \"screen filter\", \"loss\": 3, \"at_flow\": 30}],\n"
    "  \"pipes\": {\"main\": {\"inside_diameter\": 3}},\n"
    "  \"tapes\": {\n"
    "    \"t\": {\"flow\": 0.45, \"at_pressure\": 8, \"emitter_spacing\": 12,\n"
    "      \"inside_diameter\": 0.625},\n"
    "    \"pc\": {\"emitter_flow\": 0.25, \"holds_from\": 7, \"holds_to\": 30,\n"
    "      \"emitter_spacing\": 18, \"inside_diameter\": 0.6}},\n"
    "  \"mainline\": [{\"name\": \"A\", \"pipe\": \"main\", \"length\": 200},\n"
    "    {\"name\": \"B\", \"from\": \"A\", \"pipe\": \"main\", \"length\": 100}],\n"
    "  \"zones\": [\n"
    "    {\"name\": \"1\", \"on\": \"A\", \"valve\": {\"loss\": 1},\n"
    "      \"regulator\": {\"holds\": 12, \"loss\": 2},\n"
    "      \"header\": {\"pipe\": \"main\", \"feed\": \"middle\"},\n"
    "      \"beds\": [{\"count\": 10, \"length\": 300, \"spacing\": 6, \"tape\": \"t\"}]},\n"
    "    {\"name\": \"2\",\n"
    "      \"header\": {\"sections\": [{\"pipe\": \"main\", \"length\": 20},\n"
    "        {\"pipe\": \"pvc40-2in\"}], \"feed\": 35},\n"
    "      \"beds\": [{\"count\": 8, \"length\": 200, \"spacing\": 5, \"tape\": \"pc\",\n"
    "        \"sides\": \"both\", \"other_length\": 150}]}],\n"
    "  \"sets\": [[\"1\"], [\"2\"]],\n"
    "  \"water\": {\"eto\": 0.25, \"kc\": 0.9, \"hours\": 18},\n"
    "  \"limits\": {\"uniformity\": 85}\n"
    "}\n";

/* Reads `text` without its mark, which must be where the one problem is. */
static void check_marked(const char *text, const char *says, const char *pointer)
{
    const char *mark = strchr(text, '@');
    assert_non_null(mark);
    size_t line = 1;
    size_t column = 1;
    for (const char *at = text; at < mark; at++) {
        column = *at == '\n' ? 1 : column + 1;
        line += *at == '\n';
    }
    char *plain = changed(text, "@", "");
    struct er_field field;
    struct er_problems problems;
    er_problems_init(&problems);
    const enum er_status status = read_text(plain, &field, &problems);
    const struct er_problem *found = &problems.kept[0];
    const bool right = status == ER_BAD_INPUT && problems.count == 1 && found->line == line &&
                       found->column == column && strstr(found->text, says) != NULL &&
                       (pointer == NULL || strcmp(found->pointer, pointer) == 0);
    if (!right) {
        print_error("wanted %zu:%zu: %s (%s), found %zu problem(s)\n", line, column, says, pointer,
                    problems.count);
        for (size_t i = 0; i < problems.count && i < ER_PROBLEMS_KEPT; i++) {
            print_error("%zu:%zu: %s (%s)\n", problems.kept[i].line, problems.kept[i].column,
                        problems.kept[i].text, problems.kept[i].pointer);
        }
        fail();
    }
    assert_int_equal(field.zone_count, 0);
    er_problems_release(&problems);
    er_field_release(&field);
    free(plain);
}

static void check_all(const struct wrong *cases, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        char *text = changed(good, cases[i].from, cases[i].to);
        check_marked(text, cases[i].says, cases[i].pointer);
        free(text);
    }
}

#define CHECK_ALL(cases) check_all((cases), sizeof(cases) / sizeof(cases)[0])

static void test_good(void **state)
{
    (void)state;
    struct er_field field;
    read_good(good, &field);
    er_field_release(&field);
}

static void test_keys_and_types(void **state)
{
    (void)state;
    static const struct wrong cases[] = {
        {"\"title\"", "@\"titel\"",
         "unknown key \"titel\" in a field file; did you mean \"title\"?", "/titel"},
        {"\"uniformity\"", "@\"u\"",
         "its keys are \"uniformity\", \"flow_variation\", \"velocity\", \"flush_velocity\"",
         "/limits/u"},
        {"\"other_length\"", "@\"xyzzy\"", "\"evenrow schema\" lists its keys",
         "/zones/1/beds/0/xyzzy"},
        {"\"hours\": 18}", "\"hours\": 18, @\"Hours\": 1}", "did you mean \"hours\"?",
         "/water/Hours"},
        {"{\"inside_diameter\": 3}", "{\"inside_diameter\": 3, @\"diameter\": 3}",
         "write \"inside_diameter\"", "/pipes/main/diameter"},
        {"  \"units\": \"us\",\n", "  \"units\": @\"uk\",\n",
         "expected \"us\" or \"metric\", found \"uk\"; did you mean \"us\"?", "/units"},
        {"\"title\": \"T\"", "\"title\": @7", "expected a text in quotes, found 7; write \"7\"",
         "/title"},
        {"\"title\": \"T\"", "\"title\": @null", "expected a text in quotes, found null", "/title"},
        {"\"title\": \"T\"", "\"version\": @2",
         "expected a whole number, just 1, found 2: version of the field file's format",
         "/version"},
        {"{\"eto\": 0.25, \"kc\": 0.9, \"hours\": 18}", "@[]",
         "expected the water, an object {...}, found a list [...]", "/water"},
        {"[{\"part\": \"screen filter\", \"loss\": 3, \"at_flow\": 30}]", "@{}",
         "expected a list [...] of objects, found an object {...}", "/headworks"},
        {"{\"part\": \"screen filter\", \"loss\": 3, \"at_flow\": 30}", "@\"filter\"",
         "expected a part of the headworks, an object {...}, found \"filter\"", "/headworks/0"},
        {"\"title\": \"T\"", "\"prices\": @3", "expected the prices, an object {...}, found 3",
         "/prices"},
        {"\"part\": \"screen filter\", \"loss\": 3", "\"part\": \"screen filter\", \"loss\": @true",
         "expected a pressure such as 12 or \"12 psi\", found true", "/headworks/0/loss"},
        {"\"part\": \"screen filter\", \"loss\": 3",
         "\"part\": \"screen filter\", \"loss\": @\"x\"",
         "expected a pressure such as 12 or \"12 psi\", found \"x\"", "/headworks/0/loss"},
        {"\"part\": \"screen filter\", \"loss\": 3",
         "\"part\": \"screen filter\", \"loss\": @\"3\"",
         "\"3\" has no unit: name one, as in \"12 psi\", or write the number without quotes for "
         "psi",
         "/headworks/0/loss"},
        {"\"part\": \"screen filter\", \"loss\": 3",
         "\"part\": \"screen filter\", \"loss\": @\"3 gpm\"",
         "\"3 gpm\" is not a pressure: the units understood here are psi, kPa, bar, m, ft",
         "/headworks/0/loss"},
        {"\"kc\": 0.9", "\"kc\": @\"0.9\"", "expected a bare number, 0 or more, found \"0.9\"",
         "/water/kc"},
        {"\"uniformity\": 85", "\"uniformity\": @\"85 %\"",
         "expected a bare number of percent, 0 to 100, found \"85 %\"", "/limits/uniformity"},
        {"\"sides\": \"both\"", "\"tapes\": @\"2\", \"sides\": \"both\"",
         "expected a whole number, 1 or more, found \"2\"", "/zones/1/beds/0/tapes"},
    };
    CHECK_ALL(cases);
}

static void test_required(void **state)
{
    (void)state;
    static const struct wrong cases[] = {
        {"{\n  \"units\": \"us\",\n", "@{\n", "a field file needs \"units\"", "/units"},
        {"{\"inside_diameter\": 3}", "@{}", "a pipe needs \"inside_diameter\"",
         "/pipes/main/inside_diameter"},
        {"{\"holds\": 12, \"loss\": 2}", "@{\"loss\": 2}", "a regulator needs \"holds\"",
         "/zones/0/regulator/holds"},
        {"{\"pump\": {\"curve\": [[0, 90], [40, 60], [60, 30]]},", "{\"pump\": @{},",
         "a pump needs \"curve\"", "/source/pump/curve"},
        {"{\"count\": 10, ", "@{", "a bed group needs \"count\": number of beds",
         "/zones/0/beds/0/count"},
    };
    CHECK_ALL(cases);
    char *unnamed = changed(good, "[{\"part\": \"screen filter\", \"loss\": 3", "[@{\"loss\": 3");
    check_marked(unnamed, "a part of the headworks needs \"part\": what it is",
                 "/headworks/0/part");
    free(unnamed);
    char *nameless = changed(good, "    {\"name\": \"2\",", "    @{");
    char *text = changed(nameless, "[[\"1\"], [\"2\"]]", "[[\"1\"]]");
    check_marked(text, "a zone needs \"name\": the zone's name", "/zones/1/name");
    free(text);
    free(nameless);
}

static void test_ranges(void **state)
{
    (void)state;
    static const struct wrong cases[] = {
        {"\"length\": 300", "\"length\": @-300", "expected a length, above 0 ft, found -300",
         "/zones/0/beds/0/length"},
        {"\"length\": 300", "\"length\": @\"-3 m\"",
         "expected a length, above 0 ft, found \"-3 m\"", "/zones/0/beds/0/length"},
        {"\"emitter_spacing\": 12", "\"emitter_spacing\": @0",
         "expected a length, above 0 in, found 0", "/tapes/t/emitter_spacing"},
        {"\"count\": 10", "\"count\": @0", "expected a whole number, 1 or more, found 0",
         "/zones/0/beds/0/count"},
        {"\"count\": 10", "\"count\": @2.5", "expected a whole number, found 2.5",
         "/zones/0/beds/0/count"},
        {"\"hours\": 18", "\"hours\": @25", "expected a time, above 0 to 24 h, found 25",
         "/water/hours"},
        {"\"hours\": 18", "\"leaching\": @100",
         "expected a bare number of percent, 0 to under 100, found 100", "/water/leaching"},
        {"\"hours\": 18", "\"efficiency\": @0",
         "expected a bare number of percent, above 0 to 100, found 0", "/water/efficiency"},
        {"\"at_pressure\": 8", "\"at_pressure\": 8, \"exponent\": @1.1",
         "expected a bare number, above 0 to 1, found 1.1", "/tapes/t/exponent"},
        {"\"at_pressure\": 8", "\"at_pressure\": 8, \"cv\": @3",
         "expected a bare number, 0 to under 1, found 3: coefficient of manufacturing "
         "variation, as a fraction: 0.03 is 3 percent",
         "/tapes/t/cv"},
        {"\"feed\": \"middle\"", "\"slope\": @-101",
         "expected a bare number of percent, -100 to 100, found -101", "/zones/0/header/slope"},
        {"\"length\": 300", "\"length\": @1e300", "1e+300 is too large a figure for any farm",
         "/zones/0/beds/0/length"},
        {"\"length\": 300", "\"length\": @1e9",
         "1000000000 is too large a figure for any farm; expected a length of 0.004 to 300000 ft",
         "/zones/0/beds/0/length"},
        {"\"length\": 300", "\"length\": @\"1e400 ft\"", "is too large a figure for any farm",
         "/zones/0/beds/0/length"},
        {"\"length\": 300", "\"length\": @1e-300", "is too small a figure for any farm",
         "/zones/0/beds/0/length"},
        {"\"feed\": \"middle\"", "\"lead\": @-1", "expected a length, 0 or more ft, found -1",
         "/zones/0/header/lead"},
    };
    CHECK_ALL(cases);
}

static void test_counts(void **state)
{
    (void)state;
    static const struct wrong cases[] = {
        {"\"beds\": [{\"count\": 10,", "\"beds\": @[{\"count\": 1e12,",
         "a zone may have 100,000 beds at most, this one has 1000000000000", "/zones/0/beds"},
        {"\"beds\": [{\"count\": 10,", "\"beds\": @[{\"count\": 100001,",
         "a zone may have 100,000 beds at most, this one has 100001", "/zones/0/beds"},
        {"\"beds\": [{\"count\": 10,", "\"beds\": [{\"count\": @1e16,",
         "1e+16 is too large a figure for any farm", "/zones/0/beds/0/count"},
        {"\"beds\": [{\"count\": 10, \"length\": 300,",
         "\"beds\": @[{\"count\": 100000, \"length\": 100001,",
         "a field may have 10 billion emitters at most", "/zones/0/beds"},
        {"\"beds\": [{\"count\": 10, \"length\": 300,",
         "\"beds\": @[{\"count\": 10, \"tapes\": 1e9, \"length\": 300,",
         "a field may have 10 billion emitters at most", "/zones/0/beds"},
    };
    CHECK_ALL(cases);
}

static void test_source(void **state)
{
    (void)state;
#define SUCTION ",\n    \"suction\": {\"pipe\": \"main\", \"length\": 10}}"
#define PUMP "{\"pump\": {\"curve\": [[0, 90], [40, 60], [60, 30]]}" SUCTION
    static const struct wrong cases[] = {
        {PUMP, "@{\"flow_limit\": 3}",
         "the source needs \"pressure\", \"curve\", \"test\" or \"pump\"", "/source"},
        {PUMP, "{\"pressure\": 3, @\"curve\": [[0, 9], [1, 8]]}",
         "the source has just one of \"pressure\", \"curve\", \"test\" and \"pump\"",
         "/source/curve"},
        {PUMP, "{@\"suction\": {}, \"pressure\": 9}", "\"suction\" needs \"pump\"",
         "/source/suction"},
        {PUMP, "{\"test\": {\"static\": 40, \"flow\": 9, \"pressure\": @40}}",
         "the pressure at the measured flow (40 psi) must be under the static pressure (40 psi)",
         "/source/test/pressure"},
        {PUMP, "{\"test\": @{\"static\": 40}}", "a test needs \"flow\" or \"volume\"",
         "/source/test"},
        {PUMP, "{\"test\": {\"static\": 40, @\"volume\": 5}}",
         "\"volume\" needs \"time\" beside it", "/source/test/volume"},
        {PUMP, "{\"test\": {\"static\": 40, \"flow\": 5, @\"time\": 5}}",
         "\"time\" needs \"volume\" beside it", "/source/test/time"},
        {PUMP, "{\"test\": {\"static\": 40, \"flow\": 5, @\"volume\": 5, \"time\": 1}}",
         "a test has just one of \"flow\" and \"volume\"", "/source/test/volume"},
        {"[40, 60], [60, 30]", "[40, 60], @[40, 30]",
         "the flows must rise from point to point: 40 gpm does not come after 40 gpm",
         "/source/pump/curve/2"},
        {PUMP, "{\"pump\": {\"curve\": [[1, 90], [40, 60]], \"shutoff\": @89}}",
         "\"shutoff\" (89 ft) must not be under the curve's first point (90 ft)",
         "/source/pump/shutoff"},
        {PUMP, "{\"curve\": [[0, 90], [40, 60]], \"shutoff\": @91}",
         "the curve's first point is at no flow already, with 90 psi", "/source/shutoff"},
        {PUMP, "{\"pressure\": 9, @\"shutoff\": 91}", "\"shutoff\" needs \"curve\"",
         "/source/shutoff"},
        {"[40, 60], [60, 30]", "@[40, 91]",
         "a curve must not rise with the flow: 91 ft comes after 90 ft", "/source/pump/curve/1"},
        {"[[0, 90], [40, 60], [60, 30]]", "@[[0, 90]]", "expected two points or more",
         "/source/pump/curve"},
        {"[[0, 90], [40, 60], [60, 30]]", "[[@-1, 90], [40, 60]]",
         "expected a flow, 0 or more gpm, found -1", "/source/pump/curve/0/0"},
        {"[[0, 90], [40, 60], [60, 30]]", "[@[0, 90, 1], [40, 60]]",
         "expected a point [flow, head], found a list that has not two items",
         "/source/pump/curve/0"},
        {"{\"pipe\": \"main\", \"length\": 10}", "{@\"pipe\": \"main\"}",
         "\"pipe\" needs \"length\" beside it; the two go together", "/source/suction/pipe"},
        {"{\"pipe\": \"main\", \"length\": 10}", "{@\"length\": 10}", "\"length\" needs \"pipe\"",
         "/source/suction/length"},
        {"\"loss\": 3, \"at_flow\": 30", "\"loss\": 3, @\"dirty_loss\": 4",
         "\"dirty_loss\" needs \"at_flow\" beside it", "/headworks/0/dirty_loss"},
        {"\"at_flow\": 30", "\"min_flow\": @30, \"max_flow\": 20",
         "\"min_flow\" (30 gpm) must not be above \"max_flow\" (20 gpm)", "/headworks/0/min_flow"},
    };
    CHECK_ALL(cases);
}

static void test_tapes(void **state)
{
    (void)state;
    static const struct wrong cases[] = {
        {"\"flow\": 0.45,", "\"flow\": 0.45, @\"emitter_flow\": 0.2,",
         "a tape has just one of \"flow\" and \"emitter_flow\"", "/tapes/t/emitter_flow"},
        {"{\"flow\": 0.45, ", "@{", "a tape needs \"flow\" or \"emitter_flow\"", "/tapes/t"},
        {"{\"flow\": 0.45, \"at_pressure\": 8,", "@{\"flow\": 0.45,",
         "a tape needs \"at_pressure\" or \"holds_from\"", "/tapes/t"},
        {"\"holds_to\": 30", "\"holds_to\": 30, @\"exponent\": 0.5",
         "a pressure-compensating emitter has no exponent", "/tapes/pc/exponent"},
        {"\"holds_to\": 30", "\"holds_to\": @6", "must not be under \"holds_from\" (7 psi)",
         "/tapes/pc/holds_to"},
        {"\"holds_to\": 30", "\"holds_to\": 30, \"at_pressure\": @31",
         "must lie between \"holds_from\" and \"holds_to\": from 7 psi to 30 psi",
         "/tapes/pc/at_pressure"},
        {"\"holds_to\": 30", "\"at_pressure\": @6", "from 7 psi up", "/tapes/pc/at_pressure"},
        {"\"at_pressure\": 8", "\"at_pressure\": 8, \"min_pressure\": @9, \"max_pressure\": 8",
         "\"min_pressure\" (9 psi) must not be above \"max_pressure\" (8 psi)",
         "/tapes/t/min_pressure"},
    };
    CHECK_ALL(cases);
    char *lone = changed(good, "\"holds_from\": 7, \"holds_to\": 30",
                         "\"at_pressure\": 8, @\"holds_to\": 30");
    check_marked(lone, "\"holds_to\" needs \"holds_from\" beside it", "/tapes/pc/holds_to");
    free(lone);
}

static void test_mainline_and_header(void **state)
{
    (void)state;
    static const struct wrong cases[] = {
        {"{\"name\": \"B\",", "{\"name\": @\"A\",",
         "another section before it is called \"A\": each needs a name of its own",
         "/mainline/1/name"},
        {"{\"name\": \"B\",", "{\"name\": @\"headworks\",",
         "a section cannot be called \"headworks\"", "/mainline/1/name"},
        {"{\"name\": \"A\",", "{\"name\": \"A\", \"from\": @\"B\",",
         "section \"B\" is not listed before this one", "/mainline/0/from"},
        {"\"from\": \"A\"", "\"from\": @\"B\"", "section \"B\" is not listed before this one",
         "/mainline/1/from"},
        {"\"from\": \"A\"", "\"from\": @\"headwork\"",
         "no mainline section is called \"headwork\"; did you mean \"headworks\"?",
         "/mainline/1/from"},
        {"\"on\": \"A\"", "\"on\": @\"xyzzy\"",
         "no mainline section is called \"xyzzy\"; name one of \"mainline\", or \"headworks\"",
         "/zones/0/on"},
        {"\"on\": \"A\"", "\"on\": @1", "expected a mainline section's name in quotes",
         "/zones/0/on"},
        {"{\"pipe\": \"main\", \"feed\": \"middle\"}", "@{\"feed\": \"middle\"}",
         "a header needs \"pipe\" or \"sections\"", "/zones/0/header"},
        {"{\"pipe\": \"main\", \"feed\": \"middle\"}",
         "{\"pipe\": \"main\", @\"sections\": [{\"pipe\": \"main\"}]}",
         "a header has just one of \"pipe\" and \"sections\"", "/zones/0/header/sections"},
        {"{\"pipe\": \"main\", \"feed\": \"middle\"}", "{\"sections\": @[]}",
         "this list is empty: it needs a header section at least", "/zones/0/header/sections"},
        {"{\"pipe\": \"main\", \"length\": 20}", "@{\"pipe\": \"main\"}",
         "this section needs \"length\": only the last one may leave it out",
         "/zones/1/header/sections/0/length"},
        {"\"feed\": \"middle\"", "\"feed\": @\"midle\"",
         "expected \"first\", \"last\", \"middle\" or a length such as 300 or \"300 ft\", found "
         "\"midle\"; did you mean \"middle\"?",
         "/zones/0/header/feed"},
        {"\"feed\": \"middle\"", "\"feed\": @\"20 psi\"", "\"20 psi\" is not a length",
         "/zones/0/header/feed"},
        {"\"feed\": 35", "\"feed\": @35.01",
         "the feed point lies beyond the last bed, which is 35 ft from the first",
         "/zones/1/header/feed"},
        {"\"feed\": \"middle\"", "\"slope\": 1, @\"profile\": [[0, 0], [9, 1]]",
         "a header has one of \"slope\" and \"profile\" at most", "/zones/0/header/profile"},
        {"\"feed\": \"middle\"", "\"profile\": [@[1, 0], [9, 1]]",
         "a profile's first point must be at distance 0, found 1 ft", "/zones/0/header/profile/0"},
        {"\"feed\": \"middle\"", "\"profile\": [[0, 0], [9, 1], @[8, 1]]",
         "the distances must rise from point to point", "/zones/0/header/profile/2"},
    };
    CHECK_ALL(cases);
}

static void test_beds(void **state)
{
    (void)state;
    static const struct wrong cases[] = {
        {"\"length\": 300,", "\"length\": @0.5,",
         "no emitter fits on the shortest tape: 0.5 ft long, with emitters 12 in apart",
         "/zones/0/beds/0/length"},
        {"\"length\": 300,", "\"length\": 300, \"last_length\": @\"11 in\",",
         "no emitter fits on the shortest tape", "/zones/0/beds/0/last_length"},
        {"\"other_length\": 150", "\"other_length\": @1", "no emitter fits on the shortest tape",
         "/zones/1/beds/0/other_length"},
        {"\"sides\": \"both\", ", "@", "\"other_length\" is only for \"sides\": \"both\"",
         "/zones/1/beds/0/other_length"},
        {"\"length\": 300,", "\"length\": 300, @\"other_slope\": 1,",
         "\"other_slope\" is only for \"sides\": \"both\"", "/zones/0/beds/0/other_slope"},
        {"\"length\": 300,", "\"length\": 300, @\"other_profile\": [[0, 0], [1, 1]],",
         "\"other_profile\" is only for \"sides\": \"both\"", "/zones/0/beds/0/other_profile"},
        {"\"length\": 300,", "\"length\": 300, \"slope\": 1, @\"profile\": [[0, 0], [1, 1]],",
         "a bed group has one of \"slope\" and \"profile\" at most", "/zones/0/beds/0/profile"},
        {"[{\"count\": 8,", "[@{\"profile\": [[0, 0], [9, 1]], \"count\": 8,",
         "the second side needs \"other_profile\" or \"other_slope\"",
         "/zones/1/beds/0/other_profile"},
        {"\"sides\": \"both\"", "\"sides\": @\"bth\"",
         "expected \"one\" or \"both\", found \"bth\"; did you mean \"both\"?",
         "/zones/1/beds/0/sides"},
        {"\"tape\": \"t\"", "\"tape\": @\"pcc\"", "no tape is called \"pcc\"; did you mean \"pc\"?",
         "/zones/0/beds/0/tape"},
        {"\"tape\": \"t\"", "\"tape\": @\"tape-16mm-12in-0.44\"", "did you mean \"tape-16mm-12in-",
         "/zones/0/beds/0/tape"},
        {"\"tape\": \"t\"", "\"tape\": @\"green\"",
         "\"evenrow catalog tapes\" lists the built-in ones", "/zones/0/beds/0/tape"},
        {"\"tape\": \"t\"", "\"tape\": @{}", "expected a tape's name in quotes",
         "/zones/0/beds/0/tape"},
        {"\"pvc40-2in\"", "@\"pvc40-2inch\"",
         "no pipe is called \"pvc40-2inch\"; did you mean \"pvc40-2in\"?",
         "/zones/1/header/sections/1/pipe"},
        {"\"pvc40-2in\"", "@2", "expected a pipe's name in quotes, or a pipe in place",
         "/zones/1/header/sections/1/pipe"},
        {"\"beds\": [{\"count\": 10, \"length\": 300, \"spacing\": 6, \"tape\": \"t\"}]",
         "\"beds\": @[]", "this list is empty: it needs a bed group at least", "/zones/0/beds"},
    };
    CHECK_ALL(cases);
}

static void test_sets(void **state)
{
    (void)state;
    static const struct wrong cases[] = {
        {"[[\"1\"], [\"2\"]]", "[[\"1\"], [\"2\", @\"1\"]]",
         "zone \"1\" is already in set 1: a zone runs in one set only", "/sets/1/1"},
        {"[[\"1\"], [\"2\"]]", "@[[\"1\"]]", "zone \"2\" is in no set", "/sets"},
        {"[[\"1\"], [\"2\"]]", "[[\"1\"], [\"2\"], @[]]",
         "expected a set, a list of zones' names such as [\"1\", \"2\"], found an empty list",
         "/sets/2"},
        {"[[\"1\"], [\"2\"]]", "[[\"1\"], [\"2\"], @\"1\"]", "expected a set", "/sets/2"},
        {"[[\"1\"], [\"2\"]]", "[[\"1\"], [\"2\", @1]]",
         "expected a zone's name in quotes, found 1", "/sets/1/1"},
        {"[[\"1\"], [\"2\"]]", "[[\"1\"], [\"2\", @\"xyzzy\"]]", "no zone is called \"xyzzy\"",
         "/sets/1/1"},
        {"[[\"1\"], [\"2\"]]", "@\"1\"", "expected a list of sets", "/sets"},
    };
    CHECK_ALL(cases);
    char *first = changed(good, "{\"name\": \"2\"", "{\"name\": @\"1\"");
    char *text = changed(first, "[[\"1\"], [\"2\"]]", "[[\"1\"]]");
    check_marked(text, "another zone before it is called \"1\"", "/zones/1/name");
    free(text);
    free(first);
}

static void test_water(void **state)
{
    (void)state;
    static const struct wrong cases[] = {
        {"\"eto\": 0.25, \"kc\": 0.9", "\"need\": 0.2, @\"eto\": 0.2",
         "the water has one of \"need\", \"need_per_length\" and \"eto\" at most", "/water/eto"},
        {"\"kc\": 0.9", "\"kc\": 0.9, @\"crop\": \"tomato\"", "at most", "/water/crop"},
        {"\"water\": {\"eto\": 0.25, \"kc\": 0.9,", "\"water\": @{\"eto\": 0.25,",
         "\"eto\" needs \"kc\", or \"crop\" and \"stage\"", "/water/crop"},
        {"\"water\": {\"eto\": 0.25, \"kc\": 0.9,", "\"water\": @{\"kc\": 0.9,",
         "a crop coefficient needs \"eto\"", "/water/eto"},
        {"\"water\": {\"eto\": 0.25, \"kc\": 0.9,",
         "\"water\": @{\"eto\": 0.25, \"crop\": \"tomato\",",
         "\"crop\" needs \"stage\": \"initial\", \"mid\" or \"end\"", "/water/stage"},
        {"\"water\": {\"eto\": 0.25, \"kc\": 0.9,",
         "\"water\": @{\"eto\": 0.25, \"stage\": \"mid\",", "\"stage\" needs \"crop\"",
         "/water/crop"},
        {"\"kc\": 0.9", "\"stage\": \"mid\", \"crop\": @\"tomatoes\"",
         "no crop is called \"tomatoes\"; did you mean \"tomato\"?", "/water/crop"},
        {"\"kc\": 0.9", "\"kc\": 0.9, \"soil\": @\"sandy lome\"",
         "no soil is called \"sandy lome\"; did you mean \"sandy loam\"?", "/water/soil"},
        {"\"kc\": 0.9", "\"kc\": 0.9, \"area\": @\"row\"", "expected \"spacing\" or \"bed\"",
         "/water/area"},
        {"{\"name\": \"2\",", "{\"water\": {@\"hours\": 3}, \"name\": \"2\",",
         "the hours are the whole farm's", "/zones/1/water/hours"},
        {"{\"name\": \"2\",", "{\"water\": @{\"crop\": \"tomato\"}, \"name\": \"2\",",
         "\"crop\" needs \"stage\": \"initial\", \"mid\" or \"end\" (zone \"2\")",
         "/zones/1/water/stage"},
    };
    CHECK_ALL(cases);
}

/* All problems are told in one go, in the order of the file, whatever order they are found in. */
static void test_order(void **state)
{
    (void)state;
    static const char text[] = "{\"zones\": [{\"name\": \"a\", \"header\": {\"pipe\": 1},\n"
                               "\"beds\": [{\"count\": 0}]}],\n"
                               "\"tapes\": {\"t\": 3},\n"
                               "\"pipes\": [],\n"
                               "\"source\": {\"pressure\": true},\n"
                               "\"x\": 0, \"units\": 7}";
    struct er_field field;
    struct er_problems problems;
    er_problems_init(&problems);
    assert_int_equal(read_text(text, &field, &problems), ER_BAD_INPUT);
    assert_int_equal(problems.count, 10);
    for (size_t i = 1; i < problems.count; i++) {
        const struct er_problem *before = &problems.kept[i - 1];
        const struct er_problem *after = &problems.kept[i];
        assert_true(before->line < after->line ||
                    (before->line == after->line && before->column <= after->column));
    }
    assert_string_equal(problems.kept[0].pointer, "/zones/0/header/pipe");
    assert_string_equal(problems.kept[9].pointer, "/units");
    er_problems_release(&problems);
}

/* Of very many problems the first twenty are kept, and all are counted. */
static void test_many(void **state)
{
    (void)state;
    enum { WRONG = 5000 };
    char *text = malloc(WRONG * 2 + 200);
    assert_non_null(text);
    int used = sprintf(text, "{\"units\": \"us\", \"source\": {\"pressure\": 1}, \"zones\": [");
    for (int i = 0; i < WRONG; i++) {
        used += sprintf(text + used, "%s1", i == 0 ? "" : ",");
    }
    sprintf(text + used, "]}");
    struct er_field field;
    struct er_problems problems;
    er_problems_init(&problems);
    assert_int_equal(read_text(text, &field, &problems), ER_BAD_INPUT);
    assert_int_equal(problems.count, WRONG);
    assert_string_equal(problems.kept[0].pointer, "/zones/0");
    assert_string_equal(problems.kept[ER_PROBLEMS_KEPT - 1].pointer, "/zones/19");
    er_problems_release(&problems);
    free(text);
}

/* Control characters and very long texts of the file are shown tamed. */
static void test_shown_texts(void **state)
{
    (void)state;
    char *text = changed(good, "\"tape\": \"t\"", "\"tape\": \"\\u001b[31m\\n\"");
    struct er_field field;
    struct er_problems problems;
    er_problems_init(&problems);
    assert_int_equal(read_text(text, &field, &problems), ER_BAD_INPUT);
    assert_non_null(strstr(problems.kept[0].text, "\\x1b[31m\\n"));
    er_problems_release(&problems);
    free(text);
    char name[400] = "\"tape\": \"";
    for (size_t i = strlen(name); i < 390; i += 2) {
        memcpy(name + i, "\xc3\xa4", 3); /* a letter of two bytes */
    }
    strcat(name, "\"");
    text = changed(good, "\"tape\": \"t\"", name);
    assert_int_equal(read_text(text, &field, &problems), ER_BAD_INPUT);
    assert_non_null(strstr(problems.kept[0].text, "\xc3\xa4...\""));
    assert_true(strlen(problems.kept[0].text) < 200);
    er_problems_release(&problems);
    free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_good),     cmocka_unit_test(test_keys_and_types),
        cmocka_unit_test(test_required), cmocka_unit_test(test_ranges),
        cmocka_unit_test(test_counts),   cmocka_unit_test(test_source),
        cmocka_unit_test(test_tapes),    cmocka_unit_test(test_mainline_and_header),
        cmocka_unit_test(test_beds),     cmocka_unit_test(test_sets),
        cmocka_unit_test(test_water),    cmocka_unit_test(test_order),
        cmocka_unit_test(test_many),     cmocka_unit_test(test_shown_texts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
