#include <algorithm>
#include <optional>

#include "network/steady.hpp"

namespace bellhole::network {
namespace {

constexpr double step_k = 5.0;
constexpr double close_enough_k = 0.05;

/// Solves at temperatures near each other, each from the last.
class Walk {
 public:
  Walk(const Model& model, const Scenario& scenario) : model_(model), scenario_(scenario) {}

  /// Whether everybody holds at this air temperature.
  Result<bool> holds(double air_k) {
    scenario_.air = Temperature::from_si(air_k);
    auto state = model_.solve_if_carried(scenario_, last_ ? &*last_ : nullptr);
    if (!state) return std::unexpected(std::move(state).error());
    if (!state->has_value()) return false;
    last_ = std::move(*state);
    return true;
  }

 private:
  const Model& model_;
  Scenario scenario_;
  std::optional<SteadyState> last_;
};

}  // namespace

Result<LimitTemperature> limit_temperature(const Model& model, const Scenario& scenario,
                                           Temperature low, Temperature high) {
  LimitTemperature limit{.coldest_looked_at = low, .warmest_looked_at = high};
  Walk walk(model, scenario);
  double good = high.si();
  BELLHOLE_TRY(at_warmest, walk.holds(good));
  if (!at_warmest) return limit;
  double bad = good;
  while (good > low.si()) {
    const double next = std::max(low.si(), good - step_k);
    BELLHOLE_TRY(held, walk.holds(next));
    if (!held) {
      bad = next;
      break;
    }
    good = next;
  }
  limit.holds_at_coldest = bad >= good;
  while (bad < good && good - bad > close_enough_k) {
    const double middle = 0.5 * (good + bad);
    BELLHOLE_TRY(held, walk.holds(middle));
    (held ? good : bad) = middle;
  }
  limit.holds_down_to = Temperature::from_si(good);
  return limit;
}

}  // namespace bellhole::network
