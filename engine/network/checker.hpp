// What the checks of a network have in common: saying a finding, and the words for elements.
// Internal to network/check*.cpp.
#pragma once

#include <fmt/format.h>

#include <cmath>
#include <span>
#include <string>
#include <vector>

#include "network/check.hpp"

namespace bellhole::network::checks {

inline std::size_t at(Index i) { return static_cast<std::size_t>(i); }
template <class Kind>
bool known(Quantity<Kind> value) {
  return std::isfinite(value.si());
}

/// Elements that share one thing to say. `about` lists them all; a sentence names the first few.
struct Group {
  std::vector<std::string> ids;
  void add(const std::string& id) { ids.push_back(id); }
  [[nodiscard]] std::string all() const { return joined(ids.size()); }
  [[nodiscard]] std::string few() const {
    constexpr std::size_t shown = 5;
    return ids.size() <= shown ? joined(ids.size())
                               : fmt::format("{} and {} more", joined(shown), ids.size() - shown);
  }

 private:
  [[nodiscard]] std::string joined(std::size_t count) const {
    return fmt::format("{}", fmt::join(std::span(ids).first(count), ", "));
  }
};

class Checker {
 public:
  Checker(const Network& network, units::System system, const CheckLimits& limits,
          Findings& findings)
      : n_(network), system_(system), limits_(limits), findings_(findings) {}

 protected:
  Finding& say(const char* rule, Grade grade, std::string about, std::string says,
               std::string action);
  /// One undecided finding for all elements of a group; none for an empty one.
  void unknown(const char* rule, const Group& group, const std::string& what,
               const std::string& action);
  /// Says when a set pressure lies above the MAOP of its tier.
  void above_maop(const std::string& what, GaugePressure pressure, Index tier, const char* verb);
  /// Says when something stands beyond the end of its pipe.
  void station(const std::string& what, Index on, Length where);

  template <class Kind>
  [[nodiscard]] std::string print(Quantity<Kind> value) const {
    return units::print(value, system_);
  }
  [[nodiscard]] std::string pipe(Index i) const { return "pipe " + n_.pipes.id[at(i)]; }
  [[nodiscard]] std::string node(Index i) const { return "node " + n_.nodes.id[at(i)]; }

  const Network& n_;
  units::System system_;
  const CheckLimits& limits_;

 private:
  Findings& findings_;
};

/// Sources, tiers, nodes, what is fed, pipes.
void check_grid(const Network& network, units::System system, const CheckLimits& limits,
                Findings& findings);
/// Valves, regulators, loads, features.
void check_equipment(const Network& network, units::System system, const CheckLimits& limits,
                     Findings& findings);

}  // namespace bellhole::network::checks
