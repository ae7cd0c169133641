#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <nlohmann/json.hpp>

#include "sheets/amounts.hpp"
#include "sheets/parts.hpp"
#include "sheets/run_parts.hpp"

namespace bellhole::sheets {
namespace {

/// "from GATE-1 through REG-W, backwards through REG-E"
Text feed_words(const Reply& feed) {
  Text says = "from " + feed.text("source");
  if (const auto through = feed.texts("regulators"); !through.empty())
    says += " through " + listed(through);
  if (const auto backwards = feed.texts("backwards"); !backwards.empty())
    says += bold(", backwards through " + listed(backwards));
  return says;
}

/// Which sides of the work gas comes from, and how: the place is not off while one of them is open.
Text feeds_words(const Reply& reply) {
  const Reply feeds = reply.at("feeds");
  if (!feeds) return {};
  Text says = bold("Fed from " + counted(static_cast<std::size_t>(std::clamp(
                                             feeds.number("fed_sides").value_or(0), 0.0, 1e6)),
                                         "side", "sides"));
  std::string_view before = ": ";
  for (const Reply& side : feeds.list("sides")) {
    const auto ways = side.list("feeds");
    if (ways.empty()) continue;
    says += std::string(before) + "at " + side.text("toward") + " ";
    for (std::size_t i = 0; i < ways.size(); ++i)
      says += (i == 0 ? Text() : Text(" and ")) + feed_words(ways[i]);
    before = "; ";
  }
  return says;
}

std::string title_words(const RunJob& job) {
  if (!job.plan) return "No shut-off plan was found";
  return emergency(job) ? "Run sheet: emergency shut-off" : "Run sheet: planned shut-off";
}

/// Down to which outside air the rest of the network holds.
Text air_limit(const RunJob& job) {
  if (const auto least = job.plan.number("limit_temperature_k"))
    return bold("the outside air stays above " +
                print(amounts::start_above, least, job.options.system));
  const std::string says = job.plan.text("limit_temperature_says");
  return bold(says.empty() ? "outside air: no limit set: decide" : paper_units(says));
}

std::vector<Text> pressure_limits(const RunJob& job) {
  const auto system = job.options.system;
  std::vector<Text> limits;
  const auto add = [&](const Reply& at, std::string_view crosses, const auto& allowed,
                       const auto& expected) {
    if (!at) return;
    const auto bound = at.number("limit_pa_gauge");
    const std::string where =
        at.has("customer") ? "customer " + at.text("customer") : at.text("node");
    const std::string tier = at.has("tier") ? " (" + at.text("tier") + " tier) " : " ";
    const std::string limit = bound ? print(allowed, bound, system) : "– no limit set: decide";
    limits.push_back("pressure at " + where + tier + bold(fmt::format("{} {}", crosses, limit)) +
                     "; expected " + print(expected, at.number("pa_gauge"), system));
  };
  add(job.plan.at("lowest_pressure"), "falls below", amounts::least_allowed, amounts::lowest);
  add(job.plan.at("highest_pressure"), "rises above", amounts::most_allowed, amounts::highest);
  if (limits.empty()) limits.push_back(bold("pressures of the network are not known: decide"));
  return limits;
}

double draw_limit_column(Canvas& canvas, const Box& at, const std::string& head,
                         const std::vector<Text>& limits) {
  double y = at.y + canvas.text({at.x, at.y}, at.w, bold(head), {size::heading}) + 2;
  for (const Text& limit : limits) y += canvas.text({at.x, y}, at.w, limit, body_type) + 2;
  return y - at.y;
}

/// One text for all of a kind that the map says the same of.
std::vector<Text> equipment_words(const std::vector<Reply>& equipment, units::System system) {
  struct Alike {
    std::string kind, says;
    std::vector<std::string> ids;
  };
  std::vector<Alike> all;
  for (const Reply& item : equipment) {
    std::string id = item.text("id");
    if (item.has("pipe"))
      id += " (" + place_on(item.text("pipe"), item.number("station_m"), system) + ")";
    const auto same = std::ranges::find_if(all, [&](const Alike& other) {
      return other.kind == item.text("kind") && other.says == item.text("says");
    });
    if (same == all.end())
      all.push_back({item.text("kind"), item.text("says"), {id}});
    else
      same->ids.push_back(id);
  }
  std::vector<Text> words;
  for (Alike& alike : all) {
    std::ranges::replace(alike.kind, '_', ' ');
    words.push_back(bold(capital(alike.kind) + " ") + listed(alike.ids) +
                    (alike.says.empty() ? "" : ": " + alike.says));
  }
  return words;
}

}  // namespace

std::string degrees(const Reply& place) {
  const auto lon = place.number("lon"), lat = place.number("lat");
  if (!lon || !lat) return {};
  return fmt::format("{:.5f}° {}, {:.5f}° {}", std::abs(*lat), *lat < 0 ? "S" : "N", std::abs(*lon),
                     *lon < 0 ? "W" : "E");
}

std::string place_on(const std::string& pipe, std::optional<double> station_m,
                     units::System system) {
  return pipe + " at " + print(amounts::place, station_m, system);
}

std::string order_words(const Reply& shutoff, units::System system) {
  const std::string kind = shutoff.text("kind"), pipe = shutoff.text("pipe"),
                    street = shutoff.text("street");
  const bool on_main = !pipe.empty() && shutoff.has("station_m");
  if (!on_main || (kind != "squeeze" && kind != "valve")) return capital(shutoff.text("says"));
  return (kind == "squeeze" ? "Squeeze " : "Shut valve " + shutoff.text("element") + " on ") +
         place_on(pipe, shutoff.number("station_m"), system) +
         (street.empty() ? "" : ", " + street);
}

bool emergency(const RunJob& job) { return job.reply.text("kind") == "emergency"; }

std::string work_words(const RunJob& job) {
  const Reply work = job.reply.at("work");
  const std::string pipe = work.text("pipe"), street = work.text("street");
  const auto from = work.number("from_station_m"), to = work.number("to_station_m");
  if (pipe.empty() || !from) return work.text("says");
  std::string words = "main " + place_on(pipe, from, job.options.system);
  if (to && *to != *from) words += " to " + print(amounts::place, to, job.options.system);
  return words + (street.empty() ? "" : ", " + street);
}

std::string material_words(std::string material) {
  if (material == "pe" || material == "pvc")
    std::ranges::transform(material, material.begin(),
                           [](unsigned char c) { return std::toupper(c); });
  if (material == "unknown" || material.empty()) return "material not known";
  std::ranges::replace(material, '_', ' ');
  return material;
}

std::string pipe_words(const Reply& pipe) {
  std::string words = pipe.text("size");
  if (words.empty()) words = "size not known";
  const auto ratio = pipe.number("ratio");
  const bool metric = words.starts_with("dn");
  if (ratio) words += fmt::format(" {} {}", metric ? "SDR" : "DR", *ratio);
  const std::string grade = pipe.text("grade");
  words += " " + (grade.empty() ? material_words(pipe.text("material")) : grade);
  if (const auto year = pipe.number("year"); year && *year > 0)
    words += fmt::format(", laid {:.0f}", *year);
  return words;
}

double draw_title(Canvas& canvas, const Box& at, const RunJob& job) {
  constexpr double code = 74;
  const auto system = job.options.system;
  const Reply work = job.reply.need("work");
  const std::string id = job.reply.need_text("plan_id");
  const double width = at.w - code - 10;
  double y = at.y + canvas.text({at.x, at.y - 2}, width, bold(title_words(job)), {size::title});
  y += canvas.text({at.x, y}, width, bold(work_words(job)), {13.0});
  std::vector<std::string> facts{pipe_words(work)};
  if (work.has("tier")) facts.push_back(work.text("tier") + " tier");
  if (work.has("pressure_pa_gauge"))
    facts.push_back("at " + print(amounts::pressure, work.number("pressure_pa_gauge"), system));
  if (work.has("maop_pa_gauge"))
    facts.push_back("MAOP " + print(amounts::most_allowed, work.number("maop_pa_gauge"), system));
  facts.push_back(degrees(work));
  y += 1 + canvas.text({at.x, y + 1}, width, joined(facts, " · "), body_type);
  if (const Text feeds = feeds_words(job.reply); !feeds.empty())
    y += 1 + canvas.text({at.x, y + 1}, width, feeds, table_type);
  const Box corner{at.right() - code, at.y - 6, code, code};
  const bool coded = qr(canvas, corner, "bellhole plan " + id);
  canvas.text({corner.x - 12, coded ? corner.bottom() - 3 : at.y}, code + 24, bold(short_id(id)),
              {size::fine, Align::centre});
  return std::max(y, corner.bottom() + 9) - at.y;
}

double draw_limits(Canvas& canvas, const Box& at, const RunJob& job) {
  constexpr double pad = 6;
  const double left = (at.w - 3 * pad) * 0.34, right = at.w - 3 * pad - left;
  const double a = draw_limit_column(canvas, {at.x + pad, at.y + pad, left, 0},
                                     emergency(job) ? "The rest holds only if" : "Start only if",
                                     {air_limit(job)});
  const double b = draw_limit_column(
      canvas, {at.x + 2 * pad + left, at.y + pad, right, 0},
      emergency(job) ? "Tell gas control at once if" : "Break off and put back if",
      pressure_limits(job));
  const double height = std::max(a, b) + 2 * pad - 2;
  canvas.box({at.x, at.y, at.w, height}, Fill::none, {1.2});
  const double middle = at.x + pad * 1.5 + left;
  canvas.line({middle, at.y}, {middle, at.y + height}, {0.7});
  return height;
}

double draw_equipment(Canvas& canvas, const Box& at, const RunJob& job) {
  constexpr double pad = 6;
  const auto system = job.options.system;
  const Reply isolated = job.plan.at("isolated");
  const auto equipment = isolated.list("equipment");
  const double width = at.w - 2 * pad;
  double y = at.y + pad - 2;
  y +=
      canvas.text({at.x + pad, y}, width, bold("Equipment on the isolated part"), {size::heading}) +
      1;
  std::vector<std::string> facts;
  if (isolated.has("length_m"))
    facts.push_back(print(amounts::stretch, isolated.number("length_m"), system) + " of main");
  if (isolated.has("volume_m3"))
    facts.push_back(print(amounts::volume, isolated.number("volume_m3"), system) + " of pipe");
  if (isolated.has("gas_held_std_m3"))
    facts.push_back("holding " +
                    print(amounts::line_pack, isolated.number("gas_held_std_m3"), system) +
                    " of gas");
  if (!facts.empty())
    y += canvas.text({at.x + pad, y}, width, "The isolated part: " + joined(facts, ", ") + ".",
                     fine_type) +
         2;
  if (equipment.empty()) {
    y += canvas.text({at.x + pad, y}, width,
                     "None on the map. Look for regulators, sensing taps and control lines before "
                     "the first shut-off.",
                     body_type);
  }
  for (const Text& says : equipment_words(equipment, system))
    y += draw_tick(canvas, {at.x + pad, y, width, 0}, says, body_type);
  const double height = y - at.y + pad;
  canvas.box({at.x, at.y, at.w, height}, Fill::none, {equipment.empty() ? 0.8 : 2.0});
  return height;
}

}  // namespace bellhole::sheets
