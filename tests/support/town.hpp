// Builds networks by hand for tests: every column of every row is filled, with plain defaults.
#pragma once

#include <cmath>
#include <string>

#include "network/columns.hpp"

namespace bellhole::support {

inline constexpr double inch = 0.0254;
inline constexpr double foot = 0.3048;
inline constexpr double psi = 6894.757293168;
inline constexpr double inch_of_water = 249.08891;
inline constexpr double cubic_foot_per_hour = foot * foot * foot / 3600.0;
inline const double unknown = std::nan("");

/// A network under construction. Levels, sizes and names are the caller's; loads are constant over
/// the day and the temperature unless a heating share is given.
class Town {
 public:
  Town();

  network::Index tier(std::string id, double maop_pa, double least_pa);
  network::Index node(std::string id, network::Index tier, double x = 0.0, double y = 0.0,
                      double height = 0.0);
  network::Index pipe(std::string id, network::Index from, network::Index to, double length_m,
                      double bore_m);
  network::Index customer(std::string id, network::Index pipe, double station_m,
                          double base_std_m3_per_s, double per_k = 0.0, double least_pa = unknown);
  network::Index source(std::string id, network::Index node, double pressure_pa,
                        double capacity = unknown);
  network::Index regulator(std::string id, network::Index inlet, network::Index outlet,
                           double set_pa, double capacity = unknown);
  network::Index valve(std::string id, network::Index pipe, double station_m,
                       network::Position position = network::Position::open);

  network::Network net;
};

}  // namespace bellhole::support
