#include "network/time_left.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace bellhole::network {
namespace {

// Between these factors on the expected draw a reading is looked for. No limit: beyond them the
// reading is not explained by any draw.
constexpr double least_factor = 0.02, most_factor = 30.0;

Course course_of(const TimeQuestion& question, LoadCase load, Drawing drawing, double factor) {
  Course course{.begins = question.begins, .lasts = question.horizon};
  course.begins.load = load;
  course.movers = question.movers;
  course.switches = question.switches;
  course.weather = question.weather;
  course.drawing = drawing;
  course.draw_factor = factor;
  return course;
}

/// The scenario when everything that is to be shut is shut.
Scenario afterwards(const TimeQuestion& question) {
  Scenario after = question.begins;
  for (const Mover& mover : question.movers) {
    const bool shut = !mover.travel.empty() && mover.travel.back().clear == 0.0;
    if (mover.valve != none) {
      after.valves.push_back({mover.valve, shut ? Position::closed : Position::open});
    } else if (shut) {
      after.closures.push_back(mover.place);
    }
  }
  for (const Switch& change : question.switches) {
    if (!change.shut) continue;
    if (change.kind == SwitchKind::regulator) after.regulators_shut.push_back(change.element);
    if (change.kind == SwitchKind::source) after.sources_shut.push_back(change.element);
  }
  return after;
}

/// Pressure at a reading's place and moment at a factor on the expected draw.
Result<double> pressure_at(const Model& model, const TimeQuestion& question, const Reading& reading,
                           double factor, Watch& watch) {
  Course course = course_of(question, LoadCase::expected, Drawing::falls_off, factor);
  course.lasts = reading.at;
  course.watched = {reading.place};
  BELLHOLE_TRY(made, model.follow(course, watch));
  return made.pressures.front().back().si();
}

/// The factor at which the network stands at the reading: a search between bounds (the Illinois
/// form of false position) on the logarithm of the factor.
Result<ReadingSays> says_of(const Model& model, const TimeQuestion& question,
                            const Reading& reading, Watch& watch) {
  ReadingSays says;
  BELLHOLE_TRY(expected, pressure_at(model, question, reading, 1.0, watch));
  says.expected = GaugePressure::from_si(expected);
  const double read = reading.pressure.si();
  double low = 0.0, low_off = expected - read, high = 0.0, high_off = low_off;
  const double end = std::log(low_off > 0.0 ? most_factor : least_factor);
  BELLHOLE_TRY(at_end, pressure_at(model, question, reading, std::exp(end), watch));
  high = end;
  high_off = at_end - read;
  if (low_off * high_off > 0.0) {
    says.above = low_off < 0.0;
    return says;
  }
  constexpr int most = 30;
  constexpr double near_pa = 5.0;
  for (int k = 0; k < most && std::abs(high_off) > near_pa; ++k) {
    const double middle = high - high_off * (high - low) / (high_off - low_off);
    BELLHOLE_TRY(there, pressure_at(model, question, reading, std::exp(middle), watch));
    const double off = there - read;
    if (off * high_off < 0.0) {
      low = high;
      low_off = high_off;
    } else {
      low_off *= 0.5;
    }
    high = middle;
    high_off = off;
  }
  says.factor = std::exp(high);
  return says;
}

Result<bool> read_gauges(const Model& model, const TimeQuestion& question, TimeLeft& left,
                         Watch& watch) {
  std::vector<double> factors;
  for (const Reading& reading : question.readings) {
    if (!(reading.at.si() > 0.0 && reading.at.si() <= question.horizon.si())) {
      return trouble(Code::out_of_range, "reading at " + reading.place_says,
                     fmt::format("{} s", reading.at.si()),
                     "give a moment after the shutting and before the end");
    }
    BELLHOLE_TRY(says, says_of(model, question, reading, watch));
    if (says.factor) factors.push_back(*says.factor);
    left.readings.push_back(says);
  }
  if (factors.empty()) return true;
  std::ranges::sort(factors);
  left.fit = TimeLeft::Fit{factors.front(), factors[factors.size() / 2], factors.back()};
  return true;
}

struct Courses {
  Transient high, expected, low;
};

Result<Courses> run(const Model& model, const TimeQuestion& question, const TimeLeft& left,
                    Watch& watch) {
  Courses made;
  const auto follow = [&](LoadCase load, Drawing drawing, double factor) {
    return model.follow(course_of(question, load, drawing, factor), watch);
  };
  const bool fitted = left.fit.has_value();
  BELLHOLE_TRY(high, fitted ? follow(LoadCase::expected, Drawing::constant, left.fit->most)
                            : follow(LoadCase::high, Drawing::constant, 1.0));
  BELLHOLE_TRY(expected,
               follow(LoadCase::expected, Drawing::falls_off, fitted ? left.fit->middle : 1.0));
  BELLHOLE_TRY(low, fitted ? follow(LoadCase::expected, Drawing::falls_off, left.fit->least)
                           : follow(LoadCase::low, Drawing::falls_off, 1.0));
  made.high = std::move(high);
  made.expected = std::move(expected);
  made.low = std::move(low);
  return made;
}

}  // namespace

Result<TimeLeft> time_left(const Model& model, const TimeQuestion& question, Watch& watch) {
  const Network& network = model.network();
  TimeLeft left;
  BELLHOLE_TRY(gauges, read_gauges(model, question, left, watch));
  static_cast<void>(gauges);
  BELLHOLE_TRY(courses, run(model, question, left, watch));
  Scenario expected = question.begins;
  expected.load = LoadCase::expected;
  BELLHOLE_TRY(before, model.solve(expected));
  Scenario shut = afterwards(question);
  shut.load = LoadCase::expected;
  BELLHOLE_TRY(reached, model.reached(shut));
  for (std::size_t c = 0; c < network.customers.size(); ++c) {
    const bool cut_off = reached[c] == 0;
    const bool open = shut.without_load.empty() || shut.without_load[c] == 0;
    if (open && cut_off) ++left.cut_off;
    // Whichever course has it first: a low draw may do so where a station's outlet is cut off.
    std::optional<Duration> first = courses.high.customers[c].first_short;
    for (const auto* other : {&courses.expected, &courses.low}) {
      const auto& moment = other->customers[c].first_short;
      if (moment && (!first || *moment < *first)) first = moment;
    }
    if (!first) continue;
    CustomerTime time{.customer = static_cast<Index>(c), .shortest = *first};
    time.expected = courses.expected.customers[c].first_short;
    time.longest = courses.low.customers[c].first_short;
    time.cut_off = cut_off;
    time.now = before.customer_pressure[c];
    time.least = before.customer_least[c];
    const bool low = question.low_pressure && time.now <= *question.low_pressure;
    constexpr double when_time_begins = 1e-3;
    time.at_once = (low && cut_off) || first->si() <= when_time_begins;
    if (time.at_once) time.shortest = Duration{};
    left.order.push_back(time);
  }
  std::ranges::stable_sort(left.order, [](const CustomerTime& a, const CustomerTime& b) {
    return a.shortest < b.shortest;
  });
  left.account = courses.high.account;
  left.regulators_give = std::max({courses.high.regulators_give, courses.expected.regulators_give,
                                   courses.low.regulators_give});
  left.steps = courses.high.steps + courses.expected.steps + courses.low.steps;
  return left;
}

Result<StartIf> start_if(const Model& model, const TimeQuestion& question, Duration until,
                         Watch& watch) {
  constexpr double coldest = 233.15, warmest = 303.15, step = 5.0, near = 0.05;
  BELLHOLE_TRY(reached, model.reached(afterwards(question)));
  Index first = none;
  const auto holds = [&](double air) -> Result<bool> {
    Course course = course_of(question, LoadCase::high, Drawing::falls_off, 1.0);
    course.begins.air = Temperature::from_si(air);
    course.weather.clear();
    course.lasts = until;
    BELLHOLE_TRY(made, model.follow(course, watch));
    Duration soonest = Duration::from_si(HUGE_VAL);
    for (std::size_t c = 0; c < made.customers.size(); ++c) {
      const auto& moment = made.customers[c].first_short;
      const auto customer = static_cast<Index>(c);
      if (reached[c] == 0 || !moment || *moment >= soonest ||
          std::ranges::binary_search(question.not_asked, customer))
        continue;
      soonest = *moment;
      first = customer;
    }
    return std::isinf(soonest.si());
  };
  StartIf answer{.until = until};
  double above = warmest;
  BELLHOLE_TRY(warm, holds(warmest));
  if (!warm) {
    answer.short_below = first;
    return answer;
  }
  double below = coldest;
  for (double air = warmest - step;; air = std::max(coldest, air - step)) {
    BELLHOLE_TRY(good, holds(air));
    if (!good) {
      below = air;
      break;
    }
    above = air;
    if (air == coldest) {
      answer.at_coldest = true;
      answer.stays_above = Temperature::from_si(coldest);
      return answer;
    }
  }
  while (above - below > near) {
    const double middle = 0.5 * (above + below);
    BELLHOLE_TRY(good, holds(middle));
    (good ? above : below) = middle;
  }
  answer.stays_above = Temperature::from_si(above);
  answer.short_below = first;
  return answer;
}

}  // namespace bellhole::network
