// Sources, regulators and customers as elements on the unknowns of a skeleton.
//
// Internal to network/.
#pragma once

#include <vector>

#include "network/prepared.hpp"

namespace bellhole::network {

enum class SourceMode : char { feeds, at_capacity, idle };
enum class ValveMode : char { controls, wide_open, closed };

/// A spring between the source's pressure and its node: flow = stiffness (rest - potential).
struct SourceItem {
  std::size_t index = 0;
  Index node = none;  ///< unknown
  double rest = 0.0, stiffness = 0.0;
  double capacity = 0.0;  ///< kg/s; infinite where none is recorded
  double soft = 0.0;  ///< stiffness beyond capacity: a hundredth of it down to no pressure at all
  double flow = 0.0, step = 0.0;
  SourceMode mode = SourceMode::feeds;
};

/// A regulator. Controlling, it is a spring between its set point and the point it feels; wide
/// open, a resistance from inlet to outlet.
struct ValveItem {
  std::size_t index = 0;
  Index inlet = none, outlet = none;  ///< unknowns
  Index felt = none;                  ///< unknown; none when no gas is at the sensing point
  double dead = 0.0;                  ///< potential felt then: the air's
  double rest = 0.0, stiffness = 0.0;
  double square = 0.0, linear = 0.0;  ///< wide open: loss = square q|q| + linear q
  bool may_reverse = true, parted = false;
  double flow = 0.0, step = 0.0;
  ValveMode mode = ValveMode::controls;
  int turns = 0;  ///< from passing gas backwards, or without its own outlet in view, to closed

  [[nodiscard]] double wide_open_loss(double kg_per_s) const;
  [[nodiscard]] double wide_open_slope(double kg_per_s) const;  ///< d loss / d flow
  [[nodiscard]] double wide_open_flow(double loss) const;       ///< inverse of wide_open_loss
};

struct Equipment {
  std::vector<SourceItem> sources;  ///< not shut
  std::vector<ValveItem> valves;    ///< not shut, with gas on one side at least
  double level = 0.0;               ///< highest potential of a source, Pa2
};

/// Share of its set point's potential by which a regulator gives at the scenario's whole flow.
inline constexpr double regulator_gives = 1e-7;

Equipment make_equipment(const Model::Prepared& prepared, const Skeleton& skeleton,
                         const Case& laid, double give = regulator_gives);

/// Every length of main is given at least this loss, linear in the flow: at the scenario's whole
/// flow 1e-9 of the level (0.0003 Pa at 60 psig), so that mains a metre wide and a hand long leave
/// the matrix its last digits.
double least_resistance(const Equipment& equipment, const Case& laid);

/// What a customer draws by the potential at his point.
struct Draw {
  Index unknown = none;
  double full = 0.0;                      ///< kg/s
  double none_at = 0.0, full_from = 0.0;  ///< potentials
  bool off = false;                       ///< under no pressure it draws nothing (a starved valley)

  struct Taken {
    double flow = 0.0, slope = 0.0;
  };
  /// 1 - (1 - y)^2 of the full load, y running with the potential from 0 at no pressure to 1 at the
  /// least pressure: it leaves the full load without a kink. Under no pressure it runs on with the
  /// slope that it has there, which leads steps home, unless the customer is off.
  [[nodiscard]] Taken taken(double potential) const;
};
Draw draw_of(const Model::Prepared& prepared, const Skeleton& skeleton, const Case& laid,
             std::size_t customer);

/// Of all customers with gas and a load.
std::vector<Draw> make_draws(const Model::Prepared& prepared, const Skeleton& skeleton,
                             const Case& laid);

}  // namespace bellhole::network
