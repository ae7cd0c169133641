#include "network/transient_record.hpp"

#include <algorithm>
#include <cmath>

namespace bellhole::network {
namespace {

const double unknown = std::numeric_limits<double>::quiet_NaN();
/// As in the steady state: springs give by less.
constexpr double at_limit_pa = 1.0;

}  // namespace

Record::Record(const Model::Prepared& prepared, const Course& course, const Parts& parts)
    : prepared_(prepared), course_(course), parts_(parts) {
  const Network& network = *prepared.network;
  for (const Watched& watched : course.watched) places_.push_back(place_of(watched));
  made.pressures.resize(places_.size());
  made.customers.assign(network.customers.size(), {.first_short = std::nullopt,
                                                   .lowest = GaugePressure::from_si(unknown),
                                                   .lowest_at = Duration::from_si(unknown)});
  for (std::size_t c = 0; c < network.customers.size(); ++c) {
    const double height = prepared.points.height[at(prepared.points.of_customer[c])];
    const double potential = parts.laid.altitude.reduced(parts.laid.least[c] - at_limit_pa, height);
    least_.push_back(prepared.gas.pressure(potential));
  }
  lowest_.assign(network.customers.size(), HUGE_VAL);
  made.tiers.resize(network.tiers.size());
  for (std::size_t t = 0; t < network.tiers.size(); ++t) {
    made.tiers[t].pressure = GaugePressure::from_si(unknown);
    made.tiers[t].limit = network.tiers.maop[t];
  }
  made.reversed.resize(network.regulators.size());
  made.wide_open.resize(network.regulators.size());
}

Record::Place Record::place_of(const Watched& watched) const {
  const Points& points = prepared_.points;
  Place place;
  if (watched.pipe == none) {
    place.a = watched.node != none ? watched.node : points.of_customer[at(watched.customer)];
    place.b = place.a;
    place.height = points.height[at(place.a)];
    return place;
  }
  const Index segment = points.segment_at(watched.pipe, watched.station.si());
  const Index k = segment - points.first_segment(watched.pipe) + points.first[at(watched.pipe)];
  const double length = std::max(points.length[at(segment)], 1e-9);
  const double share =
      std::clamp((watched.station.si() - points.station[at(k)]) / length, 0.0, 1.0);
  place.a = points.a[at(segment)];
  place.b = points.b[at(segment)];
  place.height = points.height[at(place.a)] +
                 share * (points.height[at(place.b)] - points.height[at(place.a)]);
  // On one side of a shut place the pressure is that of the point on that side.
  if (watched.toward < 0) place.b = place.a;
  if (watched.toward > 0) place.a = place.b;
  place.share = place.a == place.b ? 0.0 : share;
  return place;
}

double Record::gauge(std::size_t point, double reduced_pa) const {
  return parts_.laid.altitude.gauge(prepared_.gas.potential(reduced_pa),
                                    prepared_.points.height[point]);
}

void Record::sample(double seconds, const std::vector<double>& reduced) {
  made.sampled.push_back(Duration::from_si(seconds));
  for (std::size_t w = 0; w < places_.size(); ++w) {
    const Place& place = places_[w];
    const double a = prepared_.gas.potential(reduced[at(place.a)]);
    const double b = prepared_.gas.potential(reduced[at(place.b)]);
    const double here = a + place.share * (b - a);
    made.pressures[w].push_back(
        GaugePressure::from_si(parts_.laid.altitude.gauge(here, place.height)));
  }
}

void Record::look_at_tiers(const std::vector<double>& reduced, double seconds) {
  const Network& network = *prepared_.network;
  for (std::size_t i = 0; i < network.nodes.size(); ++i) {
    const Index tier = network.nodes.tier[i];
    if (tier == none) continue;
    Peak& peak = made.tiers[at(tier)];
    const double pressure = gauge(i, reduced[i]);
    if (pressure > peak.limit.si() + at_limit_pa && !peak.first_over) {
      peak.first_over = Duration::from_si(seconds);
    }
    if (peak.node != none && pressure <= peak.pressure.si()) continue;
    peak.node = static_cast<Index>(i);
    peak.pressure = GaugePressure::from_si(pressure);
    peak.at = Duration::from_si(seconds);
  }
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
  for (std::size_t c = 0; c < least_.size(); ++c) {
    if (!(parts_.wanted[c] > 0.0)) continue;
    const double p = stepper.now()[at(prepared_.points.of_customer[c])];
    Shortfall& customer = made.customers[c];
    if (p < lowest_[c]) {
      lowest_[c] = p;
      customer.lowest_at = Duration::from_si(seconds);
    }
    if (p < least_[c] && !customer.first_short) customer.first_short = Duration::from_si(seconds);
  }
}

void Record::begin(const Stepper& stepper, const Rates& rates) {
  sample(0.0, stepper.now());
  next_sample_ = course_.sample_every.si();
  look_at_tiers(stepper.now(), 0.0);
  look_at_regulators(rates, 0.0);
}

void Record::look_at_customers(const Stepper& stepper, double seconds, double h) {
  for (std::size_t c = 0; c < least_.size(); ++c) {
    if (!(parts_.wanted[c] > 0.0)) continue;
    const std::size_t i = at(prepared_.points.of_customer[c]);
    const double y0 = stepper.now()[i], y1 = stepper.tried()[i];
    const double d0 = stepper.slope_now(i), d1 = stepper.slope_tried(i);
    double least = y1, where = 1.0;
    // A dip inside the step.
    if (d0 < 0.0 && d1 > 0.0) {
      for (double s = 0.125; s < 1.0; s += 0.125) {
        const double y = numerics::esdirk::between(s, h, y0, d0, y1, d1);
        if (y >= least) continue;
        least = y;
        where = s;
      }
    }
    Shortfall& customer = made.customers[c];
    if (least < lowest_[c]) {
      lowest_[c] = least;
      customer.lowest_at = Duration::from_si(seconds + where * h);
    }
    if (least >= least_[c] || customer.first_short) continue;
    double low = 0.0, high = where;
    constexpr int halvings = 40;
    for (int k = 0; k < halvings && y0 >= least_[c]; ++k) {
      const double middle = 0.5 * (low + high);
      const double y = numerics::esdirk::between(middle, h, y0, d0, y1, d1);
      (y < least_[c] ? high : low) = middle;
    }
    customer.first_short = Duration::from_si(seconds + (y0 >= least_[c] ? high : 0.0) * h);
  }
}

void Record::step(const Stepper& stepper, const Rates& rates, double seconds, double h) {
  look_at_customers(stepper, seconds, h);
  look_at_tiers(stepper.tried(), seconds + h);
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
    sample(next_sample_, scratch_);
  }
  if (seconds + h >= end - 1e-6) sample(end, stepper.tried());
}

void Record::end(const Stepper& stepper, const Rates& rates) {
  for (std::size_t c = 0; c < least_.size(); ++c) {
    if (std::isfinite(lowest_[c])) {
      const Index point = prepared_.points.of_customer[c];
      made.customers[c].lowest = GaugePressure::from_si(gauge(at(point), lowest_[c]));
    }
  }
  for (std::size_t i = 0; i < prepared_.network->nodes.size(); ++i) {
    made.node_pressure.push_back(GaugePressure::from_si(gauge(i, stepper.now()[i])));
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
