// Gas that leaves from a place in a network, before and after each shut-off in turn.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "ask/questions.hpp"
#include "network/opening.hpp"
#include "plan/rehearse.hpp"
#include "procedure/profile.hpp"
#include "wire/escape.hpp"

namespace bellhole::ask {

/// What stands shut, and from when to when. Times are missing where nobody gave a clock; the last
/// stage has no end.
struct EscapeStage {
  std::string after;  ///< "nothing shut", "V-06", "A"
  network::Scenario scenario;
  std::optional<Duration> begins, ends;
};

struct EscapeAsked {
  const network::Network& network;
  const network::Conditions& conditions;
  network::Closure place;
  const wire::Blow& blow;
  std::pair<double, double> coefficients;  ///< low and high; 1 and 1 for a full bore
  std::vector<EscapeStage> stages;
  units::System system = units::System::us;
};

struct Escaped {
  std::vector<network::OpeningState> low, high;  ///< in the order of the stages
  wire::Json stages;                             ///< as in schema/escape.reply.schema.json
  wire::Json lost;  ///< over the stages that have an end, and what the part then holds; null
                    ///< without a clock
  Findings findings;
};

/// Errors: those of network::open_at.
Result<Escaped> escaped(const EscapeAsked& asked);

/// Nothing shut from the first step on, then each closing of a plan, from its end to that of the
/// next: while a shut-off closes it counts as open.
std::vector<EscapeStage> stages_of_plan(const plan::Script& script, const plan::Clock& clock,
                                        const network::Scenario& begins);

/// The coefficients to reckon with: as given, or the profile's range; 1 for a full bore. What is
/// taken or not set is said.
std::pair<double, double> coefficients(const wire::Blow& blow, const procedure::Profile& profile,
                                       units::System system, std::vector<std::string>& assumed,
                                       Findings& findings);

/// That no distance follows; stands with every answer.
extern const std::string_view no_distance;
Finding no_distance_finding();

}  // namespace bellhole::ask
