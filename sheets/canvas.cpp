#include "sheets/canvas.hpp"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <fmt/format.h>
#include <pango/pangocairo.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <unordered_map>

namespace bellhole::sheets {
namespace {

constexpr const char* family = "DejaVu Sans";

cairo_status_t append(void* bytes, const unsigned char* data, unsigned length) {
  static_cast<std::string*>(bytes)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

struct Release {
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
  void operator()(cairo_t* cairo) const { cairo_destroy(cairo); }
  void operator()(cairo_pattern_t* pattern) const { cairo_pattern_destroy(pattern); }
  void operator()(cairo_font_options_t* options) const { cairo_font_options_destroy(options); }
  void operator()(PangoFontDescription* font) const { pango_font_description_free(font); }
  void operator()(PangoAttrList* list) const { pango_attr_list_unref(list); }
  void operator()(void* object) const { g_object_unref(object); }
};
template <class T>
using Owned = std::unique_ptr<T, Release>;

/// Cairo's form of a date has no fractions. What is not a date leaves the file undated, since the
/// alternative is the clock.
std::string pdf_date(const std::string& date) {
  const auto fraction = date.find('.');
  if (fraction == std::string::npos) return date.empty() ? "none" : date;
  const auto zone = date.find_first_of("Z+-", fraction);
  return date.substr(0, fraction) + (zone == std::string::npos ? "" : date.substr(zone));
}

std::string clean(const std::string& says) {
  gchar* valid = g_utf8_make_valid(says.data(), static_cast<gssize>(says.size()));
  std::string text(valid);
  g_free(valid);
  // A control character has no glyph; only the line break means something here.
  for (char& c : text) {
    if (static_cast<unsigned char>(c) < 0x20 && c != '\n') c = ' ';
  }
  return text;
}

/// Keeps ids and flags in one piece: "REG-W", "M-0124/1" and "--made" are not broken at their
/// hyphens.
void keep_ids_whole(const std::string& text, PangoAttrList* attributes) {
  constexpr std::size_t longest = 20;  // what still fits the narrowest column
  for (std::size_t begin = 0; begin < text.size();) {
    const std::size_t end = std::min(text.find_first_of(" \n", begin), text.size());
    const std::string_view word = std::string_view(text).substr(begin, end - begin);
    const bool figure = std::ranges::any_of(
        word, [](unsigned char c) { return (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9'); });
    const bool id = word.contains('-') && word.size() <= longest && (figure || word.contains("--"));
    if (id) {
      PangoAttribute* whole = pango_attr_allow_breaks_new(FALSE);
      whole->start_index = static_cast<guint>(begin);
      whole->end_index = static_cast<guint>(end);
      pango_attr_list_insert(attributes, whole);
    }
    begin = end + 1;
  }
}

/// Cairo names an SVG's group by a count of all surfaces that the program ever made; the same
/// drawing shall be the same bytes.
void name_surface(std::string& svg) {
  constexpr std::string_view before = "<g id=\"surface";
  const auto at = svg.find(before);
  if (at == std::string::npos) return;
  const auto digits = at + before.size();
  svg.erase(digits, svg.find('"', digits) - digits);
}

}  // namespace

struct Canvas::Ink {
  std::string bytes;  // before the surface, which writes to it until its end
  Owned<cairo_surface_t> surface;
  Owned<cairo_t> cairo;
  Owned<PangoContext> context;
  Owned<PangoLayout> layout;
  Owned<PangoFontDescription> font;
  std::unordered_map<std::string, double> heights;

  void lay(const Text& text, Type type, double width) {
    std::string all;
    const Owned<PangoAttrList> attributes(pango_attr_list_new());
    for (const Run& run : text.runs()) {
      const auto begin = all.size();
      all += clean(run.says);
      if (!run.bold) continue;
      PangoAttribute* heavy = pango_attr_weight_new(PANGO_WEIGHT_BOLD);
      heavy->start_index = static_cast<guint>(begin);
      heavy->end_index = static_cast<guint>(all.size());
      pango_attr_list_insert(attributes.get(), heavy);
    }
    keep_ids_whole(all, attributes.get());
    pango_font_description_set_absolute_size(font.get(), type.size * PANGO_SCALE);
    pango_layout_set_font_description(layout.get(), font.get());
    pango_layout_set_text(layout.get(), all.data(), static_cast<int>(all.size()));
    pango_layout_set_attributes(layout.get(), attributes.get());
    pango_layout_set_width(layout.get(), width < 0 ? -1 : static_cast<int>(width * PANGO_SCALE));
    pango_layout_set_alignment(layout.get(), type.align == Align::left     ? PANGO_ALIGN_LEFT
                                             : type.align == Align::centre ? PANGO_ALIGN_CENTER
                                                                           : PANGO_ALIGN_RIGHT);
  }

  [[nodiscard]] std::pair<double, double> extent() const {
    int w = 0, h = 0;
    pango_layout_get_size(layout.get(), &w, &h);
    return {static_cast<double>(w) / PANGO_SCALE, static_cast<double>(h) / PANGO_SCALE};
  }

  /// Both passes over a document, and every row of a table, ask for the same heights again.
  double height_of(const Text& text, Type type, double width) {
    std::string key = fmt::format("{} {} ", type.size, width);
    for (const Run& run : text.runs()) (key += run.bold ? '\1' : '\2') += run.says;
    const auto [known, fresh] = heights.try_emplace(std::move(key), 0.0);
    if (fresh) {
      lay(text, type, width);
      known->second = extent().second;
    }
    return known->second;
  }

  /// Gives the context, layout and font; false when the font found is not the one that the sheets
  /// use.
  bool prepare() {
    cairo.reset(cairo_create(surface.get()));
    context.reset(pango_cairo_create_context(cairo.get()));
    const Owned<cairo_font_options_t> options(cairo_font_options_create());
    cairo_font_options_set_hint_style(options.get(), CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options.get(), CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_antialias(options.get(), CAIRO_ANTIALIAS_GRAY);
    pango_cairo_context_set_font_options(context.get(), options.get());
    pango_context_set_round_glyph_positions(context.get(), FALSE);
    pango_context_set_language(context.get(), pango_language_from_string("en"));
    layout.reset(pango_layout_new(context.get()));
    pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD_CHAR);
    font.reset(pango_font_description_new());
    pango_font_description_set_family(font.get(), family);
    pango_font_description_set_absolute_size(font.get(), 11 * PANGO_SCALE);
    const Owned<PangoFont> loaded(pango_context_load_font(context.get(), font.get()));
    if (!loaded) return false;
    const Owned<PangoFontDescription> found(pango_font_describe(loaded.get()));
    const char* name = pango_font_description_get_family(found.get());
    return name != nullptr && std::string_view(name) == family;
  }
};

Canvas::Canvas(std::unique_ptr<Ink> ink) : ink_(std::move(ink)) {}
Canvas::~Canvas() = default;

Result<std::unique_ptr<Canvas>> Canvas::pdf(PaperSize paper, const Info& info) {
  auto ink = std::make_unique<Ink>();
  ink->surface.reset(cairo_pdf_surface_create_for_stream(append, &ink->bytes, paper.w, paper.h));
  cairo_surface_t* surface = ink->surface.get();
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, clean(info.title).c_str());
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_SUBJECT, clean(info.subject).c_str());
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE,
                                 pdf_date(info.date).c_str());
  if (!ink->prepare()) {
    return trouble(Code::unreadable_file, family, "font not found",
                   "install the DejaVu fonts (Debian: fonts-dejavu-core)");
  }
  return std::unique_ptr<Canvas>(new Canvas(std::move(ink)));
}

Result<std::unique_ptr<Canvas>> Canvas::svg(PaperSize paper) {
  auto ink = std::make_unique<Ink>();
  ink->surface.reset(cairo_svg_surface_create_for_stream(append, &ink->bytes, paper.w, paper.h));
  if (!ink->prepare()) {
    return trouble(Code::unreadable_file, family, "font not found",
                   "install the DejaVu fonts (Debian: fonts-dejavu-core)");
  }
  return std::unique_ptr<Canvas>(new Canvas(std::move(ink)));
}

void Canvas::end_page() {
  if (!dry()) cairo_show_page(ink_->cairo.get());
}

Result<std::string> Canvas::finish() {
  const cairo_status_t drawn = cairo_status(ink_->cairo.get());
  cairo_surface_finish(ink_->surface.get());
  const cairo_status_t written = cairo_surface_status(ink_->surface.get());
  for (const cairo_status_t status : {drawn, written}) {
    if (status != CAIRO_STATUS_SUCCESS) {
      return trouble(Code::bug, "sheets/canvas", cairo_status_to_string(status),
                     "report it with the reply");
    }
  }
  if (cairo_surface_get_type(ink_->surface.get()) == CAIRO_SURFACE_TYPE_SVG)
    name_surface(ink_->bytes);
  return std::move(ink_->bytes);
}

double Canvas::text(Point upper_left, double width, const Text& text, Type type) {
  if (dry()) return ink_->height_of(text, type, width);
  ink_->lay(text, type, width);
  const double tone = type.white ? 1 : 0;
  cairo_set_source_rgb(ink_->cairo.get(), tone, tone, tone);
  cairo_move_to(ink_->cairo.get(), upper_left.x, upper_left.y);
  pango_cairo_show_layout(ink_->cairo.get(), ink_->layout.get());
  return ink_->extent().second;
}

double Canvas::height(double width, const Text& text, Type type) const {
  return ink_->height_of(text, type, width);
}

double Canvas::width(const Text& text, Type type) const {
  ink_->lay(text, type, -1);
  return ink_->extent().first;
}

std::pair<Text, Text> Canvas::split(double width, const Text& text, Type type,
                                    double height) const {
  ink_->lay(text, type, width);
  if (ink_->extent().second <= height) return {text, {}};
  double used = 0;
  std::size_t cut = 0;
  for (int i = 0; i < pango_layout_get_line_count(ink_->layout.get()); ++i) {
    PangoLayoutLine* line = pango_layout_get_line_readonly(ink_->layout.get(), i);
    PangoRectangle logical;
    pango_layout_line_get_extents(line, nullptr, &logical);
    used += static_cast<double>(logical.height) / PANGO_SCALE;
    if (used > height) break;
    cut = static_cast<std::size_t>(line->start_index + line->length);
  }
  Text head, tail;
  std::size_t at = 0;
  for (const Run& run : text.runs()) {
    const std::string says = clean(run.says);
    const std::size_t here = std::clamp(cut, at, at + says.size()) - at;
    head += Text(Run{says.substr(0, here), run.bold});
    std::string rest = says.substr(here);
    if (tail.empty()) rest.erase(0, std::min(rest.find_first_not_of(" \n"), rest.size()));
    tail += Text(Run{std::move(rest), run.bold});
    at += says.size();
  }
  return {head, tail};
}

void Canvas::label(Point centre, double angle, const Text& text, Type type, bool knock_out) {
  if (dry()) return;
  ink_->lay(text, type, -1);
  const auto [w, h] = ink_->extent();
  cairo_t* cairo = ink_->cairo.get();
  cairo_save(cairo);
  cairo_translate(cairo, centre.x, centre.y);
  cairo_rotate(cairo, angle);
  if (knock_out) {
    cairo_set_source_rgb(cairo, 1, 1, 1);
    cairo_rectangle(cairo, -w / 2 - 1.5, -h / 2, w + 3, h);
    cairo_fill(cairo);
  }
  const double tone = type.white ? 1 : 0;
  cairo_set_source_rgb(cairo, tone, tone, tone);
  cairo_move_to(cairo, -w / 2, -h / 2);
  pango_cairo_show_layout(cairo, ink_->layout.get());
  cairo_restore(cairo);
}

void Canvas::trace(std::span<const Point> points, bool closed) {
  cairo_t* cairo = ink_->cairo.get();
  cairo_new_path(cairo);
  for (const Point& point : points) cairo_line_to(cairo, point.x, point.y);
  if (closed) cairo_close_path(cairo);
}

void Canvas::fill_and_stroke(Fill fill, const Stroke& stroke) {
  cairo_t* cairo = ink_->cairo.get();
  if (fill == Fill::black || fill == Fill::white) {
    const double tone = fill == Fill::white ? 1 : 0;
    cairo_set_source_rgb(cairo, tone, tone, tone);
    cairo_fill_preserve(cairo);
  } else if (fill == Fill::hatch) {
    double x0 = 0, y0 = 0, x1 = 0, y1 = 0;
    cairo_path_extents(cairo, &x0, &y0, &x1, &y1);
    cairo_path_t* outline = cairo_copy_path(cairo);
    cairo_save(cairo);
    cairo_clip(cairo);
    cairo_set_source_rgb(cairo, 0, 0, 0);
    cairo_set_line_width(cairo, 0.6);
    const double rise = y1 - y0;
    for (double x = x0 - rise; x < x1; x += 3.2) {
      cairo_move_to(cairo, x, y1);
      cairo_line_to(cairo, x + rise, y0);
    }
    cairo_stroke(cairo);
    cairo_restore(cairo);
    cairo_new_path(cairo);
    cairo_append_path(cairo, outline);
    cairo_path_destroy(outline);
  }
  if (stroke.width > 0) {
    const double tone = stroke.white ? 1 : 0;
    cairo_set_source_rgb(cairo, tone, tone, tone);
    cairo_set_line_width(cairo, stroke.width);
    cairo_set_line_join(cairo, CAIRO_LINE_JOIN_ROUND);
    cairo_set_dash(cairo, stroke.dash.data(), static_cast<int>(stroke.dash.size()), 0);
    cairo_stroke_preserve(cairo);
  }
  cairo_new_path(cairo);
}

void Canvas::line(Point a, Point b, Stroke stroke) {
  const Point points[] = {a, b};
  polyline(points, stroke);
}

void Canvas::polyline(std::span<const Point> points, Stroke stroke) {
  if (dry() || points.size() < 2) return;
  trace(points, false);
  fill_and_stroke(Fill::none, stroke);
}

void Canvas::polygon(std::span<const Point> points, Fill fill, Stroke stroke) {
  if (dry() || points.size() < 3) return;
  trace(points, true);
  fill_and_stroke(fill, stroke);
}

void Canvas::box(const Box& box, Fill fill, Stroke stroke) {
  const Point corners[] = {
      {box.x, box.y}, {box.right(), box.y}, {box.right(), box.bottom()}, {box.x, box.bottom()}};
  polygon(corners, fill, stroke);
}

void Canvas::circle(Point centre, double radius, Fill fill, Stroke stroke) {
  if (dry()) return;
  cairo_new_path(ink_->cairo.get());
  cairo_arc(ink_->cairo.get(), centre.x, centre.y, radius, 0, 2 * std::numbers::pi);
  fill_and_stroke(fill, stroke);
}

Canvas::Clip::Clip(Canvas& canvas, const Box& box) : canvas_(canvas) {
  cairo_t* cairo = canvas_.ink_->cairo.get();
  cairo_save(cairo);
  cairo_rectangle(cairo, box.x, box.y, box.w, box.h);
  cairo_clip(cairo);
}

Canvas::Clip::~Clip() { cairo_restore(canvas_.ink_->cairo.get()); }

}  // namespace bellhole::sheets
