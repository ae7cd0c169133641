// Holding a value against a profile's rule, and saying so as findings.
#pragma once

#include <optional>
#include <string>

#include "findings/finding.hpp"
#include "procedure/profile.hpp"
#include "units/print.hpp"

namespace bellhole::procedure {

/// What is held against the rule, and how to speak of it.
struct Held {
  std::string quantity;            ///< "pipe temperature"
  std::optional<double> value_si;  ///< missing: not known, which never passes
  std::string about;               ///< element or field: "--pipe-temperature"
  std::string action;              ///< what to do when the limit is not kept, and who decides
  std::string to_know;             ///< how to come by a missing value: "measure the pipe's surface"
};

/// The findings of one rule: nothing where the value keeps a limit that is set, known and
/// confirmed.
///   - no row or an empty one: undecided, "no limit set: decide", with the published reference if
///   the row has one;
///   - value missing: undecided;
///   - not kept: the row's grade;
///   - law from memory and unconfirmed, or a row that depends on something unknown: undecided
///   beside it;
///   - a loosened row: info, with the name that answers for it.
/// REQUIRES: the rule's dimension is a number and its sense most or least.
Findings judge(const Ruling& ruling, const Held& held, units::System system);

/// "no limit set: decide" for a rule, with the reference if there is one.
Finding not_set(const Ruling& ruling, const Held& held, units::System system);

/// What stands beside a value that is used, whether kept or not: unconfirmed law, doubt about which
/// row governs, a loosened limit. For rules whose value is used rather than compared (speeds,
/// clearances).
Findings caveats(const Ruling& ruling, const std::string& about, units::System system);

}  // namespace bellhole::procedure
