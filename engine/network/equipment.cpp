#include "network/equipment.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace bellhole::network {
namespace {

constexpr double source_gives = 1e-9;  // of the potential, at the whole flow of the scenario
/// Wide open, a regulator's loss has this share linear in the flow, so that one without flow has a
/// slope.
constexpr double linear_share = 1e-4;
/// A recorded design inlet hardly above the set point still leaves this share of the set point's
/// potential.
constexpr double least_design_loss = 0.01;
/// What a regulator without recorded capacity loses wide open at the whole flow: next to nothing.
constexpr double no_loss = 1e-8;
constexpr double softness = 0.01;
constexpr double least_loss = 1e-9;  // of the level, along any length of main at the whole flow

SourceItem source_item(const Model::Prepared& prepared, const Skeleton& skeleton, const Case& laid,
                       std::size_t s) {
  const auto& table = prepared.network->sources;
  const Index node = table.node[s];
  SourceItem item{.index = s, .node = skeleton.core[at(node)]};
  item.rest = laid.altitude.reduced(table.pressure[s].si(), prepared.points.height[at(node)]);
  item.stiffness = laid.scale / (source_gives * item.rest);
  const double capacity = table.capacity[s].si() * prepared.kg_per_std_m3;
  const bool limited = !std::isnan(capacity);
  item.capacity = limited ? capacity : std::numeric_limits<double>::infinity();
  item.soft = std::max(limited ? softness * capacity : 0.0, 1e-6 * laid.scale) / item.rest;
  return item;
}

/// Wide open it loses what it loses at its design point: inlet at its least (or, where that is not
/// recorded, at the highest that its inlet may see: the unsafe end), outlet at the set point, flow
/// at capacity.
void set_capacity(const Model::Prepared& prepared, const Case& laid, ValveItem& item) {
  const auto& table = prepared.network->regulators;
  const std::size_t r = item.index;
  const double capacity = table.capacity[r].si() * prepared.kg_per_std_m3;
  if (!(capacity > 0.0)) {
    item.linear = no_loss * item.rest / laid.scale;
    return;
  }
  const double least = table.least_inlet[r].si();
  const double design = std::isnan(least) ? prepared.supply[r] : least;
  const double from = laid.altitude.reduced(design, prepared.points.height[at(table.inlet[r])]);
  const double loss = std::max(from - item.rest, least_design_loss * item.rest);
  item.square = (1.0 - linear_share) * loss / (capacity * capacity);
  item.linear = linear_share * loss / capacity;
}

ValveItem valve_item(const Model::Prepared& prepared, const Skeleton& skeleton, const Case& laid,
                     std::size_t r, double give) {
  const auto& table = prepared.network->regulators;
  const Index tap = laid.felt[r];
  const double height = prepared.points.height[at(tap)];
  ValveItem item{.index = r};
  item.inlet = skeleton.core[at(table.inlet[r])];
  item.outlet = skeleton.core[at(table.outlet[r])];
  item.felt = laid.live[at(tap)] != 0 ? skeleton.core[at(tap)] : none;
  item.dead = laid.altitude.reduced(0.0, height);
  item.rest = laid.altitude.reduced(table.set_point[r].si(), height);
  item.stiffness = laid.scale / (give * item.rest);
  item.parted = laid.tap_parted[r] != 0;
  item.may_reverse = table.blocks_reverse[r] != Ternary::yes;
  set_capacity(prepared, laid, item);
  return item;
}

}  // namespace

double ValveItem::wide_open_loss(double kg_per_s) const {
  return (square * std::abs(kg_per_s) + linear) * kg_per_s;
}
double ValveItem::wide_open_slope(double kg_per_s) const {
  return 2.0 * square * std::abs(kg_per_s) + linear;
}
double ValveItem::wide_open_flow(double loss) const {
  const double size = std::abs(loss);
  const double size_flow = 2.0 * size / (linear + std::sqrt(linear * linear + 4.0 * square * size));
  return loss < 0.0 ? -size_flow : size_flow;
}

Equipment make_equipment(const Model::Prepared& prepared, const Skeleton& skeleton,
                         const Case& laid, double give) {
  const Network& network = *prepared.network;
  Equipment made;
  for (std::size_t s = 0; s < network.sources.size(); ++s) {
    if (laid.source_shut[s] != 0) continue;
    made.sources.push_back(source_item(prepared, skeleton, laid, s));
    made.level = std::max(made.level, made.sources.back().rest);
  }
  for (std::size_t r = 0; r < network.regulators.size(); ++r) {
    const bool live = laid.live[at(network.regulators.inlet[r])] != 0 &&
                      laid.live[at(network.regulators.outlet[r])] != 0;
    if (laid.regulator_shut[r] == 0 && live) {
      made.valves.push_back(valve_item(prepared, skeleton, laid, r, give));
    }
  }
  return made;
}

double least_resistance(const Equipment& equipment, const Case& laid) {
  return least_loss * equipment.level / laid.scale;
}

Draw draw_of(const Model::Prepared& prepared, const Skeleton& skeleton, const Case& laid,
             std::size_t customer) {
  const Index point = prepared.points.of_customer[customer];
  const double height = prepared.points.height[at(point)];
  return {.unknown = skeleton.core[at(point)],
          .full = laid.wanted[customer],
          .none_at = laid.altitude.reduced(0.0, height),
          .full_from = laid.altitude.reduced(laid.least[customer], height)};
}

std::vector<Draw> make_draws(const Model::Prepared& prepared, const Skeleton& skeleton,
                             const Case& laid) {
  std::vector<Draw> draws;
  for (std::size_t c = 0; c < laid.wanted.size(); ++c) {
    const bool live = laid.live[at(prepared.points.of_customer[c])] != 0;
    if (live && laid.wanted[c] > 0.0) draws.push_back(draw_of(prepared, skeleton, laid, c));
  }
  return draws;
}

Draw::Taken Draw::taken(double potential) const {
  if (potential >= full_from) return {full, 0.0};
  if (off && potential < none_at) return {};
  const double width = full_from - none_at;
  const double y = (potential - none_at) / width;
  const double slope = 2.0 * full / width;
  if (y <= 0.0) return {2.0 * y * full, slope};
  return {y * (2.0 - y) * full, slope * (1.0 - y)};
}

}  // namespace bellhole::network
