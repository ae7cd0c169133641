// Why a plan stands where it stands, as sentences.
#pragma once

#include <string>

#include "plan/plan.hpp"

namespace bellhole::plan {

/// "2 squeezes and 1 valve; 14 customers out (13 on the part, 1 short of pressure); 5.2
/// crew-hours."
std::string why(const ShutoffPlan& plan);

/// What puts a plan before the next: "fewer who must not lose gas", "0.8 crew-hours less: …".
std::string beats(const ShutoffPlan& plan, const ShutoffPlan& next);

/// What is known about everything that is not listed.
std::string beats_rest(const ShutoffPlan& plan, const SearchProof& proof);

}  // namespace bellhole::plan
