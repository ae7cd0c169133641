#include "ask/shutting.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "ask/place.hpp"
#include "units/parse.hpp"

namespace bellhole::ask {
namespace {

using network::Index;
using network::Network;

Index index_in(const std::vector<std::string>& ids, const std::string& text) {
  const auto found = std::ranges::find(ids, text);
  return found == ids.end() ? network::none : static_cast<Index>(found - ids.begin());
}

/// A valve in half a second, a squeeze in the same: "at once", without a jump in the laws.
constexpr double at_once_s = 0.5;

}  // namespace

Result<bool> shut(const Question& question, const Network& network, const std::string& text,
                  network::Scenario& scenario) {
  if (const Index v = index_in(network.valves.id, text); v != network::none) {
    scenario.valves.push_back({v, network::Position::closed});
    return true;
  }
  if (const Index r = index_in(network.regulators.id, text); r != network::none) {
    scenario.regulators_shut.push_back(r);
    return true;
  }
  if (const Index s = index_in(network.sources.id, text); s != network::none) {
    scenario.sources_shut.push_back(s);
    return true;
  }
  if (const Index p = index_in(network.pipes.id, text); p != network::none) {
    const auto& length = network.pipes.length[static_cast<std::size_t>(p)];
    scenario.closures.push_back({p, Length()});
    scenario.closures.push_back({p, length});
    question.assumed.push_back(fmt::format(
        "main {} is shut at both of its ends; name a station to shut it at one place", text));
    return true;
  }
  if (text.find('@') == std::string::npos) {
    return trouble(Code::unknown_element, "close", text,
                   "name a valve, a regulator, a source, a main, or a main's place as ID@STATION");
  }
  BELLHOLE_TRY(work, place_on_pipe(network, text, question.assumed));
  scenario.closures.push_back({work.pieces.front().pipe, work.pieces.front().begin});
  return true;
}

Shutting shutting(const network::Scenario& shut, const network::Scenario& open, Duration takes) {
  Shutting made;
  const Duration end = std::max(takes, Duration::from_si(at_once_s));
  const std::vector<network::Travel> travel{{Duration{}, 1.0}, {end, 0.0}};
  for (std::size_t k = open.closures.size(); k < shut.closures.size(); ++k) {
    made.movers.push_back({.place = shut.closures[k], .travel = travel});
  }
  for (std::size_t k = open.valves.size(); k < shut.valves.size(); ++k) {
    made.movers.push_back({.valve = shut.valves[k].valve, .travel = travel});
  }
  const auto shuts = [&](network::SwitchKind kind, const std::vector<Index>& now,
                         const std::vector<Index>& before) {
    for (std::size_t k = before.size(); k < now.size(); ++k) {
      made.switches.push_back({Duration{}, kind, now[k], true});
    }
  };
  shuts(network::SwitchKind::regulator, shut.regulators_shut, open.regulators_shut);
  shuts(network::SwitchKind::source, shut.sources_shut, open.sources_shut);
  return made;
}

Result<network::Watched> gauge_place(const Question& question, const Network& network,
                                     const std::string& text) {
  if (const Index node = index_in(network.nodes.id, text); node != network::none) {
    return network::Watched{.node = node};
  }
  if (const Index customer = index_in(network.customers.id, text); customer != network::none) {
    return network::Watched{.customer = customer};
  }
  if (text.find('@') == std::string::npos) {
    return trouble(Code::unknown_element, "gauge", text,
                   "name a node, a customer, or a main's place as ID@STATION");
  }
  BELLHOLE_TRY(place, place_on_pipe(network, text, question.assumed));
  return network::Watched{.pipe = place.pieces.front().pipe, .station = place.pieces.front().begin};
}

Result<double> clock_hour(const std::string& text, const std::string& where) {
  const auto colon = text.find(':');
  const auto fix = "give a time of the day as HH:MM";
  if (colon == std::string::npos) return trouble(Code::unreadable_value, where, text, fix);
  BELLHOLE_TRY(hour, units::parse_number(text.substr(0, colon), where));
  BELLHOLE_TRY(minute, units::parse_number(text.substr(colon + 1), where));
  if (!(hour >= 0.0 && hour <= 24.0 && minute >= 0.0 && minute < 60.0)) {
    return trouble(Code::out_of_range, where, text, fix);
  }
  return hour + minute / 60.0;
}

Duration since(double hour_then, double hour_now) {
  constexpr double hour_s = 3600.0, day_h = 24.0;
  const double hours = hour_then - hour_now;
  return Duration::from_si((hours > 0.0 ? hours : hours + day_h) * hour_s);
}

}  // namespace bellhole::ask
