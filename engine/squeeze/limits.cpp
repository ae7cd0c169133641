// Line pressure, gap and pace against the profile.
#include <fmt/format.h>

#include <algorithm>

#include "squeeze/gap.hpp"
#include "squeeze/work.hpp"

namespace bellhole::squeeze {
namespace {

using procedure::Held;

std::optional<Basis> basis_of(const std::string& word) {
  if (word == "minimum") return Basis::minimum;
  if (word == "nominal") return Basis::nominal;
  if (word == "maximum") return Basis::maximum;
  if (word == "measured_else_minimum") return Basis::measured_else_minimum;
  return std::nullopt;
}

Finding gap_finding(std::string rule, Grade grade, std::string says) {
  Finding finding;
  finding.rule = std::move(rule);
  finding.grade = grade;
  finding.says = std::move(says);
  finding.unit_si = kinds::Length::symbol;
  finding.about = "stop";
  return finding;
}

/// The basis of the gap, or nothing where it cannot be told; says so.
std::optional<Basis> find_basis(const Work& work) {
  const auto ruling = work.ruling("squeeze.wall_basis");
  const auto word = ruling.word();
  if (!word) {
    work.add(procedure::not_set(ruling, {"wall of the stop gap", std::nullopt, "profile", "", ""},
                                work.units));
    return std::nullopt;
  }
  work.add(procedure::caveats(ruling, "profile", work.units));
  const auto basis = basis_of(*word);
  if (basis == Basis::measured_else_minimum && work.sheet.walls && !work.sheet.walls->measured) {
    Finding finding = gap_finding("squeeze.wall_measured", Grade::warn,
                                  "no wall was measured; the gap is reckoned on the minimum wall");
    finding.source = ruling.row->source;
    finding.evidence = ruling.row->evidence;
    finding.about = "wall";
    finding.action = "measure the wall with an ultrasonic gauge: --wall";
    work.add(std::move(finding));
  }
  return basis;
}

void look_at_stops(const Work& work, Basis basis, Fraction most) {
  Sheet& sheet = work.sheet;
  std::vector<Stop> stops;
  if (work.question.tool) stops = work.question.tool->stops;
  if (work.question.stops) stops = *work.question.stops;
  sheet.stops_given = !stops.empty() || work.question.stops.has_value();
  const StopQuestion question{
      .size = sheet.pipe.size,
      .ratio = sheet.walls->measured ? std::nullopt : sheet.pipe.ratio,
      .walls = *sheet.walls,
      .basis = basis,
      .most = most,
      .least = work.ruling("squeeze.compression_least").as<kinds::Fraction>(),
      .units = work.units};
  for (const Stop& stop : stops) sheet.stops.push_back(look_at(stop, question));
  sheet.chosen = choose(sheet.stops);
}

void say_stops(const Work& work) {
  const Sheet& sheet = work.sheet;
  const std::string wanted = units::print(*sheet.gap_wanted, work.units);
  if (!sheet.stops_given) {
    Finding finding = gap_finding("squeeze.stop", Grade::undecided,
                                  fmt::format("no stops are given; the gap wanted is {}", wanted));
    finding.limit_si = sheet.gap_wanted->si();
    finding.action =
        "give the company's stops (--tool or --stops): a stop is chosen, never rounded to";
    finding.source = "the tool's stops";
    finding.evidence = Evidence::maker;
    work.add(std::move(finding));
  } else if (!sheet.chosen) {
    std::string each;
    for (const StopAnswer& answer : sheet.stops) {
      const auto& sizes = answer.stop.sizes;
      if (!sizes.empty() && std::ranges::find(sizes, sheet.pipe.size.name) == sizes.end()) continue;
      each += fmt::format("; {} ({}): {}", answer.stop.id,
                          units::print(answer.stop.gap, work.units), answer.because);
    }
    if (each.empty()) each = fmt::format("; none is for {}", sheet.pipe.size.name);
    Finding finding = gap_finding(
        "squeeze.stop", Grade::halt,
        fmt::format("none of the stops fits this pipe, which wants {}{}", wanted, each));
    finding.quantity = "stop gap";
    finding.limit_si = sheet.gap_wanted->si();
    finding.action = "bring the stop for this pipe; do not squeeze on another, nor without one";
    finding.source = "the stops given";
    finding.evidence = Evidence::maker;
    work.add(std::move(finding));
  }
}

void no_wall(const Work& work) {
  Finding finding = gap_finding("pipe.wall", Grade::halt,
                                "neither wall nor ratio is known: there is no gap to squeeze to");
  finding.about = "wall";
  finding.source = "gap = 2 x wall x (1 - compression)";
  finding.action = "read DR or SDR off the print line, or measure the wall";
  work.add(std::move(finding));
}

std::optional<Timetable> timetable_of(const Work& work, std::string_view name, Length from,
                                      Length to) {
  const std::string rule = fmt::format("squeeze.{}", name);
  const auto speed = work.used<kinds::Speed>(rule + "_speed", "profile");
  const auto step = work.ruling(rule + "_step");
  const auto pause = work.ruling(rule + "_pause");
  if (name == "opening" || step.row != nullptr ||
      pause.row != nullptr) {  // steps of closing are a company's choice
    static_cast<void>(work.used<kinds::Length>(rule + "_step", "profile"));
    static_cast<void>(work.used<kinds::Duration>(rule + "_pause", "profile"));
  }
  if (!speed) return std::nullopt;
  const Length marks =
      work.units == units::System::us ? Length::from_si(0.0127) : Length::from_si(0.010);
  std::optional<Length> per_count;
  if (work.question.tool) {
    const Tool& tool = *work.question.tool;
    per_count = tool.travel_per_stroke ? tool.travel_per_stroke : tool.travel_per_turn;
  }
  return timetable({.from = from,
                    .to = to,
                    .speed = *speed,
                    .step = step.as<kinds::Length>(),
                    .pause = pause.as<kinds::Duration>(),
                    .mark_every = work.question.mark_every.value_or(marks),
                    .per_count = per_count});
}

/// Steps finer than a hand can move a tool are a slip of the unit.
Result<bool> workable(const Work& work) {
  constexpr double least_m = 1e-4;
  for (const char* rule : {"squeeze.closing_step", "squeeze.opening_step"}) {
    const auto step = work.ruling(rule).as<kinds::Length>();
    if (step && step->si() < least_m) {
      return trouble(Code::out_of_range, std::string(rule), units::print(*step, work.units),
                     "no tool moves by so little: correct the profile");
    }
  }
  if (work.question.mark_every && work.question.mark_every->si() < least_m) {
    return trouble(Code::out_of_range, "every", units::print(*work.question.mark_every, work.units),
                   "give 0.1 mm or more");
  }
  return true;
}

}  // namespace

void judge_pressure(const Work& work) {
  const auto& pressure = work.sheet.pipe.pressure;
  std::optional<double> value;
  if (pressure) value = pressure->si();
  const auto one = work.ruling("squeeze.pressure_single");
  const auto two = work.ruling("squeeze.pressure_double");
  const std::string know = "read the gauge: --pressure";
  if (work.question.two) {
    work.sheet.arrangement = Arrangement::two;
    work.add(procedure::judge(two,
                              {"line pressure", value, "pressure",
                               "lower the pressure, or shut off some other way", know},
                              work.units));
    if (const auto most = two.as<kinds::GaugePressure>()) doubt_unit(work, *most);
    return;
  }
  const auto limit = one.as<kinds::GaugePressure>();
  std::string action = "lower the pressure, or shut off some other way";
  if (pressure && two.as<kinds::GaugePressure>() && *pressure <= *two.as<kinds::GaugePressure>()) {
    action = "use two squeezes with a vent between (--double): they keep the limit";
  }
  if (limit && pressure && one.doubtful.empty())
    work.sheet.arrangement = *pressure <= *limit ? Arrangement::one : Arrangement::undecided;
  work.add(procedure::judge(one, {"line pressure", value, "pressure", action, know}, work.units));
  if (limit) doubt_unit(work, *limit);
}

void choose_gap(const Work& work) {
  Sheet& sheet = work.sheet;
  sheet.basis = find_basis(work);
  sheet.compression_most = work.used<kinds::Fraction>("squeeze.compression", "profile");
  if (!sheet.walls) {
    no_wall(work);
    return;
  }
  if (!sheet.basis || !sheet.compression_most) return;
  sheet.gap_wanted = gap_for(*sheet.compression_most, wall_of(*sheet.basis, *sheet.walls));
  look_at_stops(work, *sheet.basis, *sheet.compression_most);
  say_stops(work);
  sheet.gap = sheet.chosen ? sheet.stops[*sheet.chosen].stop.gap : *sheet.gap_wanted;
  sheet.compressions = compressions(*sheet.gap, *sheet.walls);
  work.judge("squeeze.compression_least",
             {"compression of the thinnest wall", sheet.compressions->at_min.si(), "stop",
              "use a narrower stop that keeps the limit, or two squeezes with a vent", ""});
  if (sheet.compressions->at_min.si() > 0.0) return;
  Finding finding =
      gap_finding("squeeze.walls_meet", Grade::halt,
                  "the inner walls do not meet on the thinnest wall that the pipe can have");
  finding.value_si = sheet.gap->si();
  finding.limit_si = (2.0 * sheet.walls->minimum).si();
  finding.quantity = "gap";
  finding.source = "compression = 1 - gap / (2 wall)";
  finding.action = "measure the wall; another stop or another limit is needed";
  work.add(std::move(finding));
}

Result<bool> set_pace(const Work& work) {
  const Result<bool> fine = workable(work);
  if (!fine) return fine;
  Sheet& sheet = work.sheet;
  const Length od = sheet.pipe.size.od;
  if (sheet.gap) {
    sheet.close = timetable_of(work, "closing", od, *sheet.gap);
    sheet.open = timetable_of(work, "opening", *sheet.gap, od);
  } else {  // a recording is held against the pace even where no gap can be told
    for (const char* rule :
         {"squeeze.closing_speed", "squeeze.closing_step", "squeeze.closing_pause",
          "squeeze.opening_speed", "squeeze.opening_step", "squeeze.opening_pause"})
      static_cast<void>(work.ruling(rule));
  }
  sheet.wait_at_limit = work.used<kinds::Duration>("squeeze.relaxation_wait", "profile");
  sheet.hold_most = work.used<kinds::Duration>("squeeze.hold", "profile");
  static_cast<void>(work.used<kinds::StdFlow>("squeeze.let_by", "profile"));
  return true;
}

}  // namespace bellhole::squeeze
