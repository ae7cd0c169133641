#include "maps/report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <tuple>

#include "wire/json.hpp"

namespace bellhole::maps {

std::size_t Report::count(std::string_view rule) const {
  return static_cast<std::size_t>(std::ranges::count(rows_, rule, &Row::rule));
}
bool Report::has_halt() const {
  return std::ranges::any_of(rows_, [](const Row& row) { return row.grade == Grade::halt; });
}

Verdict Report::verdict() const {
  Findings findings;
  for (const Row& row : rows_) findings.push_back({.rule = row.rule, .grade = row.grade});
  return verdict_of(findings);
}

std::size_t Report::accept(std::string_view rule) {
  std::size_t count = 0;
  for (Row& row : rows_) {
    if (row.rule != rule || row.grade != Grade::halt) continue;
    row.grade = Grade::undecided;
    row.done += "; let pass by --accept";
    ++count;
  }
  return count;
}

void Report::sort() {
  std::ranges::stable_sort(rows_, {}, [](const Row& row) {
    return std::tie(row.grade, row.rule, row.layer, row.feature);
  });
}

namespace {

std::string head_text(const Summary& s) {
  std::string text = fmt::format(
      "{} by {}\n{} km of main in {} pipes and {} nodes, {} valves, {} regulators, {} sources, {} "
      "customers, "
      "{} features\nworked in {}\n",
      s.map, s.mapping, fmt::format("{:.2f}", s.length_m / 1e3), s.pipes, s.nodes, s.valves,
      s.regulators, s.sources, s.customers, s.features, s.crs);
  if (!s.network_hash.empty()) text += fmt::format("network {}\n", s.network_hash);
  return text;
}

std::string row_text(const Row& row) {
  std::string who = row.feature.empty() ? row.layer : row.feature;
  if (!row.feature.empty() && !row.layer.empty()) who = row.layer + " " + row.feature;
  if (who.empty()) who = "(whole map)";
  std::string what = row.field;
  if (!row.value.empty()) what += (what.empty() ? "" : ": ") + row.value;
  return fmt::format("  {:<26} {:<40} {}\n", who, what, row.done);
}

}  // namespace

std::string report_text(const Report& report, const Summary& summary, std::size_t most_rows) {
  std::string text = head_text(summary);
  const auto& rows = report.rows();
  for (std::size_t i = 0; i < rows.size();) {
    std::size_t end = i;
    while (end < rows.size() && rows[end].rule == rows[i].rule && rows[end].grade == rows[i].grade)
      ++end;
    text += fmt::format("\n{} {} ({})\n", to_string(rows[i].grade), rows[i].rule, end - i);
    for (std::size_t k = i; k < std::min(end, i + most_rows); ++k) text += row_text(rows[k]);
    if (end - i > most_rows)
      text += fmt::format("  … and {} more: --report FILE has every row\n", end - i - most_rows);
    i = end;
  }
  text += fmt::format("\n{} rows; verdict: {}\n", rows.size(), to_string(report.verdict()));
  return text;
}

std::string report_json(const Report& report, const Summary& s) {
  wire::Json json;
  json["document"] = "bellhole.import_report";
  json["version"] = 1;
  json["engine"] = wire::engine_version();
  json["verdict"] = to_string(report.verdict());
  json["map"] = s.map;
  json["mapping"] = s.mapping;
  json["network_hash"] = s.network_hash.empty() ? wire::Json() : wire::Json(s.network_hash);
  json["crs"] = s.crs;
  json["counts"] = {{"nodes", s.nodes},       {"pipes", s.pipes},
                    {"valves", s.valves},     {"regulators", s.regulators},
                    {"sources", s.sources},   {"customers", s.customers},
                    {"features", s.features}, {"length_m", s.length_m}};
  json["rows"] = wire::Json::array();
  for (const Row& row : report.rows()) {
    json["rows"].push_back({{"rule", row.rule},
                            {"grade", to_string(row.grade)},
                            {"layer", row.layer},
                            {"feature", row.feature},
                            {"field", row.field},
                            {"value", row.value},
                            {"done", row.done},
                            {"element", row.element},
                            {"assumed", row.assumed}});
  }
  return json.dump(1, ' ', false, wire::Json::error_handler_t::replace) + "\n";
}

}  // namespace bellhole::maps
