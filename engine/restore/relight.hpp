// Putting customers back after they lost gas: which meters, in which order, how many visits, how
// long.
//
// Affected is a set, not a number: every customer who was short of gas at any moment, for however
// short a time, since a flame that went out for a second lets gas out unburnt when it comes back.
// Gas goes back into a sector only when the meters listed as shut are exactly those affected, the
// streets were walked for meters that no list has, and the sector held with everything shut. Equal
// counts are not equal sets.
//
//   visits  N (1 + a)             N meters that are shut, a the share that nobody opens to
//   time    N (1 + a) / (n r)     n technicians, r visits per technician and hour
//
// but never less than one technician's share of first visits, ceil(N / n) / r: nobody lights half a
// meter. The rate is a band; the slow end is the one to plan by.
//
// Order: customers who must not lose gas, then street by street, the street nearest along the mains
// to where gas comes in first. Each technician gets a round: his share of the first, then a
// stretch of the list.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "findings/finding.hpp"
#include "findings/trouble.hpp"
#include "procedure/profile.hpp"
#include "units/print.hpp"
#include "units/quantity.hpp"

namespace bellhole::restore {

/// Why a meter is on the list.
enum class Lost : std::uint8_t {
  isolated,  ///< on the part that is shut off with the work
  pocket,    ///< cut off behind it
  short_of,  ///< connected, and short in a settled state between two closings or openings
  dipped,    ///< short for a while, as time passes
  found,     ///< on no map: found when the street was walked
};

struct Meter {
  std::string id, street;
  std::string main;  ///< empty where it is not known
  std::optional<Length> station;
  std::optional<Length> along;  ///< along the mains from where gas comes in
  bool must_not_lose = false;
  std::string why_not;                    ///< in words, where it must not
  std::optional<bool> excess_flow_valve;  ///< trips as gas comes back; missing: not known
  Lost lost = Lost::isolated;
};

/// What the list of shut meters says of one.
enum class Shut : std::uint8_t {
  meter,   ///< at the meter
  curb,    ///< in the street, since nobody opened
  locked,  ///< nobody there at the relight: left shut, locked and tagged
  relit,   ///< was shut, and is lit again
};

struct ShutRow {
  std::string id;
  Shut how = Shut::meter;
  std::string when, by;  ///< as written
};

/// Whether the sector held with everything shut (linepack/watch.hpp, all_meters_shut).
enum class Hold : std::uint8_t { not_watched, too_soon, held, moved };

struct Rate {
  double low = 0, expected = 0, high = 0;  ///< visits per technician and hour
};

struct RelightQuestion {
  std::vector<Meter> meters;                 ///< affected, of this sector
  std::optional<std::vector<ShutRow>> shut;  ///< missing: no list was given
  std::vector<std::string> walked;           ///< streets
  Hold hold = Hold::not_watched;
  std::vector<std::string> not_parted;  ///< meters of other sectors that no valve parts from this
  std::optional<std::int64_t> technicians;
  std::optional<Rate> rate;        ///< missing: the profile's
  std::optional<double> revisits;  ///< missing: the profile's
};

/// Shortest by the fast rate, longest by the slow one.
struct Band {
  Duration shortest, expected, longest;
};

struct Visit {
  std::size_t meter = 0;              ///< index into RelightQuestion::meters
  std::int64_t round = 0, place = 0;  ///< technician, from 1, and the how-manieth of his visits
  std::optional<Band> done;           ///< since the relight began, if somebody opens
};

struct Street {
  std::string name;  ///< empty: not recorded
  std::size_t meters = 0;
  bool walked = false;
};

struct Relight {
  // The two sides of the list of shut meters, ids ascending.
  std::vector<std::string> not_shut;      ///< affected, not on the list
  std::vector<std::string> not_affected;  ///< on the list, not affected
  std::optional<bool> same;               ///< one set; missing: no list
  std::size_t relit = 0, locked = 0, curb = 0;
  std::vector<Visit> visits;    ///< in order; the relit are left out
  std::vector<Street> streets;  ///< in the order of the visits
  double revisits = 0.0;        ///< share used
  bool revisits_known = false;
  std::optional<Rate> rate;
  double visits_needed = 0.0;      ///< N (1 + a)
  std::optional<Band> shutting;    ///< the first round: every meter shut
  std::optional<Band> first_ones;  ///< until those who must not lose gas are back
  std::optional<Band> all;         ///< until everybody is back
  std::vector<std::string> cautions;
  Findings findings;
  std::vector<std::string> assumed;
};

/// Errors: out_of_range (no technician, a rate of nought, a share outside 0 … 1), contradiction (a
/// meter that stands twice, in the question or in the list; rates of the profile out of order).
Result<Relight> relight(const RelightQuestion& question, const procedure::Profile& profile,
                        units::System system);

/// N (1 + a) / (n r), and no less than ceil(N / n) / r. REQUIRES: technicians >= 1, rate > 0.
Duration time_of_visits(double meters, double revisits, std::int64_t technicians, double per_hour);

/// Three rates of a profile: `rule` + "_low", "_expected", "_high". Nothing where one is not set,
/// which `findings` say. Errors: contradiction where they are out of order, out_of_range for a rate
/// of nought.
Result<std::optional<Rate>> rate_of(std::string_view rule, const procedure::Profile& profile,
                                    units::System system, Findings& findings);

}  // namespace bellhole::restore
