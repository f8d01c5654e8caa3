/* Shapes and texts written as SVG, each text only where the board of taken places has room. */
#include "draw/svg.h"

#include <math.h>
#include <string.h>

struct er_taken {
    struct er_taken *next;
    struct er_box box;
};

#define ABOVE 1.15 /* of the em, over the baseline: what typefaces claim at most, or nearly so */
#define BELOW 0.35
#define ELLIPSIS "..."
#define FAR_OUT 1e6 /* px */

/* f1 to f7, from little flow to much: made here, from ice to indigo in OKLab. Lightness falls from
 * 0.95 by 0.1 a step, hue turns from 200 to 275 degrees by 12.5, chroma rises from 0.03 to 0.13.
 * The lightness tells them apart whatever colors one sees, and in gray print (test_shades.c works
 * it out). f0 and dry are hatched, so that no printer loses them. */
static const char style[] =
    "<style>\n"
    "text{font-family:'DejaVu Sans',Verdana,Helvetica,Arial,sans-serif;fill:#111}\n"
    ".paper{fill:#fff}.frame{fill:none;stroke:#555}.grid{stroke:#ddd}.axis{stroke:#333}\n"
    ".curve{fill:none;stroke:#111;stroke-width:3}\n"
    ".main{fill:none;stroke:#111;stroke-width:5}.gap{fill:none;stroke:#fff;stroke-width:6}\n"
    ".way{fill:none;stroke:#111;stroke-width:1.5}.header{stroke:#111;stroke-width:3.5}\n"
    ".mark{fill:#fff;stroke:#111;stroke-width:2}.dot{fill:#111}.arrow{fill:#111;stroke:#111;"
    "stroke-width:1.5}\n"
    ".halo{fill:#fff;fill-opacity:.9}.band{fill:#eee}\n"
    ".low{fill:none;stroke:#af2b25;stroke-width:2.5}\n"
    ".high{fill:none;stroke:#111;stroke-width:2;stroke-dasharray:7 4}\n"
    ".limit{fill:none;stroke:#555;stroke-width:1.5;stroke-dasharray:2 3}\n"
    ".bar{fill:#9dd9e6;stroke:#111;stroke-width:.7}\n"
    ".over{fill:url(#hatch);stroke:#111;stroke-width:.7}\n"
    ".beds rect{stroke:#555;stroke-width:.25}.swatch{stroke:#555}\n"
    ".f0{fill:url(#hatch)}.f1{fill:#d8f5f6}.f2{fill:#9dd9e6}.f3{fill:#67bbdb}.f4{fill:#3c99cd}\n"
    ".f5{fill:#2975ba}.f6{fill:#2a519f}.f7{fill:#2a2e7d}.dry{fill:url(#cross)}\n"
    "</style>\n";

static const char patterns[] =
    "<defs>\n"
    "<pattern id=\"hatch\" width=\"4\" height=\"4\" patternUnits=\"userSpaceOnUse\">"
    "<rect width=\"4\" height=\"4\" fill=\"#d8f5f6\"/>"
    "<path d=\"M-1 5L5 -1\" stroke=\"#111\" stroke-width=\".8\"/></pattern>\n"
    "<pattern id=\"cross\" width=\"4\" height=\"4\" patternUnits=\"userSpaceOnUse\">"
    "<rect width=\"4\" height=\"4\" fill=\"#fff\"/>"
    "<path d=\"M0 0L4 4M0 4L4 0\" stroke=\"#111\" stroke-width=\".9\"/></pattern>\n"
    "</defs>\n";

double er_svg_line_height(double size) { return (ABOVE + BELOW) * size; }

/* A number with two decimals at most. Whatever a field holds, what is written can be drawn: far
 * out of the picture is far enough, and what is no number stands at its edge. */
static void append_px(struct er_text *out, double value)
{
    value = isnan(value) ? 0.0 : fmax(-FAR_OUT, fmin(FAR_OUT, value));
    struct er_text number;
    er_text_init(&number);
    er_text_appendf(&number, "%.2f", value);
    size_t length = number.length;
    while (length > 1 && number.data[length - 1] == '0') {
        length--;
    }
    if (length > 1 && number.data[length - 1] == '.') {
        length--;
    }
    bool minus_nothing = length == 2 && number.data[0] == '-' && number.data[1] == '0';
    er_text_append_bytes(out, minus_nothing ? "0" : er_text_string(&number),
                         minus_nothing ? 1 : length);
    out->out_of_memory = out->out_of_memory || number.out_of_memory;
    er_text_release(&number);
}

/* name="value" */
static void append_attribute(struct er_svg *svg, const char *name, double value)
{
    er_text_appendf(svg->out, " %s=\"", name);
    append_px(svg->out, value);
    er_text_append(svg->out, "\"");
}

static void append_class(struct er_svg *svg, const char *class_name)
{
    if (class_name != NULL) {
        er_text_appendf(svg->out, " class=\"%s\"", class_name);
    }
}

/* U+FFFE and U+FFFF are valid UTF-8 and no characters of XML 1.0 (section 2.2). */
static bool is_no_xml(const char *bytes)
{
    return memcmp(bytes, "\xEF\xBF\xBE", 3) == 0 || memcmp(bytes, "\xEF\xBF\xBF", 3) == 0;
}

/* A text without control characters, as XML wants it. */
static void append_escaped(struct er_text *out, const char *text)
{
    while (*text != '\0') {
        size_t plain = strcspn(text, "<>&\"\xEF");
        er_text_append_bytes(out, text, plain);
        text += plain;
        if (*text == '\xEF' && strlen(text) >= 3) {
            er_text_append_bytes(out, is_no_xml(text) ? "\xEF\xBF\xBD" : text, 3);
            text += 3;
        } else if (*text != '\0') {
            const char *entity = *text == '<'   ? "&lt;"
                                 : *text == '>' ? "&gt;"
                                 : *text == '&' ? "&amp;"
                                                : "&quot;";
            er_text_append(out, entity);
            text++;
        }
    }
}

/* Makes `shown` the text without what plays tricks. Returns whether there was memory. */
static bool make_visible(struct er_text *shown, const char *text)
{
    er_text_init(shown);
    er_text_append_visible(shown, text);
    return !shown->out_of_memory;
}

/* ---- the board ---- */

void er_svg_keep_free(struct er_svg *svg, const struct er_box *box)
{
    struct er_taken *taken = er_arena_array(&svg->arena, 1, sizeof *taken);
    if (taken == NULL) {
        svg->out->out_of_memory = true;
        return;
    }
    *taken = (struct er_taken){svg->taken, *box};
    svg->taken = taken;
}

bool er_svg_is_free(const struct er_svg *svg, const struct er_box *box)
{
    if (box->left < 0.0 || box->top < 0.0 || box->right > svg->width || box->bottom > svg->height) {
        return false;
    }
    for (const struct er_taken *taken = svg->taken; taken != NULL; taken = taken->next) {
        if (box->left < taken->box.right && taken->box.left < box->right &&
            box->top < taken->box.bottom && taken->box.top < box->bottom) {
            return false;
        }
    }
    return true;
}

/* ---- texts ---- */

/* Width of a character in hundredths of the em, from the letters of a wide typeface for
 * screens, rounded up (measured, no source); beyond ASCII as wide as it may be. */
static double character_width(unsigned long character)
{
    static const char narrow[] = " .,:;'!|ijl()[]{}/\\-ftrI\"`";
    static const char broad[] = "mwMW%@+=<>~#&OQGDNHUCK";
    if (character > 126) {
        return character < 0x250 ? 0.85 : 1.4;
    }
    if (strchr(narrow, (int)character) != NULL) {
        return character == '"' || character == '`' ? 0.55 : 0.44;
    }
    if (strchr(broad, (int)character) != NULL) {
        return strchr("mMW%@", (int)character) != NULL ? 1.0 : 0.86;
    }
    return character >= 'A' && character <= 'Z' ? 0.74 : 0.66;
}

static double visible_width(const char *text, const struct er_lettering *how)
{
    double ems = 0.0;
    size_t left = strlen(text);
    while (left > 0) {
        unsigned long character = 0;
        size_t bytes = er_utf8_character(text, left, &character);
        bytes = bytes > 0 ? bytes : 1;
        ems += character_width(character);
        text += bytes;
        left -= bytes;
    }
    return ems * how->size * (how->bold ? 1.12 : 1.0);
}

double er_svg_text_width(struct er_svg *svg, const char *text, const struct er_lettering *how)
{
    struct er_text shown;
    double width = make_visible(&shown, text) ? visible_width(er_text_string(&shown), how) : 0.0;
    svg->out->out_of_memory = svg->out->out_of_memory || shown.out_of_memory;
    er_text_release(&shown);
    return width;
}

static struct er_box box_of(double x, double y, double width, const struct er_lettering *how)
{
    double left = x;
    if (how->anchor == ER_MIDDLE) {
        left = x - 0.5 * width;
    } else if (how->anchor == ER_END) {
        left = x - width;
    }
    return (struct er_box){left, y - ABOVE * how->size, left + width, y + BELOW * how->size};
}

struct er_box er_svg_text_box(struct er_svg *svg, double x, double y, const char *text,
                              const struct er_lettering *how)
{
    return box_of(x, y, er_svg_text_width(svg, text, how), how);
}

/* Draws a text whose characters are all visible. */
static bool draw_visible(struct er_svg *svg, double x, double y, const char *text,
                         const struct er_lettering *how)
{
    static const char *const anchors[] = {"", " text-anchor=\"middle\"", " text-anchor=\"end\""};
    struct er_box box = box_of(x, y, visible_width(text, how), how);
    if (text[0] == '\0' || !er_svg_is_free(svg, &box)) {
        return false;
    }
    er_svg_keep_free(svg, &box);
    er_text_append(svg->out, "<text");
    append_attribute(svg, "x", x);
    append_attribute(svg, "y", y);
    append_attribute(svg, "font-size", how->size);
    er_text_appendf(svg->out, "%s%s>", how->bold ? " font-weight=\"bold\"" : "",
                    anchors[how->anchor]);
    append_escaped(svg->out, text);
    er_text_append(svg->out, "</text>\n");
    return true;
}

bool er_svg_label(struct er_svg *svg, double x, double y, const char *text,
                  const struct er_lettering *how)
{
    struct er_text shown;
    bool drawn = make_visible(&shown, text) && draw_visible(svg, x, y, er_text_string(&shown), how);
    svg->out->out_of_memory = svg->out->out_of_memory || shown.out_of_memory;
    er_text_release(&shown);
    return drawn;
}

/* Takes characters off the end of `text` until it fits with the ellipsis. */
static void cut_to(struct er_text *text, double room, const struct er_lettering *how)
{
    if (visible_width(er_text_string(text), how) <= room) {
        return;
    }
    double rest = room - visible_width(ELLIPSIS, how);
    while (text->length > 0 && visible_width(er_text_string(text), how) > rest) {
        do {
            text->length--;
        } while (text->length > 0 && ((unsigned char)text->data[text->length] & 0xC0U) == 0x80U);
        text->data[text->length] = '\0';
    }
    er_text_append(text, ELLIPSIS);
}

bool er_svg_label_fitted(struct er_svg *svg, double x, double y, const char *text, double room,
                         const struct er_lettering *how)
{
    struct er_text shown;
    bool drawn = false;
    if (make_visible(&shown, text)) {
        cut_to(&shown, room, how);
        drawn = draw_visible(svg, x, y, er_text_string(&shown), how);
    }
    svg->out->out_of_memory = svg->out->out_of_memory || shown.out_of_memory;
    er_text_release(&shown);
    return drawn;
}

/* Moves the words that fit into `room` from *rest into `line`. */
static void take_line(struct er_text *line, const char **rest, double room,
                      const struct er_lettering *how)
{
    er_text_clear(line);
    while (**rest != '\0') {
        size_t word = strcspn(*rest, " ");
        size_t before = line->length;
        er_text_append(line, before > 0 ? " " : "");
        er_text_append_bytes(line, *rest, word);
        if (line->out_of_memory) {
            return;
        }
        if (before > 0 && visible_width(er_text_string(line), how) > room) {
            line->length = before;
            line->data[before] = '\0';
            return;
        }
        *rest += word + strspn(*rest + word, " ");
    }
}

double er_svg_paragraph(struct er_svg *svg, double x, double y, const char *text, double room,
                        size_t lines, const struct er_lettering *how)
{
    struct er_text shown, line;
    er_text_init(&line);
    const char *rest = make_visible(&shown, text) ? er_text_string(&shown) : "";
    for (size_t i = 0; i < lines && *rest != '\0' && !line.out_of_memory; i++) {
        const char *start = rest;
        take_line(&line, &rest, room, how);
        bool cut = i + 1 == lines && *rest != '\0';
        er_svg_label_fitted(svg, x, y, cut ? start : er_text_string(&line), room, how);
        y += er_svg_line_height(how->size);
    }
    svg->out->out_of_memory = svg->out->out_of_memory || shown.out_of_memory || line.out_of_memory;
    er_text_release(&line);
    er_text_release(&shown);
    return y;
}

/* ---- shapes ---- */

void er_svg_begin(struct er_svg *svg, struct er_text *out, double width, double height,
                  const char *title)
{
    struct er_text shown;
    *svg = (struct er_svg){.out = out, .width = width, .height = height};
    make_visible(&shown, title);
    er_text_append(out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                        "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\"");
    append_attribute(svg, "width", width);
    append_attribute(svg, "height", height);
    er_text_append(out, " viewBox=\"0 0 ");
    append_px(out, width);
    er_text_append(out, " ");
    append_px(out, height);
    er_text_append(out, "\">\n<title>");
    append_escaped(out, er_text_string(&shown));
    er_text_append(out, "</title>\n");
    er_text_append(out, patterns);
    er_text_append(out, style);
    er_svg_rect(svg, 0.0, 0.0, width, height, "paper");
    out->out_of_memory = out->out_of_memory || shown.out_of_memory;
    er_text_release(&shown);
}

void er_svg_end(struct er_svg *svg)
{
    er_text_append(svg->out, "</svg>\n");
    er_arena_release(&svg->arena);
    svg->taken = NULL;
}

void er_svg_open(struct er_svg *svg, const char *class_name)
{
    er_text_appendf(svg->out, "<g class=\"%s\">\n", class_name);
}

void er_svg_close(struct er_svg *svg) { er_text_append(svg->out, "</g>\n"); }

void er_svg_rect(struct er_svg *svg, double x, double y, double width, double height,
                 const char *class_name)
{
    er_text_append(svg->out, "<rect");
    append_attribute(svg, "x", x);
    append_attribute(svg, "y", y);
    append_attribute(svg, "width", fmax(width, 0.0));
    append_attribute(svg, "height", fmax(height, 0.0));
    append_class(svg, class_name);
    er_text_append(svg->out, "/>\n");
}

void er_svg_line(struct er_svg *svg, double x1, double y1, double x2, double y2,
                 const char *class_name)
{
    er_text_append(svg->out, "<line");
    append_attribute(svg, "x1", x1);
    append_attribute(svg, "y1", y1);
    append_attribute(svg, "x2", x2);
    append_attribute(svg, "y2", y2);
    append_class(svg, class_name);
    er_text_append(svg->out, "/>\n");
}

void er_svg_circle(struct er_svg *svg, double x, double y, double radius, const char *class_name)
{
    er_text_append(svg->out, "<circle");
    append_attribute(svg, "cx", x);
    append_attribute(svg, "cy", y);
    append_attribute(svg, "r", radius);
    append_class(svg, class_name);
    er_text_append(svg->out, "/>\n");
}

void er_svg_path_begin(struct er_svg *svg, const char *class_name)
{
    er_text_append(svg->out, "<path");
    append_class(svg, class_name);
    er_text_append(svg->out, " d=\"");
}

void er_svg_path_to(struct er_svg *svg, bool first, double x, double y)
{
    er_text_append(svg->out, first ? "M" : "L");
    append_px(svg->out, x);
    er_text_append(svg->out, " ");
    append_px(svg->out, y);
}

void er_svg_path_end(struct er_svg *svg, bool closed)
{
    er_text_append(svg->out, closed ? "Z\"/>\n" : "\"/>\n");
}

void er_svg_arrow(struct er_svg *svg, double x1, double y1, double x2, double y2)
{
    double length = hypot(x2 - x1, y2 - y1);
    if (!(length > 0.0)) {
        return;
    }
    double x = (x2 - x1) / length, y = (y2 - y1) / length;
    er_svg_line(svg, x1, y1, x2 - 5.0 * x, y2 - 5.0 * y, "arrow");
    er_svg_path_begin(svg, "dot");
    er_svg_path_to(svg, true, x2, y2);
    er_svg_path_to(svg, false, x2 - 8.0 * x - 4.0 * y, y2 - 8.0 * y + 4.0 * x);
    er_svg_path_to(svg, false, x2 - 8.0 * x + 4.0 * y, y2 - 8.0 * y - 4.0 * x);
    er_svg_path_end(svg, true);
}
