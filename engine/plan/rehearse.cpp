#include "plan/rehearse.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "plan/rehearse_parts.hpp"

namespace bellhole::plan {
namespace {

using network::Index;

std::size_t at(Index index) { return static_cast<std::size_t>(index); }

const double unknown = std::nan("");
/// Beyond the last step: until gauges have settled.
constexpr double settling_s = 1800.0;
/// Samples of a course; between two of them nothing but a straight line is shown.
constexpr double samples = 4000.0, closest_s = 1.0;

network::Watched watched_at(const GaugePoint& point) {
  network::Watched watched;
  if (point.customer != network::none)
    watched.customer = point.customer;
  else if (point.node != network::none)
    watched.node = point.node;
  else {
    watched.pipe = point.pipe;
    watched.station = point.station;
    watched.toward = point.toward;
  }
  return watched;
}

class Rehearsing {
 public:
  Rehearsing(const RehearseQuestion& question, Watch& watch)
      : question_(question), script_(question.script), watch_(watch) {}

  Result<Rehearsal> go() {
    made_.clock = clock_of(script_, question_.profile, question_.takes);
    const double lasts = made_.clock.ends().si() + settling_s;
    made_.lasts = Duration::from_si(lasts);
    Courses courses;
    for (const auto load :
         {network::LoadCase::low, network::LoadCase::expected, network::LoadCase::high}) {
      BELLHOLE_TRY(course, whole(load));
      made_.regulators_give = std::max(made_.regulators_give, course.regulators_give);
      courses[static_cast<std::size_t>(load)] = std::move(course);
    }
    made_.times = courses.front().sampled;
    made_.series = series_of(question_, made_.clock, courses);
    expect_at_gauges();
    BELLHOLE_TRY(wrong, wrong_of(question_, made_, courses));
    made_.wrong = std::move(wrong);
    count_out(courses);
    BELLHOLE_TRY(ways, ways_back());
    static_cast<void>(ways);
    BELLHOLE_TRY(lost, what_is_lost());
    made_.lost = std::move(lost);
    made_.findings = rehearsal_findings(question_, made_);
    return std::move(made_);
  }

 private:
  /// `until`: when the opening is mended.
  network::Course course_of(Movements moves, network::LoadCase load, const network::Opening* blows,
                            Duration until) const {
    network::Course course{.begins = question_.begins, .lasts = made_.lasts};
    course.begins.load = load;
    course.movers = std::move(moves.movers);
    course.switches = std::move(moves.switches);
    course.weather = question_.weather;
    if (blows != nullptr)
      course.leaks.push_back({.place = *script_.work, .opening = *blows, .until = until});
    return course;
  }

  /// The opening that a draw meets; null: nothing blows.
  [[nodiscard]] const network::Opening* opening_at(network::LoadCase load) const {
    if (!question_.blows) return nullptr;
    return load == network::LoadCase::low ? &question_.blows->least : &question_.blows->most;
  }

  /// From the first step to the end.
  network::Course whole_course(network::LoadCase load, const network::Opening* blows) const {
    const Clock& clock = made_.clock;
    network::Course course =
        course_of(movements(script_, clock, clock.closing.size(), true), load, blows,
                  clock.opening.empty() ? Duration::from_si(HUGE_VAL)
                                        : clock.steps[clock.opening.front()].begins);
    course.sample_every =
        Duration::from_si(std::max(closest_s, std::ceil(made_.lasts.si() / samples)));
    return course;
  }

  Result<network::Transient> whole(network::LoadCase load) {
    network::Course course = whole_course(load, opening_at(load));
    for (const GaugePoint& point : script_.points) course.watched.push_back(watched_at(point));
    return question_.model.follow(course, watch_);
  }

  Result<std::optional<Lost>> what_is_lost() {
    const Clock& clock = made_.clock;
    if (!question_.blows || clock.closing.empty()) return std::optional<Lost>();
    const auto lost_by = [&](network::LoadCase load,
                             const network::Opening& opening) -> Result<std::vector<double>> {
      BELLHOLE_TRY(followed, question_.model.follow(whole_course(load, &opening), watch_));
      std::vector<double> kg;
      double most = 0.0;  // a little air that an empty main takes in is no gas come back
      for (const Mass mass : followed.leaks.front().lost_by)
        kg.push_back(most = std::max(most, mass.si()));
      return kg;
    };
    Lost lost;
    BELLHOLE_TRY(least, lost_by(network::LoadCase::high, question_.blows->least));
    BELLHOLE_TRY(most, lost_by(network::LoadCase::low, question_.blows->most));
    lost.least = std::move(least);
    lost.most = std::move(most);
    const Duration shut = clock.steps[clock.closing.back()].ends;
    lost.all_shut = samples_of(made_.times, shut, shut).first;
    return std::optional(std::move(lost));
  }

  /// The lowest and the highest reading of each gauge of each step, over the draws.
  void expect_at_gauges() {
    for (std::size_t i = 0; i < script_.steps.size(); ++i) {
      const TimedStep& step = made_.clock.steps[i];
      std::vector<Expected>& list = made_.expected.emplace_back();
      for (const Gauge& gauge : script_.steps[i].gauges) list.push_back(in_step(gauge, step));
    }
  }
  Expected in_step(const Gauge& gauge, const TimedStep& step) const {
    Expected expected{GaugePressure::from_si(unknown), GaugePressure::from_si(unknown),
                      GaugePressure::from_si(unknown)};
    const auto point = std::ranges::find(script_.points, gauge.point, &GaugePoint::id);
    if (point == script_.points.end()) return expected;
    const Series& series = made_.series[static_cast<std::size_t>(point - script_.points.begin())];
    const auto [first, last] = samples_of(made_.times, step.begins, step.ends);
    double least = HUGE_VAL, most = -HUGE_VAL;
    for (std::size_t t = first; t <= last; ++t) {
      for (const double pressure : {series.low_draw[t], series.expected[t], series.high_draw[t]}) {
        if (std::isnan(pressure)) continue;
        least = std::min(least, pressure);
        most = std::max(most, pressure);
      }
    }
    if (least <= most)
      expected = {GaugePressure::from_si(least), GaugePressure::from_si(most),
                  GaugePressure::from_si(series.expected[last])};
    return expected;
  }

  void count_out(const Courses& courses) {
    const auto& high = courses.back().customers;
    for (const Index customer : script_.out) {
      const auto& moment = high[at(customer)].first_short;
      if (!moment) continue;
      ++made_.out_as_planned;
      if (!made_.first_out || *moment < *made_.first_out) made_.first_out = *moment;
    }
  }

  /// Each closing as if nobody went on.
  Result<bool> ways_back() {
    const Clock& clock = made_.clock;
    for (std::size_t k = 0; k < clock.closing.size(); ++k) {
      const std::size_t step = clock.closing[k];
      WayBackOnClock way{.step = step, .shutoff = *shutoff_of(script_, script_.steps[step])};
      way.shut = clock.steps[step].ends;
      way.undo = script_.steps[step].undo;
      BELLHOLE_TRY(first, first_short(k + 1, way));
      static_cast<void>(first);
      if (way.short_at && way.undo) {
        way.latest = *way.short_at - *way.undo;
        way.no_return = *way.latest < way.shut;
      }
      made_.ways.push_back(way);
    }
    return true;
  }

  Result<bool> first_short(std::size_t closings, WayBackOnClock& way) {
    network::Course course =
        course_of(movements(script_, made_.clock, closings, false), network::LoadCase::high,
                  opening_at(network::LoadCase::high), Duration::from_si(HUGE_VAL));
    course.drawing = network::Drawing::constant;
    course.lasts = way.shut + question_.looks_ahead;
    BELLHOLE_TRY(followed, question_.model.follow(course, watch_));
    BELLHOLE_TRY(had_gas, question_.model.reached(question_.begins));
    for (std::size_t c = 0; c < followed.customers.size(); ++c) {
      const auto& moment = followed.customers[c].first_short;
      const auto customer = static_cast<Index>(c);
      if (!moment || had_gas[c] == 0 || std::ranges::binary_search(script_.out, customer)) continue;
      // Short before anything was shut: opening again brings nobody back.
      if (*moment < made_.clock.steps[made_.clock.closing.front()].begins) continue;
      if (way.short_at && *way.short_at <= *moment) continue;
      way.short_at = moment;
      way.customer = customer;
    }
    return true;
  }

  const RehearseQuestion& question_;
  const Script& script_;
  Watch& watch_;
  Rehearsal made_;
};

}  // namespace

std::pair<std::size_t, std::size_t> samples_of(const std::vector<Duration>& times, Duration begins,
                                               Duration ends) {
  const auto first = std::ranges::lower_bound(times, begins);
  auto last = std::ranges::upper_bound(times, ends);
  if (first == times.end()) return {times.size() - 1, times.size() - 1};
  const auto from = static_cast<std::size_t>(first - times.begin());
  const auto to = static_cast<std::size_t>(last - times.begin());
  return {from, std::max(from, to == 0 ? 0 : to - 1)};
}

Result<Rehearsal> rehearse(const RehearseQuestion& question, Watch& watch) {
  return Rehearsing(question, watch).go();
}

}  // namespace bellhole::plan
