#include "maps/mapping_fields.hpp"

#include <algorithm>
#include <array>
#include <span>
#include <utility>

#include "units/parse.hpp"

namespace bellhole::maps {
namespace {

constexpr std::array mains = std::to_array<std::string_view>(
    {"id",     "tier",      "code",   "material", "grade",     "size",   "ratio",   "bore",
     "wall",   "roughness", "length", "year",     "inserted",  "cased",  "layered", "lined",
     "street", "surface",   "depth",  "two_way",  "from_node", "to_node"});
constexpr std::array nodes = std::to_array<std::string_view>({"id", "tier", "elevation"});
constexpr std::array valves = std::to_array<std::string_view>(
    {"id", "pipe", "station", "position", "normal", "last_operated", "operable", "reachable"});
constexpr std::array regulators = std::to_array<std::string_view>(
    {"id", "station_name", "inlet_tier", "outlet_tier", "inlet_node", "outlet_node", "sensing",
     "tap_pipe", "tap_station", "set_point", "capacity", "least_inlet", "lock_up", "relief",
     "blocks_reverse", "needs_reset"});
constexpr std::array taps = std::to_array<std::string_view>({"regulator", "pipe", "station"});
constexpr std::array sources =
    std::to_array<std::string_view>({"id", "node", "tier", "pressure", "capacity"});
constexpr std::array customers = std::to_array<std::string_view>(
    {"id", "pipe", "station", "class", "shape", "base", "slope", "least", "must_not_lose",
     "why_not", "street", "excess_flow_valve"});
constexpr std::array features = std::to_array<std::string_view>(
    {"id", "kind", "pipe", "station", "begin", "end", "length", "says"});
constexpr std::array fixed_points = std::to_array<std::string_view>({"id", "says"});
constexpr std::array backdrop = std::to_array<std::string_view>({"kind", "says"});
constexpr std::array notes =
    std::to_array<std::string_view>({"rule", "element", "says", "assumed"});
constexpr std::array code_fields =
    std::to_array<std::string_view>({"material", "grade", "size", "ratio", "bore", "wall",
                                     "roughness", "inserted", "cased", "layered", "lined"});

using Kind = std::pair<std::string_view, std::span<const std::string_view>>;
const std::array kinds_of_elements = {
    Kind{"mains", mains},           Kind{"nodes", nodes},       Kind{"valves", valves},
    Kind{"regulators", regulators}, Kind{"taps", taps},         Kind{"sources", sources},
    Kind{"customers", customers},   Kind{"features", features}, Kind{"fixed_points", fixed_points},
    Kind{"backdrop", backdrop},     Kind{"notes", notes}};

std::span<const std::string_view> fields_of(std::string_view kind) {
  const auto found = std::ranges::find(kinds_of_elements, kind, &Kind::first);
  return found == kinds_of_elements.end() ? std::span<const std::string_view>() : found->second;
}

std::string joined(std::span<const std::string_view> words) {
  std::string text;
  for (const auto word : words) text += (text.empty() ? "" : ", ") + std::string(word);
  return text;
}

}  // namespace

bool is_kind(std::string_view kind) { return !fields_of(kind).empty(); }

std::string kind_list() {
  std::string text;
  for (const auto& [kind, fields] : kinds_of_elements)
    text += (text.empty() ? "" : ", ") + std::string(kind);
  return text;
}

bool is_field(std::string_view kind, std::string_view field) {
  return std::ranges::find(fields_of(kind), field) != fields_of(kind).end();
}
std::string field_list(std::string_view kind) { return joined(fields_of(kind)); }

bool is_code_field(std::string_view field) {
  return std::ranges::find(code_fields, field) != code_fields.end();
}
std::string code_field_list() { return joined(code_fields); }

Result<double> parse_slope(std::string_view text, std::string_view where) {
  const auto slash = text.rfind('/');
  const auto bad_slope = [&] {
    return trouble(Code::wrong_dimension, std::string(where), std::string(text),
                   "give a flow for each degree, as \"1.2 scfh/degF\" or \"0.03 std m3/h/K\"");
  };
  if (slash == std::string_view::npos) return bad_slope();
  std::string_view degree = text.substr(slash + 1);
  while (!degree.empty() && degree.front() == ' ') degree.remove_prefix(1);
  while (!degree.empty() && degree.back() == ' ') degree.remove_suffix(1);
  double kelvin = 0.0;
  if (degree == "K" || degree == "degC" || degree == "C") kelvin = 1.0;
  if (degree == "degF" || degree == "F") kelvin = 5.0 / 9.0;
  if (kelvin == 0.0) return bad_slope();
  BELLHOLE_TRY(flow, units::parse<kinds::StdFlow>(text.substr(0, slash), where));
  if (!(flow.value.si() >= 0.0)) {
    return trouble(Code::out_of_range, std::string(where), std::string(text),
                   "a draw is not negative");
  }
  return flow.value.si() / kelvin;
}

}  // namespace bellhole::maps
