// The question "escape" as documents. The layouts are schema/escape.request.schema.json and
// schema/escape.reply.schema.json.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "network/escape.hpp"
#include "units/print.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

/// What blows, whatever feeds it.
struct Blow {
  std::optional<Length> diameter;  ///< of a round hole
  std::optional<Area> area;        ///< of the hole, round or not; missing: full bore
  std::optional<std::pair<double, double>> coefficient;  ///< low and high; missing: the profile's
  double k = 1.30;
  std::optional<Duration> duration;
};

/// A hole, or a main broken through, that mains of stated length feed; or a hole at a stated
/// pressure.
struct EscapeQuestion {
  Blow blow;
  GaugePressure pressure;
  AbsolutePressure barometer;
  Temperature temperature;
  gas::Base base;
  gas::Gas gas;
  double z = 1.0;                      ///< where no mains are given
  std::vector<gas::OpenLength> mains;  ///< empty: the pressure stays at the hole
};

/// "hole", "hole_area" or "full_bore"; "cd", "k", "duration". Errors: missing_value, contradiction,
/// out_of_range.
Result<Blow> read_blow(const Object& request);

Result<EscapeQuestion> read_escape(const Object& request, units::System system);

/// One end of the range of coefficients, answered.
struct EscapeEnd {
  std::optional<double> coefficient;  ///< missing: full bore
  network::Escape escape;
};

nlohmann::json escape_end_json(const EscapeEnd& end, const Blow& blow, const gas::Gas& gas,
                               const gas::Base& base, AbsolutePressure barometer);

}  // namespace bellhole::wire
