// Pipes, profiles and tools for the tests of an assessment.
#pragma once

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "squeeze/sheet.hpp"

namespace bellhole::squeeze {

inline Length in(double value) { return Length::from_si(value * 0.0254); }
inline GaugePressure psig(double value) {
  return GaugePressure::from_si(value * 6894.757293168361);
}
inline Temperature degf(double value) { return Temperature::from_si((value + 459.67) * 5.0 / 9.0); }

inline procedure::RowDraft row(std::string rule, procedure::Value value, std::string unit = "",
                               Grade grade = Grade::halt) {
  procedure::RowDraft draft;
  draft.rule = std::move(rule);
  draft.value = std::move(value);
  draft.unit = std::move(unit);
  draft.grade = grade;
  draft.source = "company standard 7";
  draft.evidence = Evidence::company;
  return draft;
}

/// Rows that set every limit an assessment looks at.
inline std::vector<procedure::RowDraft> full_rows() {
  return {row("squeeze.compression", 30.0, "%"),
          row("squeeze.wall_basis", std::string("minimum")),
          row("squeeze.compression_least", 10.0, "%"),
          row("squeeze.closing_speed", 2.0, "in/min"),
          row("squeeze.opening_speed", 0.5, "in/min"),
          row("squeeze.opening_step", 0.5, "in"),
          row("squeeze.opening_pause", 1.0, "min"),
          row("squeeze.relaxation_wait", 15.0, "min"),
          row("squeeze.hold", 8.0, "h"),
          row("squeeze.clearance_diameters", 3.0),
          row("squeeze.clearance", 12.0, "in"),
          row("squeeze.clearance_from", std::string("centreline")),
          row("squeeze.temperature_least", 40.0, "degF"),
          row("squeeze.temperature_most", 100.0, "degF"),
          row("squeeze.pressure_single", 60.0, "psig"),
          row("squeeze.pressure_double", 90.0, "psig"),
          row("squeeze.od_most", 12.75, "in"),
          row("squeeze.made_from", std::string("1983")),
          row("squeeze.let_by", 100.0, "scfh"),
          row("tool.bar_radius_round", 1.0, "in"),
          row("tool.bar_radius_flat_edge", 0.5, "in"),
          row("pipe.design_form", std::string("us")),
          row("pipe.design_factor", 0.32),
          row("pipe.design_cap", 100.0, "psig"),
          row("pipe.design_temperature_least", -20.0, "degF"),
          row("pipe.design_temperature_most", 140.0, "degF")};
}

inline procedure::Profile profile(std::vector<procedure::RowDraft> rows) {
  return procedure::compose({"company", "a company", std::move(rows)}, nullptr).value();
}

/// The same rows with one of them replaced.
inline procedure::Profile profile_with(procedure::RowDraft instead) {
  auto rows = full_rows();
  std::erase_if(rows, [&](const auto& draft) { return draft.rule == instead.rule; });
  rows.push_back(std::move(instead));
  return profile(std::move(rows));
}

inline Tool a_tool() {
  Tool tool;
  tool.id = "T-8";
  tool.drive = Drive::hydraulic;
  tool.sizes = {"IPS 6", "IPS 8"};
  tool.pressure_most = psig(100);
  tool.ram_area = Area::from_si(0.0071);
  tool.pump_limit = psig(10000);
  tool.bar = Bar::round;
  tool.bar_radius = in(1.0);
  tool.guide_spacing = in(14);
  tool.half_width = in(4.5);
  tool.travel_per_stroke = in(0.03);
  tool.stops = {{"S-8-11", in(1.100), {}, {}}, {"S-8-13.5", in(0.900), {}, {}}};
  return tool;
}

/// An ordinary pipe, tool and hole against which nothing is found by the full profile.
inline Question a_question() {
  Question question;
  Found& pipe = question.pipe;
  pipe.size = pipe::read_size("IPS 8", "size").value();
  pipe.ratio = 11.0;
  pipe.material = *pipe::read_material("PE4710", "material");
  pipe.made = procedure::parse_date("2010", "made").value();
  pipe.lining = {pipe::Told::no, pipe::Told::no, pipe::Told::no, pipe::Told::no};
  pipe.pressure = psig(55);
  pipe.pressure_unit = "psi";
  pipe.temperature = degf(60);
  question.exposed = Window{in(0), in(120)};
  question.features = {{"joint", in(8), in(8)}};
  question.tool = a_tool();
  return question;
}

inline Sheet assessed(const Question& question, const procedure::Profile& by) {
  auto sheet = assess(question, by, units::System::us);
  if (!sheet) throw sheet.error().fix;
  return *sheet;
}
inline Sheet assessed(const Question& question) { return assessed(question, profile(full_rows())); }

/// The findings of one rule.
inline Findings of(const Sheet& sheet, std::string_view rule) {
  Findings out;
  std::ranges::copy_if(sheet.findings, std::back_inserter(out),
                       [&](const Finding& f) { return f.rule == rule; });
  return out;
}

inline std::string told(const Sheet& sheet) {
  std::string text;
  for (const Finding& f : sheet.findings)
    text += std::string(to_string(f.grade)) + " " + f.rule + ": " + f.says + "\n";
  return text;
}

}  // namespace bellhole::squeeze
