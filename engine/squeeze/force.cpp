// The force of a squeeze from what is known of pipe and tool.
#include "squeeze/force.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

#include "flatten/grades.hpp"
#include "flatten/table.hpp"
#include "squeeze/work.hpp"

namespace bellhole::squeeze {
namespace {

constexpr std::string_view by_table = "force: expected from a table of full runs",
                           by_full = "force: computed in three dimensions for this pipe";
constexpr int curve_points = 20;
constexpr std::array held_s{1.0, 10.0, 60.0, 300.0, 900.0, 3600.0};

Finding force_finding(std::string rule, Grade grade, std::string says, std::string action) {
  Finding finding;
  finding.rule = std::move(rule);
  finding.grade = grade;
  finding.says = std::move(says);
  finding.quantity = "force at the stops";
  finding.unit_si = kinds::Force::symbol;
  finding.source = "closed form, fitted to own finite-element runs; no measured pipe";
  finding.action = std::move(action);
  finding.about = "tool";
  return finding;
}

/// What the formula lacks, as a sentence's end; empty where nothing does.
std::string lacks(const Work& work) {
  const Sheet& sheet = work.sheet;
  std::string list;
  const auto need = [&](bool there, const char* what) {
    if (!there) list += (list.empty() ? "" : ", ") + std::string(what);
  };
  need(sheet.walls.has_value(), "the wall");
  need(sheet.gap.has_value(), "the gap");
  need(sheet.pipe.material != nullptr, "the material");
  need(sheet.pipe.temperature.has_value(), "the pipe's temperature");
  need(sheet.close.has_value(), "the closing speed");
  if (!list.empty()) return list + " not known";
  if (work.question.tool && work.question.tool->bar == Bar::flat)
    return "there is no formula for flat bars";
  return {};
}

/// Of the tool; else the least that the profile lets a round bar have, which is said.
std::optional<Length> bar_radius(const Work& work) {
  if (work.question.tool && work.question.tool->bar_radius) return work.question.tool->bar_radius;
  const auto least = work.profile.ruling("tool.bar_radius_round", work.in).as<kinds::Length>();
  if (least)
    work.sheet.assumed.push_back(
        fmt::format("force: a round bar of {} radius, the least for this size, since no tool with "
                    "one is given",
                    units::print(*least, work.units)));
  return least;
}

GaugePressure oil(Force force, Area ram) { return GaugePressure::from_si(force.si() / ram.si()); }

PumpBand oil(const flatten::Band& band, Area ram, double share = 1.0) {
  return {oil(band.low * share, ram), oil(band.expected * share, ram), oil(band.high * share, ram)};
}

class Presser {
 public:
  Presser(const Work& work, Length radius, const flatten::Strength& strength)
      : work_(work),
        walls_{work.sheet.walls->minimum, work.sheet.walls->nominal, work.sheet.walls->maximum},
        jaws_{work.sheet.pipe.size.od,
              work.sheet.walls->nominal,
              radius,
              strength.yield * scale(work),
              strength.modulus * scale(work),
              work.sheet.pipe.pressure.value_or(GaugePressure())},
        computed_(work.forces.computed) {
    std::string says(by_full);
    if (!computed_.empty()) {
      source_ = Source::full;
    } else if (const std::string why = no_table(); !why.empty()) {
      says = "force: by the closed form, not the table: " + why;
    } else {
      source_ = Source::table;
      computed_ = flatten::tabulated(flatten::table(), jaws_, work.sheet.close->moving);
      const flatten::Score& score = flatten::table().score;
      says = fmt::format(
          "{}: within {:.0f} % of the runs that it is held against at {:.0f} of 100 places, "
          "{:.0f} % off at worst",
          by_table, 100.0 * flatten::score_within, std::floor(100.0 * score.within),
          std::ceil(100.0 * score.worst));
    }
    work.sheet.assumed.push_back(std::move(says));
  }

  Flattening answer() {
    Flattening out;
    const Length stop = *work_.sheet.gap, od = jaws_.od;
    work_.forces.closing = closing_to(stop);
    out.curve = flatten::curve(jaws_, walls_, stop, curve_points);
    for (flatten::Point& point : out.curve) point.force = at(point.gap);
    out.at_walls_meeting = at(flatten::walls_meet(walls_.nominal));
    out.at_stops = at(stop);
    const Duration closing = work_.sheet.close->moving;
    for (const double t : held_s)
      out.hold.push_back(
          {Duration::from_si(t), flatten::held_share(Duration::from_si(t), closing)});
    const auto& tool = work_.question.tool;
    if (!tool || !tool->ram_area || !(tool->ram_area->si() > 0.0)) return out;
    const Area ram = *tool->ram_area;
    const Duration wait = work_.sheet.wait_at_limit.value_or(Duration());
    PumpGauge pump;
    pump.at_touch = oil(at(od), ram);
    pump.at_half = oil(at((od + stop) * 0.5), ram);
    pump.at_walls_meeting = oil(out.at_walls_meeting, ram);
    pump.at_stops = oil(out.at_stops, ram);
    pump.after_wait = oil(out.at_stops, ram, flatten::held_share(wait, closing));
    pump.pumped_again = oil(out.at_stops, ram, slower(closing, wait));
    if (work_.sheet.force_at_limit) compare(out, pump, *work_.sheet.force_at_limit);
    out.pump = pump;
    return out;
  }

 private:
  flatten::PipeRun closing_to(Length stop) const {
    const auto share =
        flatten::share_of(work_.sheet.pipe.material->name, *work_.sheet.pipe.temperature);
    return {.od = jaws_.od,
            .wall = jaws_.wall,
            .bar_radius = jaws_.bar_radius,
            .gap = stop,
            .share = share.value_or(1.0) * scale(work_),
            .pressure = jaws_.pressure,
            .closing = work_.sheet.close->moving};
  }

  static double scale(const Work& work) { return work.forces.yield_scale.value_or(1.0); }

  flatten::Band at(Length gap) const {
    const flatten::Band by_hand = flatten::band_at(jaws_, walls_, gap);
    if (source_ == Source::closed_form) return by_hand;
    const Force force = flatten::closing_force(computed_, jaws_.od, gap);
    return flatten::covering(flatten::band_about(force, jaws_, walls_, gap), by_hand);
  }

  /// Why the table is of no use here; empty where it is.
  std::string no_table() const {
    if (work_.forces.yield_scale)
      return "the yield was refitted by the closed form, and belongs to it";
    return flatten::beyond(flatten::table(), jaws_, work_.sheet.close->moving, *work_.sheet.gap);
  }

  /// Reached only after the wait, the pipe was flattened at a slower mean rate.
  double slower(Duration closing, Duration wait) const {
    const auto& material = work_.sheet.pipe.material->name;
    const auto now = flatten::strength_of(material, *work_.sheet.pipe.temperature, closing);
    const auto then = flatten::strength_of(material, *work_.sheet.pipe.temperature, closing + wait);
    return now && then ? then->yield / now->yield : 1.0;
  }

  void compare(const Flattening& out, PumpGauge& pump, Force limit) const {
    pump.reaches_stops = out.at_stops.high <= limit ? Reaches::yes
                         : out.at_stops.low > limit ? Reaches::no
                                                    : Reaches::unsure;
    pump.reaches_down_to =
        flatten::coldest_for(*work_.sheet.pipe.temperature, limit / out.at_stops.high);
    if (pump.reaches_stops == Reaches::yes) return;
    const bool never = pump.reaches_stops == Reaches::no;
    Finding finding = force_finding(
        "squeeze.reaches_stops", never ? Grade::undecided : Grade::warn,
        fmt::format(
            "the stops are expected at {} to {}; the pump's limit gives {}: the bars {} stop "
            "short of them, and short of them is not shut",
            units::print(out.at_stops.low, work_.units),
            units::print(out.at_stops.high, work_.units), units::print(limit, work_.units),
            never ? "are expected to" : "may"),
        never ? "use a tool with a larger ram, or wait for a warmer pipe: the qualified person "
                "decides"
              : "plan the wait at the limit and pumping up again; a warmer pipe takes less");
    finding.value_si = out.at_stops.high.si();
    finding.limit_si = limit.si();
    work_.add(std::move(finding));
  }

  const Work& work_;
  flatten::Walls walls_;
  flatten::Jaws jaws_;
  std::vector<flatten::Sample> computed_;  ///< by table or full run
  Source source_ = Source::closed_form;
};

}  // namespace

Source source_of(const Sheet& sheet) {
  const auto says = [&](std::string_view sentence) {
    return std::ranges::any_of(sheet.assumed,
                               [&](const std::string& one) { return one.starts_with(sentence); });
  };
  return says(by_full) ? Source::full : says(by_table) ? Source::table : Source::closed_form;
}

std::string band_method_of(Source source) {
  if (source == Source::closed_form) return band_method;
  return fmt::format(
      "expected: {}, for the mean wall; low and high: as many per cent from it as "
      "those of the closed form, and out to the closed form's own where they reach "
      "further; of the closed form {}",
      source == Source::table ? "from a table of computations in three dimensions"
                              : "computed in three dimensions",
      band_method);
}

void expect_force(const Work& work) {
  const std::string missing = lacks(work);
  const auto radius = missing.empty() ? bar_radius(work) : std::nullopt;
  const auto strength =
      missing.empty() ? flatten::strength_of(work.sheet.pipe.material->name,
                                             *work.sheet.pipe.temperature, work.sheet.close->moving)
                      : std::nullopt;
  if (!radius || !strength) {
    work.add(force_finding(
        "squeeze.force", Grade::info,
        fmt::format("what the pump's gauge should read is not told: {}",
                    !missing.empty() ? missing
                    : !radius        ? "no bar radius is known"
                                     : "no yield is on record for this material and temperature"),
        "give it, or watch the gauge without an expectation"));
    return;
  }
  if (strength->extrapolated)
    work.add(force_finding("squeeze.force_extrapolated", Grade::warn,
                           "the pipe is colder or warmer than the data behind the expected force, "
                           "14 to 158 degF (-10 to 70 degC)",
                           "trust the gauge, not the expectation"));
  if (const auto scale = work.forces.yield_scale)
    work.sheet.assumed.push_back(fmt::format(
        "force: yield {:.2f} times the one on record, from the company's own pump log{}", *scale,
        work.forces.computed.empty() ? "" : ", which was read by the closed form, not computed"));
  work.sheet.flattening = Presser(work, *radius, *strength).answer();
}

}  // namespace bellhole::squeeze
