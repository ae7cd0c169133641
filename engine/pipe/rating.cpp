#include "pipe/rating.hpp"

namespace bellhole::pipe {

std::optional<Stress> hdb_at(std::optional<Stress> at_73, std::optional<Stress> at_140,
                             Temperature temperature) {
  if (temperature <= hdb_low_temperature) return at_73;
  if (!at_73 || !at_140 || temperature > hdb_high_temperature) return std::nullopt;
  const double low = 1.0 / hdb_low_temperature.si();
  const double high = 1.0 / hdb_high_temperature.si();
  const double fraction = (low - 1.0 / temperature.si()) / (low - high);
  return *at_73 - (*at_73 - *at_140) * fraction;
}

GaugePressure design_pressure_us(Stress hdb, double ratio, double factor) {
  return GaugePressure::from_si(2.0 * hdb.si() * factor / (ratio - 1.0));
}

GaugePressure design_pressure_iso(Stress mrs, double ratio, double coefficient) {
  return GaugePressure::from_si(2.0 * mrs.si() / (coefficient * (ratio - 1.0)));
}

}  // namespace bellhole::pipe
