// Pressure test of a repair with air or gas: what pressure, for how long, what closes the ends, and
// what the readings mean. A number that is not known never passes.
//
//   window     least = the greater of a multiple of the maximum operating pressure and a floor;
//              most  = a multiple of the design pressure at the pipe's temperature, or the rating
//              of the weakest part. 49 CFR 192.513.
//   gas        p2 + b2 = (p1 + b1) T2 / T1 for a tight, stiff pipe (ideal gas; Z changes by less
//              than a thousandth over a test)
//   missing    V (p expected - p read) / p_base x T_base / T2, at base conditions
//   duration   t = steps V step / (p_base Q) x T_base / T, Q the smallest leak that must be found
//   creep      dV/V = 1.6 s / E(t), s = p (DR - 1) / 2 for Poisson's ratio 0.45, free or held ends
//              alike (thin wall); E(t) the apparent modulus; the gauge falls by p_abs d(dV/V). In a
//              pipe, loaded in two directions, E is up to a quarter higher: the low end of the
//              band.
//   dilation   3 a dT of volume for a pipe that is free to shrink, nothing for one that is held; a
//              pipe that shrinks raises the gauge and hides a leak.
//   energy     p V / (g - 1) (1 - (p_b / p)^((g - 1) / g)), g = 1.4, of the gas let go at once
//   smallest   the leak that this test can show: what moves the gauge by the steps wanted, or what
//              the thermometer and the growing pipe may hide, whichever is more, over its time
//
// The other way is pipe that was tested before it went in, by its id, and soap on every tie-in at
// line pressure (49 CFR 192.503(d) asks that of the joints that no test reaches).
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "findings/finding.hpp"
#include "findings/trouble.hpp"
#include "gas/gas.hpp"
#include "procedure/profile.hpp"
#include "squeeze/sheet.hpp"
#include "units/print.hpp"

namespace bellhole::restore {

/// What closes an end of the length under test.
enum class End : std::uint8_t {
  blank,       ///< blind flange or plate
  cap,         ///< fused or mechanical cap
  valve,       ///< a shut valve with nothing behind it
  live_valve,  ///< a shut valve with live gas behind it
  squeeze,     ///< a squeezed pipe
};
std::string_view words(End end);

/// One reading of gauge, gas temperature and barometer.
struct TestReading {
  GaugePressure pressure;
  std::optional<Temperature> temperature;
  std::optional<AbsolutePressure> barometer;  ///< missing: that of the place
};

/// A part that must not see more than it is rated for.
struct Part {
  std::string name;
  GaugePressure rated;
};

/// Pipe that was tested before it goes in, as its record has it.
struct Pretested {
  std::string id;
  GaugePressure pressure;
  std::optional<Duration> duration;
};

/// What soap showed on a joint.
enum class Soaped : std::uint8_t { not_told, no_bubbles, bubbles };

/// A joint that no test reaches; it is soaped at line pressure.
struct TieIn {
  std::string id;
  std::optional<GaugePressure> pressure;  ///< in the pipe while it was soaped; missing: not yet
  Soaped shows = Soaped::not_told;
};

struct TestQuestion {
  squeeze::Found pipe;  ///< size, ratio, material, making date; its temperature is the warmest read
  std::optional<Volume> volume;
  GaugePressure mop;  ///< maximum operating pressure after the repair
  std::vector<End> ends;
  std::vector<Part> parts;
  std::vector<Pretested> pretested;  ///< not empty: the other way; `ends` may then be empty
  std::vector<TieIn> tie_ins;
  std::optional<GaugePressure> line_pressure;  ///< when the tie-ins are soaped; missing: `mop`
  std::optional<TestReading> start, end;
  std::optional<Duration> duration;       ///< from the start reading to the end reading
  std::optional<Duration> loaded_before;  ///< test pressure stood so long before the start reading
  std::optional<PressureDifference> gauge_step;
  std::optional<TemperatureDifference> temperature_step;  ///< how well temperatures are known
  std::optional<StdFlow> leak;  ///< smallest that must be found; missing: the profile's
  AbsolutePressure barometer;   ///< of the place
  gas::Base base;
};

enum class Judgement : std::uint8_t {
  no_leak_found,  ///< what is missing, the gauge, the temperature and the pipe's growth explain
  leak,           ///< more is missing than they explain
  not_explained,  ///< more is there than can be, or the readings do not suffice to judge
};

template <class Value>
struct Low_high {
  Value low, high;
};

/// A missing value cannot be told; a finding says why.
struct Tested {
  std::optional<GaugePressure> least;  ///< of the test
  std::string least_by;                ///< what binds it
  std::optional<GaugePressure> most;   ///< of the test
  std::string most_by;                 ///< what binds it
  std::optional<GaugePressure> fill;   ///< to start with, so that the end stays above `least`
  std::optional<GaugePressure> expected_end;  ///< of a tight, stiff pipe at the end temperature
  std::optional<Low_high<PressureDifference>> creep;     ///< the gauge falls by, without a leak
  std::optional<Low_high<PressureDifference>> dilation;  ///< the gauge rises by (falls, negative)
  std::optional<PressureDifference> reading_error;  ///< of the difference, by gauge and thermometer
  std::optional<PressureDifference> missing_pressure;  ///< expected less read
  std::optional<StdVolume> missing;                    ///< before creep
  std::optional<StdFlow> missing_rate;
  std::optional<StdFlow> gauge_leak;        ///< that moves the gauge by the steps wanted
  std::optional<StdFlow> smallest_leak;     ///< that this test can show: `gauge_leak`, or more
  std::string smallest_by;                  ///< what binds it
  std::optional<Duration> duration_needed;  ///< for the leak that must be found, or the company's
  std::optional<double> energy_j;           ///< of the gas at the highest pressure of the test
  std::optional<Length> keep_off;           ///< people from the ends, by the procedure
  std::optional<Judgement> judgement;
  std::string says;
  std::vector<std::string> cautions;
  Findings findings;
  std::vector<std::string> assumed;
};

/// Errors: those of squeeze::assess; out_of_range (a volume, step or duration that cannot be).
Result<Tested> pressure_test(const TestQuestion& question, const procedure::Profile& profile,
                             units::System system);

}  // namespace bellhole::restore
