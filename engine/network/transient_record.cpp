#include "network/transient_record.hpp"

#include <algorithm>
#include <cmath>

namespace bellhole::network {
namespace {

const double unknown = std::numeric_limits<double>::quiet_NaN();
/// As in the steady state: springs give by less.
constexpr double at_limit_pa = 1.0;

/// Where y(s), y0 at 0 and y1 at `end`, comes down to `limit`: false position, halved where it
/// clings to one end (Illinois).
template <class F>
double falls_to(double limit, double end, double y0, double y1, const F& y) {
  constexpr int most = 60;
  constexpr double close = 1e-12;
  double low = 0.0, high = end, f_low = y0 - limit, f_high = y1 - limit;
  int side = 0;
  for (int k = 0; k < most && high - low > close; ++k) {
    const double s = f_low > 0.0 ? (low * f_high - high * f_low) / (f_high - f_low) : low;
    const double f = y(s) - limit;
    if (std::abs(f) <= close * limit) return s;
    if (f > 0.0) {
      low = s;
      f_low = f;
      if (side == 1) f_high *= 0.5;
      side = 1;
    } else {
      high = s;
      f_high = f;
      if (side == -1) f_low *= 0.5;
      side = -1;
    }
  }
  return high;
}

}  // namespace

Record::Record(const Model::Prepared& prepared, const Course& course, const Parts& parts,
               const Order& order)
    : prepared_(prepared), course_(course), parts_(parts), order_(order) {
  const Network& network = *prepared.network;
  for (const Watched& watched : course.watched) places_.push_back(place_of(watched));
  made.pressures.resize(places_.size());
  made.customers.assign(network.customers.size(), {.first_short = std::nullopt,
                                                   .lowest = GaugePressure::from_si(unknown),
                                                   .lowest_at = Duration::from_si(unknown)});
  const auto reduced = [&](double gauge_pa, std::size_t point) {
    return prepared.gas.pressure(
        parts.laid.altitude.reduced(gauge_pa, prepared.points.height[point]));
  };
  least_.resize(network.customers.size());
  for (std::size_t k = 0; k < parts.by_row.size(); ++k) {
    const std::size_t c = at(parts.by_row[k]);
    const std::size_t before = at(parts.by_row[k == 0 ? 0 : k - 1]);
    const bool alike = k > 0 &&
                       prepared.points.of_customer[before] == prepared.points.of_customer[c] &&
                       parts.laid.least[before] == parts.laid.least[c];
    least_[c] =
        alike ? least_[before]
              : reduced(parts.laid.least[c] - at_limit_pa, at(prepared.points.of_customer[c]));
  }
  lowest_.assign(network.customers.size(), HUGE_VAL);
  made.tiers.resize(network.tiers.size());
  for (std::size_t t = 0; t < network.tiers.size(); ++t) {
    made.tiers[t].pressure = GaugePressure::from_si(unknown);
    made.tiers[t].limit = network.tiers.maop[t];
  }
  highest_.assign(network.nodes.size(), -HUGE_VAL);
  highest_at_.resize(network.nodes.size());
  for (std::size_t i = 0; i < network.nodes.size(); ++i) {
    const Index tier = network.nodes.tier[i];
    const double limit = tier == none ? unknown : network.tiers.maop[at(tier)].si();
    over_.push_back(std::isnan(limit) ? HUGE_VAL : reduced(limit + at_limit_pa, i));
  }
  made.leaks.resize(course.leaks.size());
  lost_.resize(parts.leaks.size());
  lost_inside_.resize(parts.leaks.size());
  made.reversed.resize(network.regulators.size());
  made.wide_open.resize(network.regulators.size());
}

Record::Place Record::place_of(const Watched& watched) const {
  const Points& points = prepared_.points;
  Place place;
  if (watched.pipe == none) {
    const Index point =
        watched.node != none ? watched.node : points.of_customer[at(watched.customer)];
    place.a = place.b = order_.row[at(point)];
    place.height = points.height[at(point)];
    return place;
  }
  const Index segment = points.segment_at(watched.pipe, watched.station.si());
  const Index k = segment - points.first_segment(watched.pipe) + points.first[at(watched.pipe)];
  const double length = std::max(points.length[at(segment)], 1e-9);
  const double share =
      std::clamp((watched.station.si() - points.station[at(k)]) / length, 0.0, 1.0);
  const Index a = points.a[at(segment)], b = points.b[at(segment)];
  place.a = order_.row[at(a)];
  place.b = order_.row[at(b)];
  place.height = points.height[at(a)] + share * (points.height[at(b)] - points.height[at(a)]);
  // On one side of a shut place the pressure is that of the point on that side.
  if (watched.toward < 0) place.b = place.a;
  if (watched.toward > 0) place.a = place.b;
  place.share = place.a == place.b ? 0.0 : share;
  return place;
}

double Record::gauge(std::size_t point, double reduced_pa) const {
  const Altitude& altitude = parts_.laid.altitude;
  const double height = prepared_.points.height[point];
  return altitude.gas.at_rest_higher(reduced_pa, height) -
         gas::barometer_higher(altitude.barometer, height, altitude.air).si();
}

void Record::sample(double seconds, const std::vector<double>& reduced,
                    std::span<const double> lost) {
  made.sampled.push_back(Duration::from_si(seconds));
  for (Leaked& leak : made.leaks) leak.lost_by.emplace_back();
  for (std::size_t k = 0; k < lost.size(); ++k) {
    Mass& by = made.leaks[parts_.leaks[k].index].lost_by.back();
    by = by + Mass::from_si(lost[k]);
  }
  for (std::size_t w = 0; w < places_.size(); ++w) {
    const Place& place = places_[w];
    const double a = prepared_.gas.potential(reduced[at(place.a)]);
    const double b = prepared_.gas.potential(reduced[at(place.b)]);
    const double here = a + place.share * (b - a);
    made.pressures[w].push_back(
        GaugePressure::from_si(parts_.laid.altitude.gauge(here, place.height)));
  }
}

/// Highest pressures by node; which of them is the highest of its tier is asked in the end.
void Record::look_at_nodes(const std::vector<double>& reduced, double seconds) {
  for (std::size_t i = 0; i < highest_.size(); ++i) {
    const double p = reduced[at(order_.row[i])];
    if (!(p > highest_[i])) continue;
    highest_[i] = p;
    highest_at_[i] = seconds;
    if (!(p > over_[i])) continue;
    Peak& peak = made.tiers[at(prepared_.network->nodes.tier[i])];
    if (!peak.first_over) peak.first_over = Duration::from_si(seconds);
  }
}

void Record::end_tiers() {
  for (std::size_t i = 0; i < highest_.size(); ++i) {
    const Index tier = prepared_.network->nodes.tier[i];
    if (tier == none) continue;
    Peak& peak = made.tiers[at(tier)];
    const double pressure = gauge(i, highest_[i]);
    const bool higher = peak.node == none || pressure > peak.pressure.si() ||
                        (pressure == peak.pressure.si() && highest_at_[i] < peak.at.si());
    if (!higher) continue;
    peak.node = static_cast<Index>(i);
    peak.pressure = GaugePressure::from_si(pressure);
    peak.at = Duration::from_si(highest_at_[i]);
  }
}

void Record::look_at_leaks(const Stepper& stepper) {
  for (Leaked& leak : made.leaks) leak.flow = {};
  for (std::size_t k = 0; k < lost_.size(); ++k) {
    Leaked& leak = made.leaks[parts_.leaks[k].index];
    lost_[k] += stepper.passed_leaks()[k];
    leak.lost = leak.lost + Mass::from_si(stepper.passed_leaks()[k]);
    leak.flow = leak.flow + MassFlow::from_si(stepper.leaks_tried()[k]);
  }
  for (Leaked& leak : made.leaks) leak.most = std::max(leak.most, leak.flow);
}

void Record::look_at_regulators(const Rates& rates, double seconds) {
  for (std::size_t v = 0; v < parts_.valves.size(); ++v) {
    const std::size_t r = parts_.valves[v].item.index;
    const bool backwards = rates.valve_flow()[v] < -1e-9 * parts_.laid.scale;
    if (backwards && !made.reversed[r]) made.reversed[r] = Duration::from_si(seconds);
    if (rates.wide_open(v) && !backwards && !made.wide_open[r]) {
      made.wide_open[r] = Duration::from_si(seconds);
    }
  }
}

void Record::moment(const Stepper& stepper, double seconds) {
  lowest_to_customers();
  served_.clear();
  for (std::size_t k = 0; k < parts_.by_row.size(); ++k) {
    const std::size_t c = at(parts_.by_row[k]);
    const std::size_t row = at(order_.row[at(prepared_.points.of_customer[c])]);
    if (served_.empty() || served_.back().row != row) {
      served_.push_back({row, k, k, k, stepper.now()[row], seconds});
    }
    served_.back().last = k + 1;
  }
  for (Served& served : served_) are_short(served, served.lowest, seconds);
}

/// Everybody of a row whose least pressure is above `lowest` is short, at the latest now.
void Record::are_short(Served& served, double lowest, double seconds) {
  for (; served.next < served.last; ++served.next) {
    const std::size_t c = at(parts_.by_row[served.next]);
    if (!(lowest < least_[c])) return;
    if (parts_.meters_now[c] != 0 || made.customers[c].first_short) continue;
    made.customers[c].first_short = Duration::from_si(seconds);
  }
}

/// What the rows saw since the last moment, to those whose meters stand open: a pilot flame goes
/// out where no load is on record, and where none is drawn at this hour.
void Record::lowest_to_customers() {
  for (const Served& served : served_) {
    for (std::size_t k = served.first; k < served.last; ++k) {
      const std::size_t c = at(parts_.by_row[k]);
      if (parts_.meters_now[c] != 0 || !(served.lowest < lowest_[c])) continue;
      lowest_[c] = served.lowest;
      made.customers[c].lowest_at = Duration::from_si(served.lowest_at);
    }
  }
}

void Record::begin(Stepper& stepper, const Rates& rates) {
  for (std::size_t c = 0; c < least_.size(); ++c) {
    stepper.reads(at(order_.row[at(prepared_.points.of_customer[c])]), least_[c]);
  }
  for (const Place& place : places_) {
    for (const Index row : {place.a, place.b}) {
      if (!(course_.sample_every.si() > 0.0)) continue;
      stepper.reads(at(row), 0.0);
      stepper.reads(at(row), HUGE_VAL);
    }
  }
  sample(0.0, stepper.now(), lost_);
  next_sample_ = course_.sample_every.si();
  look_at_nodes(stepper.now(), 0.0);
  look_at_regulators(rates, 0.0);
}

void Record::look_at_customers(const Stepper& stepper, double seconds, double h) {
  for (Served& served : served_) {
    const std::size_t i = served.row;
    const double y0 = stepper.now()[i], y1 = stepper.tried()[i];
    const double d0 = stepper.slope_now(i), d1 = stepper.slope_tried(i);
    const auto between = [&](double s) { return numerics::esdirk::between(s, h, y0, d0, y1, d1); };
    double least = y1, where = 1.0;
    if (d0 < 0.0 && d1 > 0.0) {  // a dip inside the step
      for (double s = 0.125; s < 1.0; s += 0.125) {
        const double y = between(s);
        if (y >= least) continue;
        least = y;
        where = s;
      }
    }
    if (least < served.lowest) {
      served.lowest = least;
      served.lowest_at = seconds + where * h;
    }
    while (served.next < served.last && least < least_[at(parts_.by_row[served.next])]) {
      const double limit = least_[at(parts_.by_row[served.next])];
      const double when =
          y0 < limit ? 0.0
                     : falls_to(limit, where, y0, least, [&](double s) { return between(s); });
      are_short(served, std::nextafter(limit, 0.0), seconds + when * h);
    }
  }
}

void Record::step(const Stepper& stepper, const Rates& rates, double seconds, double h) {
  look_at_customers(stepper, seconds, h);
  look_at_nodes(stepper.tried(), seconds + h);
  look_at_regulators(rates, seconds + h);
  const double every = course_.sample_every.si();
  const double end = course_.lasts.si();
  scratch_.resize(stepper.now().size());
  for (; every > 0.0 && next_sample_ <= seconds + h && next_sample_ < end - 1e-6;
       next_sample_ = every * static_cast<double>(made.sampled.size())) {
    const double s = (next_sample_ - seconds) / h;
    for (std::size_t i = 0; i < scratch_.size(); ++i) {
      scratch_[i] = numerics::esdirk::between(s, h, stepper.now()[i], stepper.slope_now(i),
                                              stepper.tried()[i], stepper.slope_tried(i));
    }
    for (std::size_t k = 0; k < lost_.size(); ++k) {
      lost_inside_[k] =
          numerics::esdirk::between(s, h, lost_[k], stepper.leaks_now()[k],
                                    lost_[k] + stepper.passed_leaks()[k], stepper.leaks_tried()[k]);
    }
    sample(next_sample_, scratch_, lost_inside_);
  }
  look_at_leaks(stepper);
  if (seconds + h >= end - 1e-6) sample(end, stepper.tried(), lost_);
}

void Record::end(const Stepper& stepper, const Rates& rates) {
  lowest_to_customers();
  end_tiers();
  for (std::size_t c = 0; c < least_.size(); ++c) {
    if (std::isfinite(lowest_[c])) {
      const Index point = prepared_.points.of_customer[c];
      made.customers[c].lowest = GaugePressure::from_si(gauge(at(point), lowest_[c]));
    }
  }
  for (std::size_t i = 0; i < prepared_.network->nodes.size(); ++i) {
    made.node_pressure.push_back(
        GaugePressure::from_si(gauge(i, stepper.now()[at(order_.row[i])])));
  }
  made.source_flow.resize(prepared_.network->sources.size());
  made.regulator_flow.resize(prepared_.network->regulators.size());
  for (std::size_t s = 0; s < parts_.sources.size(); ++s) {
    made.source_flow[parts_.sources[s].item.index] = MassFlow::from_si(rates.source_flow()[s]);
  }
  for (std::size_t v = 0; v < parts_.valves.size(); ++v) {
    made.regulator_flow[parts_.valves[v].item.index] = MassFlow::from_si(rates.valve_flow()[v]);
  }
}

}  // namespace bellhole::network
