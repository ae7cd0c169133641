// An assessment whose forces rest on more than the closed form as it stands: a yield refitted from
// the company's own pump log, or a closing that was computed in three dimensions.
#pragma once

#include <optional>
#include <vector>

#include "flatten/pipe_run.hpp"
#include "squeeze/sheet.hpp"

namespace bellhole::squeeze {

struct Forces {
  /// What the log makes of the yield on record (refit.hpp); missing: 1.
  std::optional<double> yield_scale;
  /// Expected forces of this pipe between these bars, from touch; empty: the closed form's.
  std::vector<flatten::Sample> computed;
  /// Filled by assess(): the closing to compute; missing where the forces cannot be told.
  std::optional<flatten::PipeRun> closing;
};

/// How the band came about where forces were computed.
inline constexpr const char* computed_band_method =
    "expected: computed in three dimensions for the mean wall; low and high as many per cent from "
    "it "
    "as those of the closed form: thinnest wall and material 15 % under its grade, thickest wall "
    "and "
    "15 % over, combined with 13 % for the formula (30 % before half travel) as the root of the "
    "sum "
    "of squares; at the temperature given";

/// As assess() of sheet.hpp, by these forces.
Result<Sheet> assess(const Question& question, const procedure::Profile& profile,
                     units::System units, Forces& forces);

}  // namespace bellhole::squeeze
