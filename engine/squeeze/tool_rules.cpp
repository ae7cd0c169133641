// Whether this tool may be put on this pipe. Its rating binds: no profile loosens it.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "squeeze/gap.hpp"
#include "squeeze/work.hpp"

namespace bellhole::squeeze {
namespace {

constexpr std::string_view other_tool = "use a tool that is made for this";

Finding tool_finding(const Tool& tool, std::string rule, Grade grade, std::string says,
                     std::string_view action) {
  Finding finding;
  finding.rule = std::move(rule);
  finding.grade = grade;
  finding.says = std::move(says);
  finding.source = tool.source.empty() ? "the tool's record" : tool.source;
  finding.evidence = Evidence::maker;
  finding.about = fmt::format("tool {}", tool.id);
  finding.action = action;
  return finding;
}

void not_on_record(const Work& work, std::string rule, std::string_view what,
                   std::string_view action) {
  const Tool& tool = *work.question.tool;
  work.add(tool_finding(tool, std::move(rule), Grade::undecided,
                        fmt::format("the record of tool {} does not give {}", tool.id, what),
                        action));
}

void judge_capacity(const Work& work) {
  const Tool& tool = *work.question.tool;
  const Found& pipe = work.sheet.pipe;
  if (tool.sizes.empty()) {
    not_on_record(work, "tool.size", "the sizes that it may squeeze",
                  "enter sizes from its plate or manual");
  } else if (std::ranges::find(tool.sizes, pipe.size.name) == tool.sizes.end()) {
    std::string list;
    for (const auto& size : tool.sizes) list += (list.empty() ? "" : ", ") + size;
    work.add(tool_finding(
        tool, "tool.size", Grade::halt,
        fmt::format("tool {} is for {}, not for {}", tool.id, list, pipe.size.name), other_tool));
  }
  if (!tool.ratios.empty() && pipe.ratio && std::ranges::none_of(tool.ratios, [&](double r) {
        return std::abs(r - *pipe.ratio) < 1e-9;
      })) {
    work.add(tool_finding(tool, "tool.ratio", Grade::halt,
                          fmt::format("tool {} is not rated for DR {:g}", tool.id, *pipe.ratio),
                          other_tool));
  } else if (!tool.ratios.empty() && !pipe.ratio) {
    work.add(tool_finding(
        tool, "tool.ratio", Grade::undecided,
        fmt::format("tool {} is rated for some ratios only, and the pipe's is not known", tool.id),
        "read the print line for DR or SDR"));
  }
}

void judge_rating(const Work& work) {
  const Tool& tool = *work.question.tool;
  const auto& pressure = work.sheet.pipe.pressure;
  if (!tool.pressure_most) {
    not_on_record(work, "tool.pressure", "the line pressure that it is rated for",
                  "enter pressure_most from its plate or manual");
  } else if (pressure && *pressure > *tool.pressure_most) {
    Finding finding =
        tool_finding(tool, "tool.pressure", Grade::halt,
                     fmt::format("tool {} is rated for {}; the line is at {}", tool.id,
                                 units::print(*tool.pressure_most, work.units),
                                 units::print(*pressure, work.units)),
                     other_tool);
    finding.quantity = "line pressure";
    finding.value_si = pressure->si();
    finding.limit_si = tool.pressure_most->si();
    finding.unit_si = kinds::GaugePressure::symbol;
    work.add(std::move(finding));
  }
  const auto& temperature = work.sheet.pipe.temperature;
  if (!temperature) return;
  const bool cold = tool.temperature_least && *temperature < *tool.temperature_least;
  const bool warm = tool.temperature_most && *temperature > *tool.temperature_most;
  if (!cold && !warm) return;
  Finding finding = tool_finding(tool, "tool.temperature", Grade::halt,
                                 fmt::format("tool {} is not rated for a pipe at {}", tool.id,
                                             units::print(*temperature, work.units)),
                                 other_tool);
  finding.quantity = "pipe temperature";
  finding.value_si = temperature->si();
  finding.limit_si = cold ? tool.temperature_least->si() : tool.temperature_most->si();
  finding.unit_si = kinds::Temperature::symbol;
  work.add(std::move(finding));
}

void judge_bars(const Work& work) {
  const Tool& tool = *work.question.tool;
  if (!tool.bar || !tool.bar_radius) {
    not_on_record(work, "tool.bar_radius", "its squeeze bars' shape and radius",
                  "measure the bars and enter bar and bar_radius");
  } else {
    const bool round = *tool.bar == Bar::round;
    work.judge(
        round ? "tool.bar_radius_round" : "tool.bar_radius_flat_edge",
        {round ? "radius of the round squeeze bar" : "edge radius of the flat squeeze bar",
         tool.bar_radius->si(), fmt::format("tool {}", tool.id),
         "a sharp bar cuts the wall: use a tool with rounder bars, or have the engineer decide",
         ""});
  }
  if (!tool.guide_spacing) {
    not_on_record(work, "tool.guide_spacing", "the free width between its guides",
                  "measure it and enter guide_spacing");
    return;
  }
  if (!work.sheet.walls) return;
  const Length width = flat_width(work.sheet.pipe.size.od_high.value_or(work.sheet.pipe.size.od),
                                  work.sheet.walls->minimum);
  if (width <= *tool.guide_spacing) return;
  Finding finding = tool_finding(
      tool, "tool.guide_spacing", Grade::halt,
      fmt::format("flattened, the pipe is {} wide and touches the guides of tool {}, {} apart",
                  units::print(width, work.units, units::Toward::up), tool.id,
                  units::print(*tool.guide_spacing, work.units)),
      other_tool);
  finding.quantity = "width of the flattened pipe";
  finding.value_si = width.si();
  finding.limit_si = tool.guide_spacing->si();
  finding.unit_si = kinds::Length::symbol;
  finding.source = "ASTM F1563 6.3: the pipe squeezed to the stops does not touch the guides";
  finding.evidence = Evidence::seen;
  work.add(std::move(finding));
}

void judge_drive(const Work& work) {
  const Tool& tool = *work.question.tool;
  if (tool.drive == Drive::hydraulic) {
    if (!tool.ram_area)
      not_on_record(work, "tool.ram_area", "its ram area: a pump pressure tells no force",
                    "enter ram_area of all rams together from its plate or manual");
    if (!tool.pump_limit)
      not_on_record(work, "tool.pump_limit", "its pump's limit",
                    "enter pump_limit from the pump's plate");
  }
  if (!tool.travel_per_stroke && !tool.travel_per_turn) {
    Finding finding =
        tool_finding(tool, "tool.count", Grade::info,
                     fmt::format("the record of tool {} does not give its travel per stroke or "
                                 "turn: the pace is in inches and clock only",
                                 tool.id),
                     "count strokes over a measured travel and enter it");
    work.add(std::move(finding));
  }
}

}  // namespace

std::optional<Force> force_at_limit(const Tool& tool) {
  if (!tool.ram_area || !tool.pump_limit) return std::nullopt;
  return Force::from_si(tool.ram_area->si() * tool.pump_limit->si());
}

void judge_tool(const Work& work) {
  if (!work.question.tool) {
    Finding finding;
    finding.rule = "tool.record";
    finding.grade = Grade::undecided;
    finding.says =
        "no tool is given: its rating, bars, guides and maker's instructions are not looked at";
    finding.source = "ASTM F1563: what a squeeze tool must be";
    finding.evidence = Evidence::seen;
    finding.about = "tool";
    finding.action = "give the tool's record: --tool FILE#ID";
    work.add(std::move(finding));
    return;
  }
  judge_capacity(work);
  judge_rating(work);
  judge_bars(work);
  judge_drive(work);
  work.sheet.force_at_limit = force_at_limit(*work.question.tool);
}

}  // namespace bellhole::squeeze
